-- Decisions about entries, record books with their rules, areas with history, printed editions, and one chained log of
-- everything that was done to the book.

-- The log ----------------------------------------------------------------------------------------------------------

CREATE TABLE event (                         -- grain: one thing done to the book; only added, each chained to the one before
    event_no       BIGINT PRIMARY KEY,       -- 1, 2, 3 ... without a gap
    happened_at    TIMESTAMP NOT NULL,       -- UTC
    author         VARCHAR NOT NULL,
    kind           VARCHAR NOT NULL CHECK (kind IN ('load', 'correct', 'accept', 'hold', 'refuse', 'panel', 'panel-result',
                   'withdraw', 'merge', 'distinct', 'undo', 'reference', 'publish', 'upgrade')),
    reason         VARCHAR NOT NULL,
    load_id        INTEGER,                  -- load: which one
    entry_id       BIGINT,                   -- decisions and corrections: the entry they are about
    revision_id    BIGINT,                   -- decisions: the revision that was looked at; corrections: the one they made
    other_entry_id BIGINT,                   -- merge: the entry it is one head with; distinct: the one it is not
    undoes         BIGINT,                   -- undo: the event that counts no longer
    gross          INTEGER,                  -- panel-result: the panel's score, in units of the entry
    net            INTEGER,
    about          VARCHAR,                  -- reference: the table; publish: the edition; accept: despite which errors
    content        VARCHAR,                  -- SHA-256 of what it wrote into other tables; null: nothing
    previous       VARCHAR NOT NULL,         -- hash of the event before; 64 zeros for the first
    hash           VARCHAR NOT NULL CHECK (length(hash) = 64)
);

-- What one row holds, in short: the first 64 bits of the SHA-256 of its text (warehouse.book.marks).
ALTER TABLE received_row ADD COLUMN mark UBIGINT;
ALTER TABLE entry_revision ADD COLUMN mark UBIGINT;

-- Record books and their minimums ----------------------------------------------------------------------------------

ALTER TABLE entry_revision ADD COLUMN antler_state VARCHAR;             -- 'hard' or 'velvet'; null: hard, for none is stated
ALTER TABLE measurer ADD COLUMN certificate VARCHAR DEFAULT 'official'; -- kind of the certificate
ALTER TABLE minimum ADD COLUMN antler_state VARCHAR DEFAULT 'any';      -- 'any', 'hard' or 'velvet'

CREATE TABLE record_book (                   -- grain: one record book's rules, in force from season to season
    book                 VARCHAR NOT NULL,
    first_season         VARCHAR NOT NULL,
    last_season          VARCHAR,            -- null: still in force
    score                VARCHAR NOT NULL CHECK (score IN ('net', 'gross')),           -- held against the minimum, and ranked
    tie_rule             VARCHAR NOT NULL CHECK (tie_rule IN ('shared', 'gross', 'taken')),  -- who goes first among equal scores
    weapons              VARCHAR[] NOT NULL, -- of the weapon table; empty: all
    takes_found          BOOLEAN NOT NULL,   -- whether heads that were found dead are taken
    drying_days          INTEGER NOT NULL CHECK (drying_days >= 0),
    certificates         VARCHAR[] NOT NULL, -- kinds of measurer.certificate; empty: any
    states               VARCHAR[] NOT NULL, -- the area covered; all three empty: everywhere
    districts            VARCHAR[] NOT NULL,
    areas                VARCHAR[] NOT NULL, -- area codes
    measured_within_days INTEGER,            -- after the season's last day; null: no cut-off
    received_within_days INTEGER,
    PRIMARY KEY (book, first_season)
);

-- The books that had only minimums so far, with the rules that every book shared.
INSERT INTO record_book
SELECT book, min(first_season), NULL, 'net', 'shared', []::VARCHAR[], true, 60, []::VARCHAR[], []::VARCHAR[], []::VARCHAR[], []::VARCHAR[],
       NULL, NULL
FROM minimum GROUP BY book;

-- Areas with history -----------------------------------------------------------------------------------------------

