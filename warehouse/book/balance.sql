-- grain: the whole book, one row
-- Every received row stands for its entry if it is the first of it, and was sent again if it is not.
WITH placed AS (
    SELECT entry_id, row_number() OVER (PARTITION BY entry_id ORDER BY row_id) AS nth FROM received_row)
SELECT (SELECT coalesce(sum(row_count), 0) FROM received_file) AS received,  -- as counted when the files came
       count(*) FILTER (nth = 1 AND status = 'accepted') AS accepted,
       count(*) FILTER (nth = 1 AND status = 'held') AS held,
       count(*) FILTER (nth = 1 AND status = 'refused') AS refused,
       count(*) FILTER (nth = 1 AND status = 'withdrawn') AS withdrawn,
       count(*) FILTER (nth > 1) AS sent_again,
       count(*) FILTER (nth = 1 AND status = 'merged') AS merged
FROM placed LEFT JOIN (SELECT entry_id, status FROM current_entry) USING (entry_id)
