-- grain: one distinct value of one kind of choice
WITH entries AS MATERIALIZED (SELECT season, district, category, weapon_class FROM current_entry)
SELECT 'season' AS kind, season AS value FROM entries WHERE season IS NOT NULL GROUP BY season
UNION ALL SELECT 'district', district FROM entries WHERE district IS NOT NULL GROUP BY district
UNION ALL SELECT 'category', category FROM entries WHERE category IS NOT NULL GROUP BY category
UNION ALL SELECT 'weapon_class', weapon_class FROM entries WHERE weapon_class IS NOT NULL GROUP BY weapon_class
UNION ALL SELECT 'book', book FROM record_book GROUP BY book
UNION ALL SELECT 'code', f.code FROM finding f JOIN current_revision c USING (revision_id)
          WHERE c.status = 'held' AND f.row_id IS NOT NULL GROUP BY f.code
ORDER BY kind, value
