-- grain: one distinct value of one kind of choice
SELECT 'season' AS kind, season AS value FROM current_entry WHERE season IS NOT NULL GROUP BY season
UNION ALL SELECT 'district', district FROM current_entry WHERE district IS NOT NULL GROUP BY district
UNION ALL SELECT 'category', category FROM current_entry WHERE category IS NOT NULL GROUP BY category
UNION ALL SELECT 'weapon_class', weapon_class FROM current_entry WHERE weapon_class IS NOT NULL GROUP BY weapon_class
UNION ALL SELECT 'book', book FROM minimum GROUP BY book
UNION ALL SELECT 'code', f.code FROM open_finding f JOIN current_entry c USING (revision_id)
          WHERE c.status = 'held' GROUP BY f.code
ORDER BY kind, value
