-- grain: one area under its present code and one season: the effort of all codes that became it
SELECT coalesce(p.present_code, e.area_code) AS area_code, e.season, sum(e.antlered_harvest)::DOUBLE AS harvest, sum(e.licences_sold)::DOUBLE AS licences,
       sum(e.square_miles)::DOUBLE AS area
FROM effort e
LEFT JOIN area_present p ON p.area_code = e.area_code
GROUP BY ALL
ORDER BY ALL
