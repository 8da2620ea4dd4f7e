-- grain: one explanation of one entry's current state, likeliest first
SELECT x.place, x.tie, x.kind, x.cells, x.stated, x.proposed, x.follows, x.follows_proposed, x.net, x.why
FROM explanation x
JOIN current_entry c USING (revision_id)
WHERE c.entry_id = $entry_id
ORDER BY x.place
