-- grain: one season with an entry at or above $cut in the areas $areas, of $weapons: the median of what they are above it by, in inches
SELECT season, quantile_cont(score_units - $cut, 0.5) / $unit AS median_excess
FROM counted
WHERE score_units >= $cut AND list_contains($areas::VARCHAR[], area_code)
  AND (len($weapons::VARCHAR[]) = 0 OR list_contains($weapons::VARCHAR[], weapon))
GROUP BY season
ORDER BY season
