-- grain: one minimum of one book, as the reference table has it
SELECT m.book, m.category, m.weapon_class, m.minimum_units, m.first_season, m.last_season
FROM minimum m
WHERE ($book::VARCHAR IS NULL OR m.book = $book) AND ($category::VARCHAR IS NULL OR m.category = $category)
ORDER BY m.book, m.category, m.weapon_class, m.first_season
