-- grain: one standing entry that shares its date taken, place and species with another; `crowd` is how many do
-- `again` and `near` are the bounds of the sum of differences, in the entry's own units.
WITH block AS (
    SELECT taken_on, place, species, row_number() OVER () AS block_no, count(*) AS crowd
    FROM pair_entry WHERE taken_on IS NOT NULL AND place <> '' AND species IS NOT NULL
    GROUP BY taken_on, place, species HAVING count(*) > 1
)
SELECT s.entry_id, s.revision_id, s.category, s.hunter, s.unit, s.right_total, s.left_total, b.block_no, b.crowd,
       $again_sum * s.unit // 8 AS again, $near_sum * s.unit // 8 AS near
FROM pair_entry s JOIN block b USING (taken_on, place, species)
