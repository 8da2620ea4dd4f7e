-- grain: one season and score of `chosen`: how many entries have it
SELECT season, score_units, count(*) AS entries
FROM chosen
GROUP BY season, score_units
ORDER BY ALL
