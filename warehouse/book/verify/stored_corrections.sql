-- grain: one cell of one row of one file that a person put right; `corrections`: with the how manieth correction
SELECT v.row_id, v.corrections, k.field, k.corrected_text
FROM (SELECT v.row_id, v.revision_id, row_number() OVER (PARTITION BY v.row_id ORDER BY v.revision_no) - 1 AS corrections
      FROM received_row r JOIN entry_revision v ON v.row_id = r.row_id WHERE r.file_id = $file) v
JOIN corrected_cell k USING (revision_id)
ORDER BY v.corrections, v.row_id, k.field
