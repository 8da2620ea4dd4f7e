-- grain: one version of the rules of $book, by the season it is in force from
SELECT * EXCLUDE (book, last_season) FROM record_book WHERE book = $book ORDER BY first_season
