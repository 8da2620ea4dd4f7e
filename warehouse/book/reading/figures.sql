-- grain: the whole book, one row
SELECT
    (SELECT count(*) FROM current_entry)                              AS entries,
    (SELECT count(*) FROM current_entry WHERE status = 'accepted')    AS accepted,
    (SELECT count(*) FROM current_entry WHERE status = 'held')        AS held,
    (SELECT count(*) FROM open_finding WHERE severity = 'error')      AS errors,
    (SELECT count(*) FROM open_finding WHERE severity = 'question')   AS questions,
    (SELECT count(*) FROM open_finding WHERE severity = 'note')       AS notes,
    (SELECT count(*) FROM received_row)                               AS rows_received,
    (SELECT count(*) FROM received_file)                              AS files,
    (SELECT count(*) FROM load)                                       AS loads
