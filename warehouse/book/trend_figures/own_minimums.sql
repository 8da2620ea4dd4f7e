-- grain: one season, minimum in force for the entry and score, over `counted`, in the areas $areas, of $weapons: how many entries
SELECT season, minimum_units, score_units, count(*) AS entries
FROM counted
WHERE list_contains($areas::VARCHAR[], area_code)
  AND (len($weapons::VARCHAR[]) = 0 OR list_contains($weapons::VARCHAR[], weapon))
GROUP BY ALL
ORDER BY ALL
