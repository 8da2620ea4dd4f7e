-- grain: one measurer and margin over the minimum of its own season (units), over `counted`: how many entries
SELECT measurer, margin, count(*) AS entries
FROM counted
WHERE measurer IS NOT NULL
GROUP BY measurer, margin
ORDER BY ALL
