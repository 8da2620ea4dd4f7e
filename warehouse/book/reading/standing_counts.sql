-- grain: one group of the entries of one record book (see standing_group.sql), and how many they are
SELECT CASE WHEN qualifies THEN 'qualify' WHEN fits AND status = 'held' THEN 'would'
            WHEN only_below AND status IN ('accepted', 'held') AND margin >= -$near * unit THEN 'near' ELSE 'other' END AS standing_group,
       count(*) AS entries
FROM standing
WHERE book = $book AND ($category::VARCHAR IS NULL OR category = $category)
  AND ($first_season::VARCHAR IS NULL OR season >= $first_season) AND ($last_season::VARCHAR IS NULL OR season <= $last_season)
GROUP BY standing_group
