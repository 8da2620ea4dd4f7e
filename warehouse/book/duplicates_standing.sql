-- grain: one entry that stands in the book (accepted or held) and may be one of a pair: with $entry_id, only those that
-- share a measure key, a tag or a date with it
-- `place` is the present area code, or the area as written where it has no code.
WITH known AS (SELECT DISTINCT category, species FROM compared_line),
here AS (
    SELECT c.entry_id, c.revision_id, c.category, k.species, c.unit, c.measure_key, c.taken_on, c.season, c.hunter,
           coalesce(c.present_code, upper(trim(c.area_written))) AS place,
           regexp_replace(upper(c.tag_no), '[^A-Z0-9]+', '', 'g') AS tag, c.right_total, c.left_total, c.status
    FROM current_entry c
    LEFT JOIN known k USING (category)
),
mine AS (SELECT * FROM here WHERE entry_id = $entry_id)
SELECT * EXCLUDE (status) FROM here
WHERE status IN ('accepted', 'held')
  AND ($entry_id IS NULL OR measure_key IN (SELECT measure_key FROM mine) OR tag IN (SELECT tag FROM mine)
       OR taken_on IN (SELECT taken_on FROM mine))
