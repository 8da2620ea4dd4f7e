-- grain: one counted entry at or above $cut, of $weapons, in the areas $areas, with its district as drawn in $last_season
SELECT c.revision_id, c.season, c.weapon, c.score_units, g.district
FROM counted c
JOIN (
    SELECT a.area_code, coalesce(d.district, a.district) AS district
    FROM area a
    LEFT JOIN area_district d ON d.area_code = a.area_code AND $last_season >= d.first_season AND (d.last_season IS NULL OR $last_season <= d.last_season)) g
    USING (area_code)
WHERE c.score_units >= $cut AND list_contains($areas::VARCHAR[], c.area_code)
  AND (len($weapons::VARCHAR[]) = 0 OR list_contains($weapons::VARCHAR[], c.weapon))
