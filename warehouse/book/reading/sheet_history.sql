-- grain: one revision of one entry and one cell corrected in making it (nulls: none), newest first
SELECT r.revision_no, strftime(r.made_at, '%Y-%m-%d %H:%M') AS made_at, r.author, r.reason, r.status, r.row_id,
       k.field, k.stated_text, k.corrected_text
FROM entry_revision r
LEFT JOIN corrected_cell k USING (revision_id)
WHERE r.entry_id = $entry_id
ORDER BY r.revision_no DESC, k.field
