-- grain: one area under its present code that $book covers, with its district as drawn in $last_season
SELECT a.area_code, a.name AS area, coalesce(d.district, a.district) AS district
FROM area a
SEMI JOIN (SELECT DISTINCT present_code AS area_code FROM area_present) p ON p.area_code = a.area_code
JOIN record_book r ON r.book = $book AND $last_season >= r.first_season AND (r.last_season IS NULL OR $last_season <= r.last_season)
LEFT JOIN area_district d ON d.area_code = a.area_code AND $last_season >= d.first_season AND (d.last_season IS NULL OR $last_season <= d.last_season)
WHERE len(r.states) + len(r.districts) + len(r.areas) = 0 OR list_contains(r.states, a.state)
   OR list_contains(r.districts, coalesce(d.district, a.district)) OR list_contains(r.areas, a.area_code)
ORDER BY district, area, area_code
