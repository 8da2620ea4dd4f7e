-- grain: one revision or received row whose status or verdict is not what was found of it; the first first
-- A finding that is an error or a question holds a revision, and so do an error of its whole file and an unknown net.
-- Of a corrected revision an error of the file holds no longer once the columns that it names are there. That a needed
-- column is missing is asked of the corrected row anew, so there it may hold, and need not.
WITH state AS (
    SELECT v.revision_id, v.entry_id, v.revision_no, v.row_id, v.status, v.net, r.file_id, r.verdict, r.row,
           row_number() OVER (PARTITION BY v.row_id ORDER BY v.revision_no) - 1 AS corrections
    FROM entry_revision v JOIN received_row r USING (row_id)),
holding AS (SELECT DISTINCT revision_id FROM finding WHERE severity IN ('error', 'question') AND revision_id IS NOT NULL),
of_file AS (SELECT DISTINCT file_id, code, cells FROM finding WHERE row_id IS NULL AND severity = 'error'),
held_file AS (SELECT DISTINCT file_id FROM of_file),
unanswered AS (
    SELECT DISTINCT s.revision_id, bool_or(o.code <> 'column-needed') AS certain
    FROM state s JOIN of_file o USING (file_id) JOIN received_file f USING (file_id)
    WHERE s.corrections > 0 AND (len(o.cells) = 0 OR NOT list_has_all(
        f.fields || (SELECT coalesce(list(k.field), []) FROM state p JOIN corrected_cell k USING (revision_id)
                     WHERE p.row_id = s.row_id AND p.corrections <= s.corrections), o.cells))
    GROUP BY s.revision_id),
asked AS (
    SELECT s.*, s.net IS NULL OR h.revision_id IS NOT NULL OR (s.corrections = 0 AND e.file_id IS NOT NULL)
                OR coalesce(u.certain, false) AS is_asked,
           s.corrections > 0 AND u.revision_id IS NOT NULL AND NOT u.certain AS may_be_asked
    FROM state s LEFT JOIN holding h USING (revision_id) LEFT JOIN held_file e USING (file_id) LEFT JOIN unanswered u USING (revision_id)),
wrong AS (
    SELECT 1 AS rule, revision_id AS place, row_id, file_id, row,
           format('revision {} is {}, but {}', revision_no, status,
                  CASE WHEN is_asked THEN 'what was found of it holds it' ELSE 'nothing was found that holds it' END) AS what
    FROM asked WHERE (status = 'held') <> is_asked AND NOT (status = 'held' AND may_be_asked)
    UNION ALL
    SELECT 2, row_id, row_id, file_id, row,
           format('its verdict is ''{}'', expected ''{}''', verdict, expected)
    FROM (SELECT r.row_id, r.file_id, r.row, r.verdict,
                 CASE WHEN s.row_id IS NULL THEN 'unchanged' WHEN s.status = 'held' THEN 'held'
                      WHEN s.revision_no > 1 THEN 'revised' ELSE 'new' END AS expected
          FROM received_row r LEFT JOIN state s ON s.row_id = r.row_id AND s.corrections = 0)
    WHERE verdict <> expected)
SELECT rule, place, coalesce(f.name, format('file {}', w.file_id)) || coalesce(', sheet ' || f.sheet, '') || format(', row {}: {}', w.row, what) AS message
FROM wrong w LEFT JOIN received_file f USING (file_id)
ORDER BY rule, place
LIMIT 1