CREATE TABLE area_district (                 -- grain: one area's district from season to season; before it, that of `area`
    area_code    VARCHAR NOT NULL,
    district     VARCHAR NOT NULL,
    region       VARCHAR NOT NULL,
    first_season VARCHAR NOT NULL,
    last_season  VARCHAR,                    -- null: still
    PRIMARY KEY (area_code, first_season)
);
CREATE TABLE area_change (                   -- grain: one code that ended and one that took over from it
    old_code   VARCHAR NOT NULL,
    new_code   VARCHAR NOT NULL,
    changed_on DATE NOT NULL,                -- the first day of the new code
    kind       VARCHAR NOT NULL CHECK (kind IN ('renamed', 'merged', 'split')),
    PRIMARY KEY (old_code, new_code)
);
CREATE TABLE effort (                        -- grain: one area and season: how much hunting stands behind its heads
    area_code        VARCHAR NOT NULL,
    season           VARCHAR NOT NULL,
    square_miles     DECIMAL(12, 2),
    licences_sold    INTEGER,
    antlered_harvest INTEGER,
    PRIMARY KEY (area_code, season)
);
CREATE TABLE reference_version (             -- grain: one reference table as it was put in place by one event
    event_no   BIGINT NOT NULL,
    table_name VARCHAR NOT NULL,
    rows_text  VARCHAR NOT NULL              -- JSON list of its rows
);

-- Printed editions -------------------------------------------------------------------------------------------------

CREATE TABLE edition (                       -- grain: one published state of the book, frozen
    edition_no   INTEGER PRIMARY KEY,
    edition      VARCHAR NOT NULL UNIQUE,    -- its name, like 2026
    published_on DATE NOT NULL,              -- UTC
    published_by VARCHAR NOT NULL,
    season       VARCHAR,                    -- the newest season in it
    entries      INTEGER NOT NULL,           -- accepted entries of the book then
    head         VARCHAR NOT NULL            -- hash of the newest event it rests on
);
CREATE TABLE edition_line (                  -- grain: one entry in one list of one edition, as printed
    edition_no INTEGER NOT NULL,
    book       VARCHAR NOT NULL,
    category   VARCHAR NOT NULL,
    span       VARCHAR NOT NULL,             -- 'all-time', or a season
    place      INTEGER NOT NULL,
    tied       BOOLEAN NOT NULL,
    entry_id   BIGINT NOT NULL,
    entry_no   VARCHAR,
    hunter     VARCHAR,
    area       VARCHAR,
    district   VARCHAR,
    season     VARCHAR,
    weapon     VARCHAR,
    antler_state VARCHAR NOT NULL,
    unit       SMALLINT NOT NULL,
    gross      INTEGER,
    net        INTEGER
);
CREATE TABLE edition_minimum (               -- grain: one minimum or rule of one book, as quoted in one edition
    edition_no    INTEGER NOT NULL,
    book          VARCHAR NOT NULL,
    category      VARCHAR NOT NULL,
    weapon_class  VARCHAR NOT NULL,
    antler_state  VARCHAR NOT NULL,
    unit          SMALLINT NOT NULL,
    minimum_units INTEGER NOT NULL,
    score         VARCHAR NOT NULL,
    tie_rule      VARCHAR NOT NULL,
    rules         VARCHAR NOT NULL,          -- the book's other rules in words
    first_season  VARCHAR NOT NULL,
    last_season   VARCHAR
);
CREATE TABLE edition_change (                -- grain: one difference of one entry in one book from the edition before
    edition_no INTEGER NOT NULL,
    book       VARCHAR NOT NULL,
    category   VARCHAR NOT NULL,
    kind       VARCHAR NOT NULL CHECK (kind IN ('new', 'moved', 'corrected', 'withdrawn')),
    entry_id   BIGINT NOT NULL,
    entry_no   VARCHAR,
    hunter     VARCHAR,
    place_was  INTEGER,
    place_is   INTEGER,
    what       VARCHAR NOT NULL              -- a sentence: what changed, and why
);

-- Views ------------------------------------------------------------------------------------------------------------

DROP VIEW meets_minimum;                     -- its job is done by warehouse/book/standing.sql
DROP VIEW open_finding;
DROP VIEW current_entry;

CREATE VIEW live_event AS                    -- grain: one event that was not undone
SELECT * FROM event WHERE kind <> 'undo' AND event_no NOT IN (SELECT undoes FROM event WHERE undoes IS NOT NULL);

CREATE VIEW live_decision AS                 -- grain: one entry with a decision about its place in the book, the newest that counts
SELECT e.* FROM live_event e
JOIN (SELECT max(event_no) AS event_no FROM live_event
      WHERE kind IN ('accept', 'hold', 'refuse', 'panel', 'panel-result', 'withdraw', 'merge') GROUP BY entry_id) USING (event_no);

CREATE VIEW panel_score AS                   -- grain: one entry that a panel has measured: its newest score, of its category then
SELECT e.entry_id, e.gross, e.net, e.event_no, v.category FROM live_event e JOIN entry_revision v USING (revision_id)
JOIN (SELECT max(event_no) AS event_no FROM live_event WHERE kind = 'panel-result' GROUP BY entry_id) USING (event_no);

