-- grain: one season of the book's table, or that a counted entry is of: its last day (null: not in the table), and the entries of $book and $category in it
SELECT coalesce(s.season, c.season) AS season, s.ends_on, coalesce(c.entries, 0) AS entries
FROM season s
FULL JOIN (SELECT season, count(*) AS entries FROM counted GROUP BY season) c USING (season)
WHERE ($first_season::VARCHAR IS NULL OR coalesce(s.season, c.season) >= $first_season)
  AND ($last_season::VARCHAR IS NULL OR coalesce(s.season, c.season) <= $last_season)
ORDER BY 1
