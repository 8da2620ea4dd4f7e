-- grain: one load, newest first
SELECT
    l.load_id,
    strftime(l.loaded_at, '%Y-%m-%d %H:%M')                       AS loaded_at,
    l.loaded_by,
    count(DISTINCT f.file_id)                                     AS files,
    count(r.row_id)                                               AS rows_received,
    count(r.row_id) FILTER (WHERE r.verdict = 'new')              AS new,
    count(r.row_id) FILTER (WHERE r.verdict = 'revised')          AS revised,
    count(r.row_id) FILTER (WHERE r.verdict = 'unchanged')        AS unchanged,
    count(r.row_id) FILTER (WHERE r.verdict = 'held')             AS held
FROM load l
LEFT JOIN received_file f USING (load_id)
LEFT JOIN received_row r USING (file_id)
GROUP BY l.load_id, l.loaded_at, l.loaded_by
ORDER BY l.load_id DESC
LIMIT 10