CREATE VIEW area_present AS                  -- grain: one area code, and the code that its renames and mergers have led to
WITH RECURSIVE step(area_code, present_code) AS (
    SELECT area_code, area_code FROM area
    UNION
    SELECT s.area_code, c.new_code FROM step s JOIN area_change c ON c.old_code = s.present_code AND c.kind <> 'split')
SELECT area_code, present_code FROM step
WHERE present_code NOT IN (SELECT old_code FROM area_change WHERE kind <> 'split');

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

CREATE VIEW open_finding AS                  -- grain: one finding that still concerns the book: of a current revision or of a file
SELECT f.*, c.entry_id, c.entry_no, c.area_code, c.area, c.district, c.season, c.measurer, c.category,
       rf.name AS file, rf.sheet, rr.row
FROM finding f
JOIN received_file rf ON rf.file_id = f.file_id
LEFT JOIN received_row rr ON rr.row_id = f.row_id
LEFT JOIN current_entry c ON c.revision_id = f.revision_id
WHERE f.row_id IS NULL OR (c.revision_id IS NOT NULL AND (f.severity = 'note' OR c.status = 'held'));

CREATE VIEW standing AS                      -- grain: one entry and one record book: where it stands, and each thing against it
-- What many entries share is worked out once and numbered: a kind (season, category, weapon, antler state), a day of measuring.
WITH kind AS MATERIALIZED (
    SELECT row_number() OVER () AS kind_no, * FROM (SELECT DISTINCT season, category, weapon, antler_state FROM current_revision)),
rule AS MATERIALIZED (SELECT row_number() OVER (ORDER BY book, first_season) AS rule_no, * FROM record_book),
placed AS (
    SELECT r.area_code, r.season, a.state, coalesce(d.district, a.district) AS district, ap.present_code
    FROM (SELECT DISTINCT area_code, season FROM current_revision) r
    LEFT JOIN area a USING (area_code)
    LEFT JOIN area_present ap USING (area_code)
    LEFT JOIN area_district d ON d.area_code = r.area_code AND r.season >= d.first_season AND (d.last_season IS NULL OR r.season <= d.last_season)),
place AS MATERIALIZED (                      -- an area in a season, with the rules of books whose area it lies outside of
    SELECT p.area_code, p.season, p.district, list(u.rule_no) FILTER (u.rule_no IS NOT NULL) AS outside
    FROM placed p
    LEFT JOIN rule u ON len(u.states) + len(u.districts) + len(u.areas) > 0 AND NOT coalesce(list_contains(u.states, p.state), false)
        AND NOT coalesce(list_contains(u.districts, p.district), false) AND NOT coalesce(list_contains(u.areas, p.area_code) OR list_contains(u.areas, p.present_code), false)
    GROUP BY p.area_code, p.season, p.district),
certificate AS MATERIALIZED (
    SELECT certificate, 1::UBIGINT << (row_number() OVER (ORDER BY certificate) - 1) AS bit FROM (SELECT DISTINCT certificate FROM measurer)),
person AS MATERIALIZED (SELECT measurer_no, row_number() OVER (ORDER BY measurer_no) AS person_no FROM (SELECT DISTINCT measurer_no FROM measurer)),
measuring AS (                               -- a measurer and a day in one number
    SELECT DISTINCT n.person_no * 1000000 + (r.measured_on - DATE '0001-01-01') AS measuring_no, r.measurer, r.measured_on
    FROM current_revision r JOIN person n ON n.measurer_no = r.measurer WHERE r.measured_on IS NOT NULL),
certified AS (                               -- the certificates that a measurer held on a day, as bits
    SELECT g.measuring_no, bit_or(x.bit) AS held
    FROM measuring g
    JOIN measurer m ON m.measurer_no = g.measurer AND g.measured_on >= m.certified_from AND (m.certified_to IS NULL OR g.measured_on <= m.certified_to)
    JOIN certificate x USING (certificate) GROUP BY g.measuring_no),
least AS (                                   -- a minimum for the weapon class goes before one for any, then one for the antler state
    SELECT k.kind_no, m.book, arg_max(m.minimum_units, (m.weapon_class <> 'any')::INTEGER * 2 + (m.antler_state <> 'any')::INTEGER) AS minimum_units
    FROM kind k LEFT JOIN weapon w ON w.weapon = k.weapon
    JOIN minimum m ON m.category = k.category AND m.weapon_class IN ('any', w.weapon_class) AND m.antler_state IN ('any', k.antler_state)
        AND k.season >= m.first_season AND (m.last_season IS NULL OR k.season <= m.last_season)
    GROUP BY k.kind_no, m.book),
