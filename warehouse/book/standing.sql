-- grain: one entry and one record book, with what the reasons need beside the marks of the view `standing`
SELECT s.*, c.entry_no, d.kind AS decision, d.author AS decided_by, d.reason AS decision_reason, coalesce(m.entry_no, '=' || m.entry_id) AS merged_no,
       coalesce(f.errors, 0) AS errors, coalesce(f.questions, 0) AS questions, coalesce(c.area, c.area_written) AS area, c.hunter
FROM standing s
JOIN current_entry c USING (entry_id)
LEFT JOIN live_decision d USING (entry_id)
LEFT JOIN entry m ON m.entry_id = d.other_entry_id
LEFT JOIN (SELECT entry_id, count(*) FILTER (severity = 'error') AS errors, count(*) FILTER (severity = 'question') AS questions
           FROM open_finding WHERE entry_id IS NOT NULL AND ($entry_id::BIGINT IS NULL OR entry_id = $entry_id) GROUP BY entry_id) f USING (entry_id)
WHERE ($book::VARCHAR IS NULL OR s.book = $book) AND ($entry_id::BIGINT IS NULL OR s.entry_id = $entry_id)
ORDER BY s.entry_id, s.book
