-- grain: one area that current entries name, with its district
SELECT DISTINCT area_code AS value, area AS label, district
FROM current_entry
WHERE area IS NOT NULL
ORDER BY label, value
