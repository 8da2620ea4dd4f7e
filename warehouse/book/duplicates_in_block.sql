-- grain: one pair of one block whose side totals, where known, may be near (they differ by no more than all measures
-- together): each with each in a block of at most $block_most entries; in a larger one those that share a word of the
-- hunter's name which at most that many of the block have
WITH alone AS (SELECT block_no, '' AS word, entry_id, right_total, left_total, again FROM pair_block WHERE crowd <= $block_most),
named AS (
    SELECT DISTINCT block_no, unnest(regexp_extract_all(strip_accents(upper(hunter)), '[\p{L}\p{N}]{2,}')) AS word,
           entry_id, right_total, left_total, again
    FROM pair_block WHERE crowd > $block_most
),
split AS MATERIALIZED (
    FROM alone UNION ALL
    (FROM named QUALIFY count(*) OVER (PARTITION BY block_no, word) BETWEEN 2 AND $block_most)
)
SELECT DISTINCT a.entry_id AS first_id, b.entry_id AS second_id
FROM split a JOIN split b USING (block_no, word)
WHERE a.entry_id < b.entry_id
  AND (abs(a.right_total - b.right_total) + abs(a.left_total - b.left_total) <= a.again) IS NOT FALSE
