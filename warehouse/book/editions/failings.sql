-- grain: one accepted entry of $entries and one record book in which it does not qualify, with the marks that say why
SELECT entry_id, book, unit, minimum_units AS minimum, no_rules, no_minimum, weapon_unknown, weapon_not_taken, found_not_taken,
       score_unknown, below_minimum, dried_short OR drying_unknown AS not_dried, not_certified, outside_area,
       measured_late OR received_late OR cut_off_unknown AS late
FROM standing
WHERE status = 'accepted' AND NOT qualifies AND list_contains($entries::BIGINT[], entry_id)
ORDER BY entry_id, book
