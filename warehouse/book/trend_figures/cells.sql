-- grain: one area (null: not known) and season with a counted entry of $weapons: entries at or above $cut and $second, those under $cut, and
-- the median of what the first are above $cut by, in inches
SELECT area_code, season, count(*) FILTER (score_units >= $cut) AS entries, count(*) FILTER (score_units >= $second) AS above_second,
       count(*) FILTER (score_units < $cut) AS dropped, quantile_cont(score_units - $cut, 0.5) FILTER (score_units >= $cut) / $unit AS median_excess
FROM counted
WHERE len($weapons::VARCHAR[]) = 0 OR list_contains($weapons::VARCHAR[], weapon)
GROUP BY area_code, season
ORDER BY ALL
