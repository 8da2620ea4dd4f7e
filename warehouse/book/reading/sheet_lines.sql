-- grain: one line of the sheet of one entry's current state
SELECT m.line, m.right_units, m.left_units, m.single_units, m.stated_difference
FROM measurement m
JOIN current_entry c USING (revision_id)
WHERE c.entry_id = $entry_id
