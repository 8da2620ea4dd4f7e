-- grain: one season and day on which entries at or above $cut of $weapons were first known: of acceptance or, where $clock is 'measured', of measuring
SELECT season, CASE $clock WHEN 'measured' THEN measured_on ELSE accepted_on END AS known_on, count(*) AS entries
FROM counted
WHERE score_units >= $cut
  AND (len($weapons::VARCHAR[]) = 0 OR list_contains($weapons::VARCHAR[], weapon))
GROUP BY season, known_on
HAVING known_on IS NOT NULL
ORDER BY ALL
