-- The ledger and its reference tables. Lengths are whole units (eighths; sixteenths where entry_revision.unit is 16).
-- Rows are only ever added: a correction is a new revision. No foreign keys on the bulk tables: an index on each
-- would double the time of a load.

CREATE TABLE load (                          -- grain: one run of `beamledger load`, which is one transaction
    load_id     INTEGER PRIMARY KEY,
    loaded_at   TIMESTAMP NOT NULL,          -- UTC
    loaded_by   VARCHAR NOT NULL,
    program     VARCHAR NOT NULL             -- version of Beamledger that did it
);

CREATE TABLE received_file (                 -- grain: one table received: a file, or one sheet of a workbook
    file_id     INTEGER PRIMARY KEY,
    load_id     INTEGER NOT NULL,
    name        VARCHAR NOT NULL,            -- file name as the sender gave it: data, never a path to open
    sheet       VARCHAR,                     -- workbook sheet; null elsewhere
    sha256      VARCHAR NOT NULL CHECK (length(sha256) = 64),
    headings    VARCHAR[] NOT NULL,          -- the sender's headings, one per cell of received_row.cells
    fields      VARCHAR[] NOT NULL,          -- our field for each heading; '' where none matched
    row_count   INTEGER NOT NULL
);

CREATE TABLE received_row (                  -- grain: one row as received; never updated, never deleted
    row_id      BIGINT PRIMARY KEY,
    file_id     INTEGER NOT NULL,
    row         INTEGER NOT NULL,            -- as a person counts rows in that file
    cells       VARCHAR NOT NULL,            -- the cells' text exactly as received, joined by U+001F
    verdict     VARCHAR NOT NULL CHECK (verdict IN ('new', 'unchanged', 'revised', 'held')),
    entry_id    BIGINT NOT NULL
);

CREATE TABLE entry (                         -- grain: one head in the book
    entry_id    BIGINT PRIMARY KEY,
    entry_no    VARCHAR                      -- the sender's number; two senders may use the same one
);

CREATE TABLE entry_revision (                -- grain: one state of one entry; the highest revision_no is the current one
    revision_id   BIGINT PRIMARY KEY,
    entry_id      BIGINT NOT NULL,
    revision_no   INTEGER NOT NULL,
    row_id        BIGINT NOT NULL,           -- the received row it came from
    made_at       TIMESTAMP NOT NULL,        -- UTC
    author        VARCHAR NOT NULL,
    reason        VARCHAR NOT NULL,
    status        VARCHAR NOT NULL CHECK (status IN ('accepted', 'held')),
    category      VARCHAR,                   -- null: not known, the entry is held
    unit          SMALLINT,                  -- parts of an inch of every length of this entry: 8 or 16
    hunter        VARCHAR,
    tag_no        VARCHAR,
    area_written  VARCHAR,                   -- county or parish as written
    area_code     VARCHAR,                   -- INCITS 31 form, five digits, as text
    taken_on      DATE,
    season        VARCHAR,                   -- '2024-25', from taken_on; the stated one where no date is known
    weapon        VARCHAR,
    measured_on   DATE,
    measurer      VARCHAR,                   -- measurer_no where known, else as written
    points_r      SMALLINT,
    points_l      SMALLINT,
    measure_key   UBIGINT,                   -- equal for sheets with equal scored measures (warehouse.audit.duplicates)
    spread_credit INTEGER, right_total INTEGER, left_total INTEGER, diff_total INTEGER,       -- recomputed
    abnormal_total INTEGER, deductions INTEGER, gross INTEGER, net INTEGER,                   -- null: rests on an unknown
    stated_spread_credit INTEGER, stated_right_total INTEGER, stated_left_total INTEGER, stated_diff_total INTEGER,
    stated_abnormal_total INTEGER, stated_deductions INTEGER, stated_gross INTEGER, stated_net INTEGER,
    CHECK (net IS NULL OR net = gross - deductions OR net = gross - deductions + abnormal_total)
);

CREATE TABLE measurement (                   -- grain: one line of one sheet; lines with nothing on them are left out
    revision_id       BIGINT NOT NULL,
    line              VARCHAR NOT NULL,      -- name of the category's line; 'abnormal' for the abnormal points
    right_units       INTEGER,
    left_units        INTEGER,
    single_units      INTEGER,               -- spreads and skulls: measures without a side
    stated_difference INTEGER
);

