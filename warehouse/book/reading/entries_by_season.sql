-- grain: one season and weapon class of current entries; null is a season or weapon not known
SELECT season, weapon_class, count(*) AS entries
FROM current_entry
GROUP BY season, weapon_class
ORDER BY season NULLS LAST, weapon_class NULLS LAST
