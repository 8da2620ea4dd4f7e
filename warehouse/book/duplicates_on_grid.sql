-- grain: one pair of one block of more than $block_most entries that may be a near-head, whatever the hunters' names
-- The first, third and fourth line (right side) make a grid with steps of the bound and one; each cell is compared with
-- itself and half of its neighbours, so that every near pair is met once. A line that nobody grew is 0; sheets with an
-- unknown measure have no total and are left to the names. A cell is one number: three digits of base 256 below the
-- block, each one or more, so that a step never reaches another block.
WITH crowded AS (
    SELECT * FROM pair_block WHERE crowd > $block_most AND right_total IS NOT NULL AND left_total IS NOT NULL
),
first_lines AS MATERIALIZED (       -- the first four lines of one crowded entry
    SELECT m.revision_id, l.nth, coalesce(m.right_units, m.single_units) AS r, m.left_units AS l
    FROM measurement m
    JOIN crowded c USING (revision_id)
    JOIN compared_line l ON l.category = c.category AND l.line = m.line
    WHERE l.nth <= 4
),
side_by_side AS (
    SELECT revision_id,
           coalesce(max(r) FILTER (nth = 1), 0) AS r1, coalesce(max(l) FILTER (nth = 1), 0) AS l1,
           coalesce(max(r) FILTER (nth = 2), 0) AS r2, coalesce(max(l) FILTER (nth = 2), 0) AS l2,
           coalesce(max(r) FILTER (nth = 3), 0) AS r3, coalesce(max(l) FILTER (nth = 3), 0) AS l3,
           coalesce(max(r) FILTER (nth = 4), 0) AS r4, coalesce(max(l) FILTER (nth = 4), 0) AS l4
    FROM first_lines GROUP BY revision_id
),
line AS (
    SELECT c.entry_id, c.block_no, c.right_total, c.left_total, c.near, $near_line * c.unit // 8 AS bound, s.* EXCLUDE (revision_id)
    FROM crowded c JOIN side_by_side s USING (revision_id)
),
cell AS MATERIALIZED (
    SELECT *, ((block_no * 256 + least(r1 // (bound + 1), 253) + 1) * 256 + least(r3 // (bound + 1), 253) + 1) * 256
              + least(r4 // (bound + 1), 253) + 1 AS cell
    FROM line
),
step AS MATERIALIZED (
    SELECT (x * 256 + y) * 256 + z AS step FROM range(-1, 2) AS a(x), range(-1, 2) AS b(y), range(-1, 2) AS c(z) WHERE (x * 256 + y) * 256 + z >= 0
),
reach AS MATERIALIZED (SELECT cell.*, step, cell + step AS at FROM cell, step)
SELECT least(a.entry_id, b.entry_id) AS first_id, greatest(a.entry_id, b.entry_id) AS second_id
FROM reach a JOIN cell b ON b.cell = a.at
WHERE (a.entry_id < b.entry_id OR a.step > 0)
  AND abs(a.r1 - b.r1) <= a.bound AND abs(a.l1 - b.l1) <= a.bound AND abs(a.r2 - b.r2) <= a.bound AND abs(a.l2 - b.l2) <= a.bound
  AND abs(a.r3 - b.r3) <= a.bound AND abs(a.l3 - b.l3) <= a.bound AND abs(a.r4 - b.r4) <= a.bound AND abs(a.l4 - b.l4) <= a.bound
  AND abs(a.right_total - b.right_total) <= a.near AND abs(a.left_total - b.left_total) <= a.near
