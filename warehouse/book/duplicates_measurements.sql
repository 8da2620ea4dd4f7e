-- grain: one compared line of the current sheet of one entry of the candidate pairs (`wanted_sheet`: nth, revision_id,
-- category), with the columns of the matrix that its measures belong to (`compared_line`)
SELECT w.nth, l."right", l."left", l.single, m.right_units, m.left_units, m.single_units
FROM measurement m
JOIN wanted_sheet w USING (revision_id)
JOIN compared_line l ON l.category = w.category AND l.line = m.line
