-- grain: one district and status of current entries; null is a district not known
SELECT district, status, count(*) AS entries
FROM current_entry
GROUP BY district, status
ORDER BY district NULLS LAST, status
