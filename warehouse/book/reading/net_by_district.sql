-- grain: one district and one whole inch of score, over `ranked`: the rows of rankings.sql
-- Whole inches keep a chart of a million entries small; `highest` keeps the exact score. `middle` is the district's
-- median entry (of two middle ones the lower): a score that was measured, not a mean.
SELECT p.district, p.unit, p.score // p.unit AS inch, count(*) AS entries, max(p.score) AS highest, w.middle, w.in_district
FROM (SELECT coalesce(district, '') AS district, unit, score FROM ranked) p
JOIN (SELECT coalesce(district, '') AS district, quantile_disc(score, 0.5) AS middle, count(*) AS in_district FROM ranked GROUP BY 1) w
    USING (district)
GROUP BY p.district, p.unit, inch, w.middle, w.in_district
ORDER BY p.district, inch
