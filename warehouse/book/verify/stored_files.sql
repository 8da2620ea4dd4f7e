-- grain: one received table, with how many revisions rest on its rows: as received, and corrected
SELECT f.file_id, f.name, f.sheet, f.sha256, f.headings, f.fields, f.row_count,
       coalesce(c.as_received, 0) AS as_received, coalesce(c.corrected, 0) AS corrected
FROM received_file f
LEFT JOIN (SELECT r.file_id, count(DISTINCT v.row_id) AS as_received, count(*) - count(DISTINCT v.row_id) AS corrected
           FROM received_row r JOIN entry_revision v ON v.row_id = r.row_id GROUP BY r.file_id) c USING (file_id)
ORDER BY f.file_id
