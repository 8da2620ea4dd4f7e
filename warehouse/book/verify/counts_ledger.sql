-- grain: one thing of the ledger that is not there, too often there, or not where it belongs; the first of each kind first
WITH of_file AS (
    SELECT file_id, load_id, row_count, name || coalesce(', sheet ' || sheet, '') AS file, len(headings) = len(fields) AS is_even
    FROM received_file),
counted AS (SELECT file_id, count(*) AS found FROM received_row GROUP BY file_id),
of_row AS (
    SELECT row_id, entry_id, file_id, coalesce(file, format('file {}', file_id)) || format(', row {}', row) AS row
    FROM received_row LEFT JOIN of_file USING (file_id)),
numbered AS (                                -- an entry's revisions are 1, 2, 3 ...
    SELECT entry_id, revision_no, revision_id, row_id,
           row_number() OVER (PARTITION BY entry_id ORDER BY revision_no) AS nth
    FROM entry_revision),
named AS (SELECT entry_id, 'entry ' || coalesce(entry_no, '=' || entry_id) AS entry FROM entry)
SELECT 1 AS rule, file_id AS place, format('{}: {} rows came, {} are there', file, row_count, coalesce(found, 0)) AS message
FROM of_file LEFT JOIN counted USING (file_id) WHERE row_count <> coalesce(found, 0)
UNION ALL
SELECT 2, file_id, format('{}: its load {} is not there', file, load_id) FROM of_file ANTI JOIN load USING (load_id)
UNION ALL
SELECT 3, file_id, format('{}: its headings and its fields are not equally many', file) FROM of_file WHERE NOT is_even
UNION ALL
SELECT 4, row_id, format('{}: its file {} is not there', row, file_id) FROM of_row ANTI JOIN of_file USING (file_id)
UNION ALL
SELECT 5, row_id, format('{}: its entry ={} is not there', row, entry_id) FROM of_row ANTI JOIN entry USING (entry_id)
UNION ALL
SELECT 6, entry_id, format('{}: no received row is of it', entry) FROM named ANTI JOIN received_row USING (entry_id)
UNION ALL
SELECT 7, entry_id, format('{}: it has no revision', entry) FROM named ANTI JOIN entry_revision USING (entry_id)
UNION ALL
SELECT 8, v.revision_id, format('{}: revision {} stands where revision {} should', coalesce(entry, '=' || v.entry_id), revision_no, nth)
FROM numbered v LEFT JOIN named USING (entry_id) WHERE revision_no <> nth
UNION ALL
SELECT 9, v.revision_id, format('revision {} of entry ={}: the entry is not there', revision_no, v.entry_id)
FROM numbered v ANTI JOIN entry USING (entry_id)
UNION ALL
SELECT 10, v.revision_id, format('{}, revision {}: its received row {}', coalesce(entry, '=' || v.entry_id), revision_no,
                                 CASE WHEN r.row_id IS NULL THEN 'is not there' ELSE 'is of another entry' END)
FROM numbered v LEFT JOIN named USING (entry_id) LEFT JOIN received_row r ON r.row_id = v.row_id
WHERE r.entry_id IS DISTINCT FROM v.entry_id
UNION ALL
SELECT 11, revision_id, format('a measure ({}) is of revision {}, which is not there', line, revision_id)
FROM measurement ANTI JOIN entry_revision USING (revision_id)
UNION ALL
SELECT 12, revision_id, format('an explanation is of revision {}, which is not there', revision_id)
FROM explanation ANTI JOIN entry_revision USING (revision_id)
UNION ALL
SELECT 13, revision_id, format('a corrected cell ({}) is of revision {}, which is not there', field, revision_id)
FROM corrected_cell ANTI JOIN entry_revision USING (revision_id)
UNION ALL
SELECT 14, x.file_id, format('a finding ({}) is of file {}, which is not there', code, x.file_id)
FROM finding x ANTI JOIN received_file USING (file_id)
UNION ALL
SELECT 15, coalesce(x.row_id, x.revision_id), format('a finding ({}) is of {}, revision {}, which do not belong together', code,
                                                     coalesce(row, format('row {}', x.row_id)), x.revision_id)
FROM finding x LEFT JOIN of_row r ON r.row_id = x.row_id LEFT JOIN entry_revision v ON v.revision_id = x.revision_id
WHERE (x.row_id IS NOT NULL AND r.file_id IS DISTINCT FROM x.file_id)
   OR (x.revision_id IS NOT NULL AND v.row_id IS DISTINCT FROM x.row_id)
ORDER BY rule, place, message
LIMIT 1
