-- grain: one entry in one list of one edition, in printed order: the newest season before all time
SELECT book, category, span, unit, place, tied, net, gross, hunter, area, district, season, weapon, antler_state, entry_no
FROM edition_line
WHERE edition_no = $edition
ORDER BY book, category, span = 'all-time', span, place, entry_id
