-- grain: one entry and the place it takes in its list: what qualifies in a record book of $books, or ($books is null) any accepted entry
WITH list_rule AS (                          -- a list that spans several versions of a book's rules is ranked by the newest of them
    SELECT book, arg_max(score, first_season) AS score, arg_max(tie_rule, first_season) AS tie_rule FROM record_book
    WHERE $last_season::VARCHAR IS NULL OR first_season <= $last_season GROUP BY book),
pool AS (
    SELECT book, u.tie_rule, u.score AS rule, entry_id, category, season, weapon, area_code, area_written, district, taken_on, counted_gross, counted_net
    FROM standing JOIN list_rule u USING (book) WHERE $books::VARCHAR[] IS NOT NULL AND list_contains($books::VARCHAR[], book) AND qualifies
    UNION ALL
    SELECT NULL, 'shared', 'net', entry_id, category, season, weapon, area_code, area_written, district, taken_on, counted_gross, counted_net
    FROM current_entry WHERE $books::VARCHAR[] IS NULL AND status = 'accepted'),
competing AS MATERIALIZED (
    SELECT p.book, p.tie_rule, p.entry_id, p.category, coalesce($score::VARCHAR, p.rule) AS ranked_by,
           CASE ranked_by WHEN 'gross' THEN p.counted_gross ELSE p.counted_net END AS score,
           -- the second rule, larger first; a head without a date comes last
           CASE p.tie_rule WHEN 'gross' THEN p.counted_gross WHEN 'taken' THEN coalesce(-epoch(p.taken_on)::BIGINT, -9e12::BIGINT) ELSE 0 END AS second,
           CASE $list WHEN 'area' THEN coalesce(a.present_code, p.area_code, p.area_written, '') WHEN 'district' THEN coalesce(p.district, '') ELSE '' END AS list_key
    FROM pool p
    LEFT JOIN area_present a ON a.area_code = p.area_code
    LEFT JOIN weapon w ON w.weapon = p.weapon
    WHERE (len($categories::VARCHAR[]) = 0 OR list_contains($categories::VARCHAR[], p.category))
      AND (len($areas::VARCHAR[]) = 0 OR list_contains($areas::VARCHAR[], a.present_code) OR list_contains($areas::VARCHAR[], p.area_code))
      AND (len($districts::VARCHAR[]) = 0 OR list_contains($districts::VARCHAR[], p.district))
      AND (len($weapons::VARCHAR[]) = 0 OR list_contains($weapons::VARCHAR[], p.weapon) OR list_contains($weapons::VARCHAR[], w.weapon_class))
      AND ($first_season::VARCHAR IS NULL OR p.season >= $first_season) AND ($last_season::VARCHAR IS NULL OR p.season <= $last_season)
      AND CASE ranked_by WHEN 'gross' THEN p.counted_gross ELSE p.counted_net END IS NOT NULL AND p.category IS NOT NULL),
-- the place is one more than the heads above it: the scores that occur are few, the heads with them a million
step AS (
    SELECT book, category, list_key, score, second, count(*) AS heads
    FROM competing GROUP BY book, category, list_key, score, second),
placed AS (
    SELECT *, 1 + coalesce(sum(heads) OVER (PARTITION BY book, category, list_key ORDER BY score DESC, second DESC
                                            ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING), 0)::BIGINT AS place
    FROM step
    QUALIFY $places::BIGINT IS NULL OR place <= $places)
SELECT t.place, t.heads > 1 AS tied, k.entry_id, c.revision_id, c.entry_no, k.category, k.book,
       c.area, c.present_code AS area_code, c.district, c.region, c.season, c.weapon, c.weapon_class, c.antler_state, c.hunter, c.taken_on,
       c.unit::SMALLINT AS unit, c.counted_gross AS gross, c.counted_net AS net, k.score, k.ranked_by, k.tie_rule
FROM placed t
JOIN competing k ON k.book IS NOT DISTINCT FROM t.book AND k.category = t.category AND k.list_key = t.list_key AND k.score = t.score
    AND k.second = t.second
JOIN current_entry c ON c.entry_id = k.entry_id
ORDER BY k.book, k.category, CASE $list WHEN 'area' THEN coalesce(c.area, c.area_written) WHEN 'district' THEN c.district ELSE '' END NULLS LAST,
         t.list_key, t.place, k.entry_id
