-- grain: one pair of standing entries with the same measure key
-- A key of more than $block_most entries pairs each of them with the first only.
WITH shared AS MATERIALIZED (
    SELECT entry_id, measure_key, count(*) OVER same AS crowd, min(entry_id) OVER same AS lead
    FROM pair_entry WHERE measure_key IS NOT NULL
      AND measure_key IN (SELECT measure_key FROM pair_entry GROUP BY measure_key HAVING count(*) > 1)
    WINDOW same AS (PARTITION BY measure_key)
)
SELECT a.entry_id AS first_id, b.entry_id AS second_id, 'same-head' AS kind
FROM shared a JOIN shared b USING (measure_key)
WHERE a.entry_id < b.entry_id AND (a.crowd <= $block_most OR a.entry_id = a.lead)
