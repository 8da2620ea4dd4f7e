-- grain: the whole book, one row
SELECT count(*) AS held FROM current_entry WHERE status = 'held'