CREATE TABLE finding (                       -- grain: one thing found in one row, or in a file as a whole (row_id null)
    file_id     INTEGER NOT NULL,
    row_id      BIGINT,
    revision_id BIGINT,                      -- the revision that was audited; null where the row added none
    code        VARCHAR NOT NULL,
    severity    VARCHAR NOT NULL CHECK (severity IN ('error', 'question', 'note')),
    cells       VARCHAR[] NOT NULL,          -- our field names
    stated      VARCHAR,
    expected    VARCHAR,
    message     VARCHAR NOT NULL
);

-- Reference tables: what differs from region to region is rows, not code -------------------------------------

CREATE TABLE area (                          -- grain: one county or parish
    area_code   VARCHAR PRIMARY KEY CHECK (regexp_full_match(area_code, '\d{5}')),
    name        VARCHAR NOT NULL,
    kind        VARCHAR NOT NULL,            -- county, parish ...
    state       VARCHAR NOT NULL,
    district    VARCHAR NOT NULL,
    region      VARCHAR NOT NULL
);
CREATE TABLE area_alias (alias VARCHAR NOT NULL, area_code VARCHAR NOT NULL);
CREATE TABLE measurer (                      -- grain: one certificate of one measurer
    measurer_no    VARCHAR NOT NULL,
    name           VARCHAR NOT NULL,
    certified_from DATE NOT NULL,
    certified_to   DATE                      -- null: still certified
);
CREATE TABLE season (season VARCHAR PRIMARY KEY, starts_on DATE NOT NULL, ends_on DATE NOT NULL, CHECK (starts_on < ends_on));
CREATE TABLE weapon (weapon VARCHAR PRIMARY KEY, label VARCHAR NOT NULL, weapon_class VARCHAR NOT NULL);
CREATE TABLE minimum (                       -- grain: one minimum of one book, in force from season to season
    book          VARCHAR NOT NULL,
    category      VARCHAR NOT NULL,
    weapon_class  VARCHAR NOT NULL,          -- 'any', or a weapon.weapon_class
    minimum_units INTEGER NOT NULL CHECK (minimum_units >= 0),
    first_season  VARCHAR NOT NULL,
    last_season   VARCHAR                    -- null: still in force
);
CREATE TABLE heading_mapping (name VARCHAR NOT NULL, heading VARCHAR NOT NULL, field VARCHAR NOT NULL, PRIMARY KEY (name, heading));

INSERT INTO weapon VALUES
    ('rifle', 'Rifle', 'firearm'), ('shotgun', 'Shotgun', 'firearm'), ('handgun', 'Handgun', 'firearm'),
    ('muzzleloader', 'Muzzleloader', 'muzzleloader'), ('bow', 'Bow', 'bow'), ('crossbow', 'Crossbow', 'crossbow'),
    ('found', 'Found dead', 'found');

-- Views ------------------------------------------------------------------------------------------------------

CREATE VIEW current_entry AS                 -- grain: one entry in its current state, with its place
SELECT e.entry_no, r.*, a.name AS area, a.district, a.region, w.weapon_class
FROM entry_revision r
JOIN entry e USING (entry_id)
LEFT JOIN area a USING (area_code)
LEFT JOIN weapon w USING (weapon)
WHERE NOT EXISTS (SELECT 1 FROM entry_revision later
                  WHERE later.entry_id = r.entry_id AND later.revision_no > r.revision_no);

CREATE VIEW open_finding AS                  -- grain: one finding that still concerns the book: of a current revision or of a file
SELECT f.*, c.entry_id, c.entry_no, c.area_code, c.area, c.district, c.season, c.measurer, c.category,
       rf.name AS file, rf.sheet, rr.row
FROM finding f
JOIN received_file rf ON rf.file_id = f.file_id
LEFT JOIN received_row rr ON rr.row_id = f.row_id
LEFT JOIN current_entry c ON c.revision_id = f.revision_id
WHERE f.row_id IS NULL OR c.revision_id IS NOT NULL;

CREATE VIEW meets_minimum AS                 -- grain: one accepted entry and one book whose minimum its net meets
SELECT c.revision_id, c.entry_id, m.book, m.minimum_units, c.net - m.minimum_units AS margin
FROM current_entry c
JOIN minimum m ON m.category = c.category
    AND (m.weapon_class = 'any' OR m.weapon_class = c.weapon_class)
    AND c.season >= m.first_season AND (m.last_season IS NULL OR c.season <= m.last_season)
WHERE c.status = 'accepted' AND c.net >= m.minimum_units;
