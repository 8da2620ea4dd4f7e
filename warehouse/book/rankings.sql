-- grain: one entry and the place it takes in its list; what competes: an entry that qualifies in $book, or any accepted one
WITH pool AS (
    SELECT entry_id, score, tie_rule FROM standing WHERE $book::VARCHAR IS NOT NULL AND book = $book AND qualifies
    UNION ALL
    SELECT entry_id, 'net', 'shared' FROM current_entry WHERE $book::VARCHAR IS NULL AND status = 'accepted'),
competing AS (
    SELECT c.*, p.tie_rule, coalesce($score::VARCHAR, p.score) AS ranked_by,
           CASE ranked_by WHEN 'gross' THEN c.counted_gross ELSE c.counted_net END AS score,
           -- the second rule, larger first; a head without a date comes last
           CASE p.tie_rule WHEN 'gross' THEN c.counted_gross WHEN 'taken' THEN coalesce(-epoch(c.taken_on)::BIGINT, -9e12::BIGINT) ELSE 0 END AS second,
           CASE $list WHEN 'area' THEN coalesce(c.present_code, c.area_written, '') WHEN 'district' THEN coalesce(c.district, '') ELSE '' END AS list_key,
           CASE $list WHEN 'area' THEN coalesce(c.area, c.area_written) WHEN 'district' THEN c.district ELSE '' END AS list_name
    FROM pool p JOIN current_entry c USING (entry_id)
    WHERE (len($categories::VARCHAR[]) = 0 OR list_contains($categories::VARCHAR[], c.category))
      AND (len($areas::VARCHAR[]) = 0 OR list_contains($areas::VARCHAR[], c.present_code) OR list_contains($areas::VARCHAR[], c.area_code))
      AND (len($districts::VARCHAR[]) = 0 OR list_contains($districts::VARCHAR[], c.district))
      AND (len($weapons::VARCHAR[]) = 0 OR list_contains($weapons::VARCHAR[], c.weapon) OR list_contains($weapons::VARCHAR[], c.weapon_class))
      AND ($first_season::VARCHAR IS NULL OR c.season >= $first_season) AND ($last_season::VARCHAR IS NULL OR c.season <= $last_season)),
placed AS (
    SELECT *, rank() OVER (PARTITION BY category, list_key ORDER BY score DESC, second DESC) AS place
    FROM competing WHERE score IS NOT NULL AND category IS NOT NULL
    QUALIFY $places::BIGINT IS NULL OR place <= $places)
SELECT place, count(*) OVER (PARTITION BY category, list_key, place) > 1 AS tied, entry_id, revision_id, entry_no, category, $book::VARCHAR AS book, area,
       present_code AS area_code, district, region, season, weapon, weapon_class, antler_state, hunter, taken_on, unit::SMALLINT AS unit,
       counted_gross AS gross, counted_net AS net, score, ranked_by, tie_rule
FROM placed
ORDER BY category, list_name NULLS LAST, list_key, place, entry_id
