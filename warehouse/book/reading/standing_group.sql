-- grain: one entry of one group of one record book, the nearest to qualifying first, over `found`: the rows of standing.sql
SELECT * FROM found
WHERE ($category::VARCHAR IS NULL OR category = $category)
  AND ($first_season::VARCHAR IS NULL OR season >= $first_season) AND ($last_season::VARCHAR IS NULL OR season <= $last_season)
  AND $group = CASE WHEN qualifies THEN 'qualify' WHEN fits AND status = 'held' THEN 'would'
                    WHEN only_below AND status IN ('accepted', 'held') AND margin >= -$near * unit THEN 'near' ELSE 'other' END
ORDER BY margin DESC NULLS LAST, entry_id
LIMIT $most
