-- grain: one entry of $entries: what became of it, and the newest thing done to it behind event $since
WITH asked AS (SELECT DISTINCT unnest($entries::BIGINT[]) AS entry_id),
done AS (                                    -- one thing done to one entry; a load does it to every row it received
    SELECT coalesce(e.entry_id, u.entry_id) AS entry_id, e.event_no, e.kind, e.reason, e.happened_at,
           coalesce(u.kind, e.kind) = 'panel-result' OR EXISTS (
               -- a correction of what is never printed is no reason for what is, and its words may tell what is not
               FROM corrected_cell k WHERE k.revision_id = e.revision_id AND coalesce(u.kind, e.kind) = 'correct'
               AND k.field NOT IN ('tag_no', 'measurer', 'measured_on', 'points_r', 'points_l', 'tip_to_tip', 'greatest_spread', 'state')) AS of_figures
    FROM event e
    LEFT JOIN event u ON u.event_no = e.undoes
    WHERE e.event_no > $since AND e.kind NOT IN ('load', 'distinct')
    UNION ALL
    SELECT r.entry_id, e.event_no, e.kind, e.reason, e.happened_at, true
    FROM entry_revision r
    JOIN received_row USING (row_id)
    JOIN received_file f USING (file_id)
    JOIN event e ON e.kind = 'load' AND e.load_id = f.load_id
    WHERE e.event_no > $since),
newest AS (                                  -- what may have changed a figure goes before what may not
    SELECT done.* FROM done SEMI JOIN asked USING (entry_id)
    WHERE of_figures OR done.kind NOT IN ('correct', 'undo')
    QUALIFY row_number() OVER (PARTITION BY entry_id ORDER BY of_figures DESC, event_no DESC) = 1),
tables AS (
    SELECT max_by(about, event_no) AS about, max_by(reason, event_no) AS reason
    FROM event WHERE event_no > $since AND kind = 'reference')
SELECT c.entry_id, c.status, c.decision, c.decision_reason, c.category AS category_now, c.unit AS unit_now,
       c.counted_gross, c.counted_net, into_entry.entry_no AS into_no,
       n.kind AS done, n.reason AS done_why, strftime(n.happened_at, '%Y-%m-%d') AS done_on,
       t.about AS table_changed, t.reason AS table_why
FROM current_entry c
SEMI JOIN asked USING (entry_id)
LEFT JOIN newest n USING (entry_id)
LEFT JOIN current_entry into_entry ON into_entry.entry_id = c.merged_into
CROSS JOIN tables t
ORDER BY c.entry_id
