-- grain: one thing that the log does not tell of, or tells of though it is not there; the first of each kind first
WITH told AS (                               -- a correction's event, and that of its undoing, names the revision it made
    SELECT e.event_no, e.revision_id FROM event e LEFT JOIN event u ON u.event_no = e.undoes
    WHERE e.kind = 'correct' OR (e.kind = 'undo' AND u.kind = 'correct')),
of_load AS (SELECT load_id, count(*) AS events FROM event WHERE kind = 'load' GROUP BY load_id),
of_revision AS (SELECT revision_id, count(*) AS events FROM told GROUP BY revision_id),
of_edition AS (SELECT about, count(*) AS events FROM event WHERE kind = 'publish' GROUP BY about),
of_table AS (SELECT event_no, about FROM event WHERE kind = 'reference'),
corrected AS (                               -- later revisions of the same row are corrections
    SELECT revision_id, entry_id, revision_no,
           row_number() OVER (PARTITION BY row_id ORDER BY revision_no) > 1 AS is_later,
           revision_id IN (SELECT revision_id FROM corrected_cell) AS has_cells
    FROM entry_revision),
subject AS (
    SELECT e.*, format('event {} ({})', e.event_no, e.kind) AS event, v.entry_id AS entry_of_revision, u.kind AS undone_kind,
           u.entry_id AS undone_entry, u.event_no AS undone_no, count(e.undoes) OVER (PARTITION BY e.undoes) AS undoings,
           e.kind IN ('load', 'reference', 'publish', 'upgrade') AS is_of_book
    FROM event e LEFT JOIN entry_revision v ON v.revision_id = e.revision_id LEFT JOIN event u ON u.event_no = e.undoes)
SELECT 1 AS rule, load_id AS place, format('load {}: {} events of the log tell of it, expected 1', load_id, coalesce(events, 0)) AS message
FROM load LEFT JOIN of_load USING (load_id) WHERE coalesce(events, 0) <> 1
UNION ALL
SELECT 2, event_no, format('{}: load {} is not there', event, load_id) FROM subject ANTI JOIN load USING (load_id) WHERE kind = 'load'
UNION ALL
SELECT 3, revision_id, format('entry ={}, revision {}: it {} the row as received, but {}', entry_id, revision_no,
                              CASE WHEN is_later THEN 'corrects' ELSE 'is' END,
                              CASE WHEN has_cells THEN 'has corrected cells' ELSE 'no corrected cell says how' END)
FROM corrected WHERE is_later <> has_cells
UNION ALL
SELECT 4, c.revision_id, format('entry ={}, revision {}: {} events of the log tell of the correction, expected 1', entry_id, revision_no, coalesce(events, 0))
FROM corrected c LEFT JOIN of_revision USING (revision_id) WHERE has_cells AND coalesce(events, 0) <> 1
UNION ALL
SELECT 5, event_no, format('{}: revision {} is not there, or corrects nothing', 'event ' || event_no, coalesce(revision_id::VARCHAR, '(none)'))
FROM told ANTI JOIN corrected_cell USING (revision_id)
UNION ALL
SELECT 6, event_no, format('{}: entry {} is not there', event, coalesce('=' || entry_id, '(none)'))
FROM subject ANTI JOIN entry USING (entry_id) WHERE NOT is_of_book
UNION ALL
SELECT 7, event_no, format('{}: revision {} is not one of entry ={}', event, coalesce(revision_id::VARCHAR, '(none)'), entry_id)
FROM subject WHERE NOT is_of_book AND entry_of_revision IS DISTINCT FROM entry_id
UNION ALL
SELECT 8, event_no, format('{}: the other entry, {}, is not there', event, coalesce('=' || other_entry_id, '(none)'))
FROM subject s WHERE kind IN ('merge', 'distinct') AND NOT EXISTS (SELECT 1 FROM entry e WHERE e.entry_id = s.other_entry_id)
UNION ALL
SELECT 9, event_no, format('{}: it undoes event {}, which cannot be undone by it', event, coalesce(undoes::VARCHAR, '(none)'))
FROM subject WHERE (kind = 'undo') <> (undoes IS NOT NULL)
   OR (kind = 'undo' AND (undone_no IS NULL OR undone_no >= event_no OR undone_kind = 'undo' OR undone_entry IS DISTINCT FROM entry_id OR undoings > 1))
UNION ALL
SELECT 10, edition_no, format('edition {}: {} events of the log tell of it, expected 1', edition, coalesce(events, 0))
FROM edition LEFT JOIN of_edition ON about = edition WHERE coalesce(events, 0) <> 1
UNION ALL
SELECT 11, event_no, format('{}: edition {} is not there', event, coalesce(about, '(none)'))
FROM subject ANTI JOIN edition d ON d.edition = subject.about WHERE kind = 'publish'
UNION ALL
SELECT 12, edition_no, format('{} of edition {}, which is not there', rows, edition_no) FROM (
    SELECT 'a line' AS rows, edition_no FROM edition_line UNION ALL SELECT 'a minimum', edition_no FROM edition_minimum
    UNION ALL SELECT 'a change', edition_no FROM edition_change) ANTI JOIN edition USING (edition_no)
UNION ALL
SELECT 13, v.event_no, format('table {}: event {} of the log does not tell that it was put in place', table_name, v.event_no)
FROM reference_version v LEFT JOIN of_table t ON t.event_no = v.event_no WHERE t.about IS DISTINCT FROM table_name
UNION ALL
SELECT 14, event_no, format('event {}: what it put in place of table {} is not there', event_no, coalesce(about, '(none)'))
FROM of_table ANTI JOIN reference_version USING (event_no)
UNION ALL
SELECT 15, d.edition_no, format('edition {}: it rests on another head than event {} of the log', d.edition, e.event_no)
FROM edition d JOIN event e ON e.kind = 'publish' AND e.about = d.edition WHERE e.previous <> d.head
ORDER BY rule, place, message
LIMIT 1
