-- grain: one area under its present code, with its district as drawn in $last_season
SELECT a.area_code, a.name AS area, coalesce(d.district, a.district) AS district
FROM area a
SEMI JOIN (SELECT DISTINCT present_code AS area_code FROM area_present) p ON p.area_code = a.area_code
LEFT JOIN area_district d ON d.area_code = a.area_code AND $last_season >= d.first_season AND (d.last_season IS NULL OR $last_season <= d.last_season)
ORDER BY district, area, area_code
