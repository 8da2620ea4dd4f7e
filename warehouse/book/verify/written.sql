-- grain: one event that wrote into other tables, or says so, with whose content it is (`key`) and what it wrote in words
SELECT e.event_no, e.kind, e.content,
       CASE WHEN e.kind = 'load' THEN 'load'
            WHEN e.kind = 'correct' OR (e.kind = 'undo' AND u.kind = 'correct') THEN 'correction'
            WHEN e.kind = 'publish' THEN 'edition'
            WHEN e.kind = 'reference' THEN 'reference' END AS wrote,
       CASE wrote WHEN 'load' THEN e.load_id WHEN 'correction' THEN e.revision_id WHEN 'edition' THEN d.edition_no
                  WHEN 'reference' THEN e.event_no END::BIGINT AS key,
       CASE wrote
           WHEN 'load' THEN format('load {}: {}', e.load_id, coalesce(f.names, 'no file'))
           WHEN 'correction' THEN format('revision {} of entry {}', coalesce(v.revision_no::VARCHAR, '?'),
                                         coalesce(v.entry_no, n.entry_no, '=' || e.entry_id, '?'))
           WHEN 'edition' THEN format('edition {}', e.about)
           WHEN 'reference' THEN format('table {}', e.about)
           ELSE 'no other table' END AS what
FROM event e
LEFT JOIN event u ON u.event_no = e.undoes
LEFT JOIN edition d ON e.kind = 'publish' AND d.edition = e.about
LEFT JOIN (SELECT load_id, string_agg(name, ', ' ORDER BY file_id) AS names FROM received_file GROUP BY load_id) f
       ON e.kind = 'load' AND f.load_id = e.load_id
LEFT JOIN entry_revision v ON e.kind IN ('correct', 'undo') AND v.revision_id = e.revision_id
LEFT JOIN entry n ON n.entry_id = v.entry_id
WHERE wrote IS NOT NULL OR e.content IS NOT NULL
ORDER BY e.event_no
