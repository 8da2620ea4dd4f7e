-- grain: one book, category, season and minimum in force that season
-- `meeting` comes from the view meets_minimum; `accepted` counts the accepted entries that the minimum is open to.
WITH open_to AS (
    SELECT m.book, m.category, c.season, m.minimum_units, c.unit, c.revision_id
    FROM minimum m
    JOIN current_entry c ON c.category = m.category
        AND (m.weapon_class = 'any' OR m.weapon_class = c.weapon_class)
        AND c.season >= m.first_season AND (m.last_season IS NULL OR c.season <= m.last_season)
    WHERE c.status = 'accepted' AND ($book::VARCHAR IS NULL OR m.book = $book)
      AND ($category::VARCHAR IS NULL OR m.category = $category)
)
SELECT o.book, o.category, o.season, o.minimum_units, o.unit,
       count(DISTINCT o.revision_id) AS accepted,
       count(DISTINCT q.revision_id) AS meeting
FROM open_to o
LEFT JOIN meets_minimum q
    ON q.revision_id = o.revision_id AND q.book = o.book AND q.minimum_units = o.minimum_units
WHERE ($first_season::VARCHAR IS NULL OR o.season >= $first_season)
  AND ($last_season::VARCHAR IS NULL OR o.season <= $last_season)
GROUP BY o.book, o.category, o.season, o.minimum_units, o.unit
ORDER BY o.book, o.category, o.season, o.minimum_units
