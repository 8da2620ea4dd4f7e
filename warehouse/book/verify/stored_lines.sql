-- grain: one line of one revision that rests on a row of one file
SELECT m.revision_id, m.line, m.right_units, m.left_units, m.single_units, m.stated_difference
FROM measurement m
SEMI JOIN (SELECT v.revision_id FROM received_row r JOIN entry_revision v ON v.row_id = r.row_id WHERE r.file_id = $file) USING (revision_id)
