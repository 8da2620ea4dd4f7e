-- grain: one entry of the candidate pairs (`wanted`: nth, entry_id): which sheet is to be compared
SELECT w.nth, c.revision_id, c.category
FROM current_entry c
JOIN wanted w USING (entry_id)
ORDER BY w.nth
