-- grain: one district and one whole inch of net score, over the accepted entries that pass the filters
-- Whole inches keep a chart of a million entries small; `highest` keeps the exact score. `middle` is the district's
-- median entry (of two middle ones the lower): a score that was measured, not a mean.
WITH passing AS (
    SELECT coalesce(district, '') AS district, area, unit, net
    FROM current_entry
    WHERE status = 'accepted' AND net IS NOT NULL AND category = $category
      AND ($weapon_class::VARCHAR IS NULL OR weapon_class = $weapon_class)
      AND ($first_season::VARCHAR IS NULL OR season >= $first_season)
      AND ($last_season::VARCHAR IS NULL OR season <= $last_season)
      AND (len($districts::VARCHAR[]) = 0 OR list_contains($districts::VARCHAR[], district))
      AND (len($areas::VARCHAR[]) = 0 OR list_contains($areas::VARCHAR[], area_code))
),
whole AS (SELECT district, quantile_disc(net, 0.5) AS middle, count(*) AS in_district FROM passing GROUP BY district)
SELECT p.district, p.unit, p.net // p.unit AS inch, count(*) AS entries, max(p.net) AS highest,
       w.middle, w.in_district
FROM passing p
JOIN whole w USING (district)
GROUP BY p.district, p.unit, inch, w.middle, w.in_district
ORDER BY p.district, inch
