-- grain: one entry that qualifies in $book, of $category, from $first_season to $last_season: its score, where, and the days it was measured and first accepted
-- The day of acceptance: the first accepted state of the audit, or a person's acceptance, whichever came first.
WITH settled AS (                            -- few entries have a second revision or a decision: only they are gathered
    SELECT DISTINCT entry_id FROM entry_revision WHERE revision_no > 1
    UNION SELECT entry_id FROM live_event WHERE kind IN ('accept', 'panel-result')),
accepted AS (
    SELECT entry_id, min(day) AS day FROM (
        SELECT entry_id, made_at::DATE AS day FROM entry_revision SEMI JOIN settled USING (entry_id) WHERE status = 'accepted'
        UNION ALL SELECT entry_id, happened_at::DATE FROM live_event WHERE kind IN ('accept', 'panel-result'))
    GROUP BY entry_id)
SELECT s.entry_id, s.revision_id, coalesce(p.present_code, s.area_code) AS area_code, s.season, s.weapon, s.antler_state, s.measurer,
       s.score, s.score_units, s.minimum_units, s.margin, s.measured_on, coalesce(a.day, s.received_on) AS accepted_on
FROM standing s
LEFT JOIN area_present p ON p.area_code = s.area_code
LEFT JOIN accepted a ON a.entry_id = s.entry_id
WHERE s.book = $book AND s.category = $category AND s.qualifies
  AND ($first_season::VARCHAR IS NULL OR s.season >= $first_season) AND ($last_season::VARCHAR IS NULL OR s.season <= $last_season)
