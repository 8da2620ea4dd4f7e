-- grain: one minimum of one book under one version of its rules, as quoted in one edition
SELECT book, category, weapon_class, antler_state, unit, minimum_units, score, tie_rule, rules, first_season, last_season
FROM edition_minimum
WHERE edition_no = $edition
ORDER BY book, category, weapon_class, antler_state, first_season, last_season NULLS LAST, minimum_units
