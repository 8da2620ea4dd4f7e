-- grain: one value of one measure, over `chosen`, by district and season, by weapon, or by age (`kind` tells which; the other keys are null):
-- how many entries have it. `twice`: antlers in half units (the sum of both sides, twice what has no side), the score and the points likewise, age
-- in half years.
WITH head AS MATERIALIZED (
    SELECT c.revision_id, c.district, c.season, c.weapon, r.age_half_years, c.score_units, r.points_r + r.points_l AS points
    FROM chosen c
    JOIN entry_revision r USING (revision_id)),
measured AS (
    SELECT h.district, h.season, h.weapon, h.age_half_years, CASE m.line WHEN 'inside_spread' THEN 'spread' ELSE m.line END AS measure,
           coalesce(2 * m.single_units, m.right_units + m.left_units) AS twice
    FROM measurement m
    JOIN head h USING (revision_id)
    WHERE m.line IN ('beam', 'h1', 'inside_spread')
    UNION ALL SELECT district, season, weapon, age_half_years, 'score', 2 * score_units FROM head
    UNION ALL SELECT district, season, weapon, age_half_years, 'points', 2 * points FROM head
    UNION ALL SELECT district, season, weapon, age_half_years, 'age', age_half_years FROM head)
SELECT CASE WHEN grouping(season) = 0 THEN 'season' WHEN grouping(weapon) = 0 THEN 'weapon' ELSE 'age' END AS kind,
       CASE WHEN grouping(season) = 0 THEN coalesce(district, '') END AS district, season, weapon, age_half_years, measure, twice, count(*) AS entries
FROM measured
WHERE twice IS NOT NULL
GROUP BY GROUPING SETS ((district, season, measure, twice), (weapon, measure, twice), (age_half_years, measure, twice))
HAVING grouping(age_half_years) = 1 OR age_half_years IS NOT NULL
