-- grain: one entry of the pairs that are near (`wanted`: nth, entry_id), as it stands in the book
SELECT w.nth, c.entry_id, c.entry_no, c.hunter, coalesce(c.area, c.area_written) AS area, c.taken_on, c.season,
       c.category, c.unit, c.counted_gross AS gross, c.counted_net AS net, c.measurer, c.measured_on, c.status, c.tag_no, c.revision_no,
       coalesce((SELECT max(v.event_no) FROM event v WHERE v.entry_id = c.entry_id), 0) AS newest_event,
       coalesce(c.present_code, upper(trim(c.area_written))) AS place,
       trim(regexp_replace(strip_accents(upper(c.hunter)), '[^\p{L}\p{N}]+', ' ', 'g')) AS name
FROM current_entry c
JOIN wanted w USING (entry_id)
ORDER BY w.nth
