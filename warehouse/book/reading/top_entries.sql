-- grain: one accepted entry that stands among the first $places of its list (ties share a place)
SELECT rank() OVER (PARTITION BY CASE $list WHEN 'area' THEN coalesce(c.area_code, c.area_written) WHEN 'district' THEN c.district ELSE '' END
                    ORDER BY c.net DESC) AS place,
       c.entry_id, c.entry_no, c.area, c.district, c.hunter, c.weapon_class, w.label AS weapon, c.season,
       c.taken_on, c.unit, c.gross, c.net
FROM current_entry c
LEFT JOIN weapon w USING (weapon)
WHERE c.status = 'accepted' AND c.net IS NOT NULL AND c.category = $category
  AND ($weapon_class::VARCHAR IS NULL OR c.weapon_class = $weapon_class)
  AND ($first_season::VARCHAR IS NULL OR c.season >= $first_season)
  AND ($last_season::VARCHAR IS NULL OR c.season <= $last_season)
  AND (len($districts::VARCHAR[]) = 0 OR list_contains($districts::VARCHAR[], c.district))
  AND (len($areas::VARCHAR[]) = 0 OR list_contains($areas::VARCHAR[], c.area_code))
QUALIFY place <= $places
ORDER BY CASE $list WHEN 'area' THEN c.area WHEN 'district' THEN c.district ELSE '' END NULLS LAST,
         CASE $list WHEN 'area' THEN c.area_code END, place, c.entry_id
LIMIT $most
