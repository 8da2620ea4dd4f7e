-- grain: one area under its present code and one season from $first_season to $last_season in which it was an area for all of the season: whether $book covered
-- all of it, and the effort of all codes that it had then; null where that of one of them is not known
-- A renamed or merged area goes on under its new code. A split one ends, and its parts begin, with the first season after the day of the split.
WITH label AS (
    SELECT season, starts_on, ends_on FROM season WHERE season BETWEEN $first_season AND $last_season
    UNION ALL SELECT DISTINCT season, NULL, NULL FROM counted WHERE season NOT IN (SELECT season FROM season)),
begun AS (SELECT new_code AS area_code, max(changed_on) AS day, bool_or(kind = 'split') AS by_split FROM area_change WHERE kind <> 'merged' GROUP BY new_code),
ended AS (SELECT old_code AS area_code, min(changed_on) AS day, bool_or(kind = 'split') AS by_split FROM area_change GROUP BY old_code),
member AS (                                  -- the codes that an area had in a season
    SELECT p.present_code, p.area_code, l.season, a.state, coalesce(d.district, a.district) AS district
    FROM area_present p
    JOIN area a USING (area_code)
    CROSS JOIN label l
    LEFT JOIN begun b ON b.area_code = p.area_code
    LEFT JOIN ended e ON e.area_code = p.area_code
    LEFT JOIN area_district d ON d.area_code = p.area_code AND l.season >= d.first_season AND (d.last_season IS NULL OR l.season <= d.last_season)
    WHERE coalesce(b.day <= CASE WHEN b.by_split THEN l.starts_on ELSE l.ends_on END, true)
      AND coalesce(e.day > CASE WHEN e.by_split THEN l.ends_on ELSE l.starts_on END, true)),
covering AS (
    SELECT m.*, coalesce(len(r.states) + len(r.districts) + len(r.areas) = 0 OR list_contains(r.states, m.state) OR list_contains(r.districts, m.district)
        OR list_contains(r.areas, m.area_code) OR list_contains(r.areas, m.present_code), false) AS covered
    FROM member m
    LEFT JOIN record_book r ON r.book = $book AND m.season >= r.first_season AND (r.last_season IS NULL OR m.season <= r.last_season))
SELECT c.present_code AS area_code, c.season, bool_and(c.covered) AS covered,
       CASE WHEN count(e.antlered_harvest) = count(*) THEN sum(e.antlered_harvest)::DOUBLE END AS harvest,
       CASE WHEN count(e.licences_sold) = count(*) THEN sum(e.licences_sold)::DOUBLE END AS licences,
       CASE WHEN count(e.square_miles) = count(*) THEN sum(e.square_miles)::DOUBLE END AS area
FROM covering c
LEFT JOIN effort e ON e.area_code = c.area_code AND e.season = c.season
GROUP BY c.present_code, c.season
ORDER BY ALL
