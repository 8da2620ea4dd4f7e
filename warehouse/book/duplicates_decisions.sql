-- grain: one pair of entries that a person has decided about, by the newest decision that counts
SELECT least(entry_id, other_entry_id) AS first_id, greatest(entry_id, other_entry_id) AS second_id,
       CASE max_by(kind, event_no) WHEN 'merge' THEN 'one head' ELSE 'two heads' END AS decided,
       max_by(entry_id, event_no) AS decided_about  -- the entry that the decision stands with, and is undone of
FROM live_event
WHERE kind IN ('merge', 'distinct') AND other_entry_id IS NOT NULL
GROUP BY first_id, second_id
