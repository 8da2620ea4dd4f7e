-- grain: one measurer of current entries: a known one under the newest name, else as written on the sheets
WITH named AS (SELECT measurer_no, max_by(name, certified_from) AS name FROM measurer GROUP BY measurer_no)
SELECT DISTINCT c.measurer AS value, coalesce(n.name || ' (' || c.measurer || ')', c.measurer) AS label
FROM current_entry c
LEFT JOIN named n ON n.measurer_no = c.measurer
WHERE c.measurer IS NOT NULL
ORDER BY label
