-- What trends need beside the scores: heads that several measurers measured in one session, and the age of a buck.

-- Panels of measurers ----------------------------------------------------------------------------------------------

CREATE TABLE panel_measure (                 -- grain: one line of one head, measured by one measurer in one session
    session      VARCHAR NOT NULL,           -- what the session is called
    measured_on  DATE NOT NULL,
    head         VARCHAR NOT NULL,           -- what the head is called in the session; it need not be an entry of the book
    measurer_no  VARCHAR NOT NULL,
    line         VARCHAR NOT NULL,           -- 'net', 'gross', or a measure of a sheet with its side: 'beam_r', 'inside_spread'
    length_units INTEGER NOT NULL CHECK (length_units >= 0),
    unit         SMALLINT NOT NULL,          -- parts of an inch: 8
    PRIMARY KEY (session, head, measurer_no, line)
);

-- The age of the buck ----------------------------------------------------------------------------------------------

ALTER TABLE entry_revision ADD COLUMN age_half_years SMALLINT;  -- age in half years, as told by a jaw; null: not recorded

-- Views that carry every column of a revision: as in 0003, made anew so that they have the new one.
DROP VIEW current_entry;
DROP VIEW current_revision;

CREATE VIEW current_revision AS              -- grain: one entry in its current state, as far as the ledger and the log tell it
SELECT r.* EXCLUDE (status, antler_state, mark), coalesce(r.antler_state, 'hard') AS antler_state,
       r.status AS audit_status,             -- what the audit alone says: accepted or held
       CASE d.kind WHEN 'refuse' THEN 'refused' WHEN 'withdraw' THEN 'withdrawn' WHEN 'merge' THEN 'merged'
                   WHEN 'hold' THEN 'held' WHEN 'panel' THEN 'held'
                   WHEN 'panel-result' THEN CASE WHEN p.entry_id IS NOT NULL THEN 'accepted' ELSE r.status END
                   WHEN 'accept' THEN CASE WHEN d.revision_id = r.revision_id THEN 'accepted' ELSE r.status END
                   ELSE r.status END AS status,  -- an acceptance is of the revision that was looked at; the others last
       d.kind AS decision, d.event_no AS decision_no, d.author AS decided_by, d.reason AS decision_reason,
       CASE WHEN d.kind = 'merge' THEN d.other_entry_id END AS merged_into,
       coalesce(p.gross, r.gross) AS counted_gross,  -- what counts: a panel's score, where there is one
       coalesce(p.net, r.net) AS counted_net,
       coalesce(n.received_at, r.made_at) AS received_at
FROM entry_revision r
LEFT JOIN (                                  -- few entries have more than one revision: only they are gathered
    SELECT entry_id, max(revision_no) AS newest, min(made_at) AS received_at FROM entry_revision
    WHERE entry_id IN (SELECT entry_id FROM entry_revision WHERE revision_no > 1) GROUP BY entry_id) n USING (entry_id)
LEFT JOIN live_decision d USING (entry_id)
LEFT JOIN panel_score p ON p.entry_id = r.entry_id AND p.category IS NOT DISTINCT FROM r.category  -- of another category: no score
WHERE r.revision_no = coalesce(n.newest, r.revision_no);

CREATE VIEW current_entry AS                 -- grain: one entry in its current state, with its number and its place
SELECT coalesce(r.entry_no, e.entry_no) AS entry_no, r.* EXCLUDE (entry_no),
       a.name AS area, a.state, coalesce(ad.district, a.district) AS district, coalesce(ad.region, a.region) AS region,
       coalesce(ap.present_code, r.area_code) AS present_code, w.weapon_class
FROM current_revision r
JOIN entry e USING (entry_id)
LEFT JOIN area a USING (area_code)
LEFT JOIN area_district ad ON ad.area_code = r.area_code AND r.season >= ad.first_season
                          AND (ad.last_season IS NULL OR r.season <= ad.last_season)
LEFT JOIN area_present ap ON ap.area_code = r.area_code
LEFT JOIN weapon w USING (weapon);
