-- grain: one entry in its current state, with the row it came from; no row where there is no such entry
SELECT c.*, w.label AS weapon_label, rf.name AS file, rf.sheet, rr.row, rr.cells, rf.headings, rf.fields,
       strftime(l.loaded_at, '%Y-%m-%d %H:%M') AS loaded_at, l.loaded_by,
       (SELECT max_by(m.name, m.certified_from) FROM measurer m WHERE m.measurer_no = c.measurer) AS measurer_name
FROM current_entry c
LEFT JOIN weapon w USING (weapon)
LEFT JOIN received_row rr ON rr.row_id = c.row_id
LEFT JOIN received_file rf ON rf.file_id = rr.file_id
LEFT JOIN load l ON l.load_id = rf.load_id
WHERE c.entry_id = $entry_id
