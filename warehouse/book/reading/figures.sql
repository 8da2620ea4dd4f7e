-- grain: the whole book, one row
SELECT e.entries, e.accepted, e.held, f.errors, f.questions, f.notes,
       (SELECT count(*) FROM received_row)  AS rows_received,
       (SELECT count(*) FROM received_file) AS files,
       (SELECT count(*) FROM load)          AS loads
FROM (SELECT count(*) AS entries, count(*) FILTER (status = 'accepted') AS accepted, count(*) FILTER (status = 'held') AS held
      FROM current_revision) e
CROSS JOIN (SELECT count(*) FILTER (severity = 'error') AS errors, count(*) FILTER (severity = 'question') AS questions,
                   count(*) FILTER (severity = 'note') AS notes FROM open_finding) f
