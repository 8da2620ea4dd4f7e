-- grain: one measurer, kind of line and last fraction (whole eighths) of accepted entries of $category: how many measures end so
-- A side that has no such point is no measure: a length of nothing is left out. How lines end is counted once for both sides together, for there
-- are few ways to end and many lines.
WITH ending AS MATERIALIZED (
    SELECT r.measurer, m.line, CASE WHEN m.right_units > 0 THEN m.right_units % 8 END AS on_right,
           CASE WHEN m.left_units > 0 THEN m.left_units % 8 END AS on_left, CASE WHEN m.single_units > 0 THEN m.single_units % 8 END AS alone, count(*) AS lines
    FROM measurement m
    JOIN current_revision r USING (revision_id)
    WHERE m.line <> 'abnormal' AND r.status = 'accepted' AND r.category = $category AND r.measurer IS NOT NULL
      AND ($first_season::VARCHAR IS NULL OR r.season >= $first_season) AND ($last_season::VARCHAR IS NULL OR r.season <= $last_season)
    GROUP BY ALL)
SELECT measurer, CASE WHEN line LIKE 'g%' THEN 'points' WHEN line LIKE 'h%' THEN 'circumferences' WHEN line = 'beam' THEN 'beams' ELSE 'spreads' END AS line,
       eighth::INTEGER AS eighth, sum(lines)::BIGINT AS count
FROM (SELECT measurer, line, on_right AS eighth, lines FROM ending
      UNION ALL SELECT measurer, line, on_left, lines FROM ending
      UNION ALL SELECT measurer, line, alone, lines FROM ending)
WHERE eighth IS NOT NULL
GROUP BY ALL
ORDER BY ALL
