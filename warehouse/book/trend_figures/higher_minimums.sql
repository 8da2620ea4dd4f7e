-- grain: one minimum of another record book of $category, above the one that counted entries had to reach, and one distance from it (units, at most
-- $reach either way): how many counted entries lie so. `gap`: how far it lies above the highest minimum that one of them had to reach
-- A book that ranks by another score, or does not take the weapon, has no minimum for the head. What heads share is worked out once, as in `standing`.
WITH kind AS (SELECT * FROM (SELECT DISTINCT season, weapon, antler_state, score FROM counted) JOIN weapon USING (weapon)),
higher AS (                                  -- a minimum for the weapon class goes before one for any, then one for the antler state
    SELECT k.season, k.weapon, k.antler_state, k.score, m.book,
           arg_max(m.minimum_units, (m.weapon_class <> 'any')::INTEGER * 2 + (m.antler_state <> 'any')::INTEGER) AS minimum_units
    FROM kind k
    JOIN minimum m ON m.book <> $book AND m.category = $category AND m.weapon_class IN ('any', k.weapon_class) AND m.antler_state IN ('any', k.antler_state)
        AND k.season >= m.first_season AND (m.last_season IS NULL OR k.season <= m.last_season)
    JOIN record_book r ON r.book = m.book AND r.score = k.score AND k.season >= r.first_season AND (r.last_season IS NULL OR k.season <= r.last_season)
        AND CASE k.weapon WHEN 'found' THEN r.takes_found ELSE len(r.weapons) = 0 OR list_contains(r.weapons, k.weapon) END
    GROUP BY ALL),
near AS (
    SELECT h.book, h.minimum_units, c.score_units - h.minimum_units AS off, h.minimum_units - c.minimum_units AS gap
    FROM counted c
    JOIN higher h ON h.season = c.season AND h.weapon = c.weapon AND h.antler_state = c.antler_state AND h.score = c.score
        AND h.minimum_units > c.minimum_units)
SELECT book, minimum_units, off, min(min(gap)) OVER (PARTITION BY book, minimum_units) AS gap, count(*) AS entries
FROM near
WHERE abs(off) <= $reach
GROUP BY book, minimum_units, off
ORDER BY ALL
