-- grain: one entry of one group of one record book, the nearest to qualifying first
SELECT s.*, d.kind AS decision, d.author AS decided_by, d.reason AS decision_reason, coalesce(m.entry_no, '=' || m.entry_id) AS merged_no,
       coalesce(f.errors, 0) AS errors, coalesce(f.questions, 0) AS questions, coalesce(c.area, c.area_written, 'an area that is not known') AS area,
       c.hunter
FROM standing s
JOIN current_entry c USING (entry_id)
LEFT JOIN live_decision d USING (entry_id)
LEFT JOIN entry m ON m.entry_id = d.other_entry_id
LEFT JOIN (SELECT entry_id, count(*) FILTER (severity = 'error') AS errors, count(*) FILTER (severity = 'question') AS questions
           FROM open_finding WHERE entry_id IS NOT NULL GROUP BY entry_id) f USING (entry_id)
WHERE s.book = $book AND ($category::VARCHAR IS NULL OR s.category = $category)
  AND ($first_season::VARCHAR IS NULL OR s.season >= $first_season) AND ($last_season::VARCHAR IS NULL OR s.season <= $last_season)
  AND $group = CASE WHEN s.qualifies THEN 'qualify' WHEN s.fits AND s.status = 'held' THEN 'would'
                    WHEN s.only_below AND s.status IN ('accepted', 'held') AND s.margin >= -$near * s.unit THEN 'near' ELSE 'other' END
ORDER BY s.margin DESC NULLS LAST, s.entry_id
LIMIT $most