term AS MATERIALIZED (
    SELECT k.kind_no, b.book, r.rule_no, r.score, r.tie_rule, r.drying_days, r.measured_within_days, r.received_within_days, l.minimum_units, s.ends_on,
        coalesce((SELECT bit_or(bit) FROM certificate WHERE list_contains(r.certificates, certificate)), 0) AS accepted,
        len(r.certificates) = 0 AS any_certificate,
        s.ends_on + r.measured_within_days AS measured_until, s.ends_on + r.received_within_days AS received_until,
        r.book IS NULL AS no_rules,
        r.book IS NOT NULL AND l.minimum_units IS NULL AS no_minimum,
        r.book IS NOT NULL AND k.weapon IS NULL AS weapon_unknown,
        coalesce(k.weapon <> 'found' AND len(r.weapons) > 0 AND NOT list_contains(r.weapons, k.weapon), false) AS weapon_not_taken,
        coalesce(k.weapon = 'found' AND NOT r.takes_found, false) AS found_not_taken,
        no_rules OR no_minimum OR weapon_unknown OR weapon_not_taken OR found_not_taken AS unfit_kind
    FROM kind k CROSS JOIN (SELECT DISTINCT book FROM record_book) b
    LEFT JOIN rule r ON r.book = b.book AND k.season >= r.first_season AND (r.last_season IS NULL OR k.season <= r.last_season)
    LEFT JOIN least l ON l.book = b.book AND l.kind_no = k.kind_no
    LEFT JOIN season s ON s.season = k.season),
numbered AS (
    SELECT r.entry_id, r.revision_id, r.status, r.unit, r.category, r.season, r.weapon, r.antler_state, r.area_code, r.area_written, r.measurer,
           r.taken_on, r.measured_on, r.measured_on - r.taken_on AS dried_days, r.counted_gross, r.counted_net, r.received_at::DATE AS received_on,
           k.kind_no, p.district, p.outside, x.held
    FROM current_revision r
    JOIN kind k ON k.season IS NOT DISTINCT FROM r.season AND k.category IS NOT DISTINCT FROM r.category
        AND k.weapon IS NOT DISTINCT FROM r.weapon AND k.antler_state = r.antler_state
    JOIN place p ON p.area_code IS NOT DISTINCT FROM r.area_code AND p.season IS NOT DISTINCT FROM r.season
    LEFT JOIN person n ON n.measurer_no = r.measurer
    LEFT JOIN certified x ON x.measuring_no = n.person_no * 1000000 + (r.measured_on - DATE '0001-01-01')),
against AS (
    SELECT e.*, t.* EXCLUDE (kind_no, accepted, any_certificate, measured_until, received_until),
        CASE t.score WHEN 'gross' THEN e.counted_gross ELSE e.counted_net END AS score_units,
        NOT t.no_rules AND score_units IS NULL AS score_unknown,
        coalesce(score_units < t.minimum_units, false) AS below_minimum,
        coalesce(e.dried_days < t.drying_days, false) AS dried_short,
        e.dried_days IS NULL AND coalesce(t.drying_days > 0, false) AS drying_unknown,
        NOT t.no_rules AND (SELECT count(*) > 0 FROM measurer)
            AND coalesce(CASE WHEN t.any_certificate THEN e.held IS NULL ELSE (e.held & t.accepted) = 0 END, true) AS not_certified,
        coalesce(list_contains(e.outside, t.rule_no), false) AS outside_area,
        coalesce(e.measured_on > t.measured_until, false) AS measured_late,
        coalesce(e.received_on > t.received_until, false) AS received_late,
        (t.measured_within_days IS NOT NULL AND (e.measured_on IS NULL OR t.measured_until IS NULL))
            OR (t.received_within_days IS NOT NULL AND t.received_until IS NULL) AS cut_off_unknown
    FROM numbered e JOIN term t ON t.kind_no = e.kind_no)
SELECT entry_id, revision_id, book, status, unit, category, season, weapon, antler_state, area_code, area_written, district, measurer,
       taken_on, measured_on, score, tie_rule, score_units, minimum_units, score_units - minimum_units AS margin, counted_gross, counted_net,
       drying_days, dried_days, measured_within_days, received_within_days, received_on, ends_on,
       no_rules, no_minimum, weapon_unknown, weapon_not_taken, found_not_taken, score_unknown, below_minimum, dried_short, drying_unknown,
       not_certified, outside_area, measured_late, received_late, cut_off_unknown,
       NOT (unfit_kind OR score_unknown OR below_minimum OR dried_short OR drying_unknown OR not_certified OR outside_area OR measured_late
            OR received_late OR cut_off_unknown) AS fits,           -- it qualifies as soon as it is accepted
       fits AND status = 'accepted' AS qualifies,
       below_minimum AND NOT (unfit_kind OR dried_short OR drying_unknown OR not_certified OR outside_area OR measured_late
                              OR received_late OR cut_off_unknown) AS only_below
FROM against;
