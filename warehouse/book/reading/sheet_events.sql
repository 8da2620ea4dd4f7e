-- grain: one event about this entry, newest first; an event of another entry that names this one is about both
SELECT v.event_no, strftime(v.happened_at, '%Y-%m-%d %H:%M') AS happened_at, v.author, v.kind, v.reason, v.net, v.undoes, v.about,
       CASE WHEN v.entry_id = $entry_id THEN v.other_entry_id ELSE v.entry_id END AS other_entry_id,
       v.event_no IN (SELECT undoes FROM event WHERE undoes IS NOT NULL) AS is_undone, v.entry_id = $entry_id AS is_own
FROM event v
WHERE v.entry_id = $entry_id OR v.other_entry_id = $entry_id
ORDER BY v.event_no DESC
