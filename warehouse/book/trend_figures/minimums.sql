-- grain: one season from $first_season to $last_season, weapon and antler state that $book takes: the minimum in force, and what the book ranks by; null: no minimum
WITH label AS (
    SELECT season FROM season UNION SELECT DISTINCT season FROM counted),
kind AS (
    SELECT l.season, w.weapon, w.weapon_class, t.antler_state, r.score
    FROM label l
    JOIN record_book r ON r.book = $book AND l.season >= r.first_season AND (r.last_season IS NULL OR l.season <= r.last_season)
    JOIN weapon w ON (w.weapon <> 'found' AND (len(r.weapons) = 0 OR list_contains(r.weapons, w.weapon))) OR (w.weapon = 'found' AND r.takes_found)
    CROSS JOIN (VALUES ('hard'), ('velvet')) t(antler_state)
    WHERE l.season BETWEEN $first_season AND $last_season
      AND (len($weapons::VARCHAR[]) = 0 OR list_contains($weapons::VARCHAR[], w.weapon) OR list_contains($weapons::VARCHAR[], w.weapon_class)))
SELECT k.season, k.weapon, k.antler_state, k.score,
       arg_max(m.minimum_units, (m.weapon_class <> 'any')::INTEGER * 2 + (m.antler_state <> 'any')::INTEGER) AS minimum_units
FROM kind k
LEFT JOIN minimum m ON m.book = $book AND m.category = $category AND m.weapon_class IN ('any', k.weapon_class) AND m.antler_state IN ('any', k.antler_state)
    AND k.season >= m.first_season AND (m.last_season IS NULL OR k.season <= m.last_season)
GROUP BY ALL
ORDER BY ALL
