-- grain: one book, category, season and minimum in force that season
-- `accepted` counts the accepted entries that the minimum is open to, `meeting` those of them that qualify.
SELECT s.book, s.category, s.season, s.minimum_units, s.unit, count(*) AS accepted, count(*) FILTER (s.qualifies) AS meeting
FROM standing s
WHERE s.status = 'accepted' AND NOT (s.no_rules OR s.no_minimum OR s.weapon_not_taken OR s.found_not_taken)
  AND ($book::VARCHAR IS NULL OR s.book = $book) AND ($category::VARCHAR IS NULL OR s.category = $category)
  AND ($first_season::VARCHAR IS NULL OR s.season >= $first_season) AND ($last_season::VARCHAR IS NULL OR s.season <= $last_season)
GROUP BY s.book, s.category, s.season, s.minimum_units, s.unit
ORDER BY s.book, s.category, s.season, s.minimum_units
