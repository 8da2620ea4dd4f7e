-- grain: one minimum of another record book of $category, above the one that counted entries had to reach, and one distance from it (units, at most
-- $reach either way): how many counted entries lie so. `gap`: how far it lies above the highest minimum that one of them had to reach
WITH near AS (
    SELECT m.book, m.minimum_units, c.score_units - m.minimum_units AS off, m.minimum_units - c.minimum_units AS gap
    FROM counted c
    JOIN minimum m ON m.book <> $book AND m.category = $category AND m.minimum_units > c.minimum_units
        AND c.season >= m.first_season AND (m.last_season IS NULL OR c.season <= m.last_season)
        AND m.weapon_class IN ('any', c.weapon_class)
    JOIN record_book r ON r.book = m.book AND r.score = c.score AND c.season >= r.first_season AND (r.last_season IS NULL OR c.season <= r.last_season)
    WHERE NOT EXISTS (                       -- a minimum for the weapon goes before one for any
        SELECT 1 FROM minimum own
        WHERE m.weapon_class = 'any' AND own.book = m.book AND own.category = m.category AND own.weapon_class = c.weapon_class
          AND c.season >= own.first_season AND (own.last_season IS NULL OR c.season <= own.last_season)))
SELECT book, minimum_units, off, min(min(gap)) OVER (PARTITION BY book, minimum_units) AS gap, count(*) AS entries
FROM near
WHERE abs(off) <= $reach
GROUP BY book, minimum_units, off
ORDER BY ALL
