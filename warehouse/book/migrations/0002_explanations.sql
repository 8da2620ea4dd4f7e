-- What a sheet that disagrees with itself may mean, and the cells that a person has put right.

ALTER TABLE entry_revision ADD COLUMN score_certain BOOLEAN;  -- every explanation gives the same net; null: not asked yet

ALTER TABLE entry_revision ADD COLUMN entry_no VARCHAR;       -- as a person corrected it; null: the sender's, of entry

CREATE TABLE explanation (                   -- grain: one way to make every figure of one revision agree
    revision_id      BIGINT NOT NULL,
    place            SMALLINT NOT NULL,      -- 0 is the likeliest
    tie              BOOLEAN NOT NULL,       -- another one of this revision is as likely
    kind             VARCHAR NOT NULL,
    cells            VARCHAR[] NOT NULL,     -- our field names of the cells that are wrong
    stated           INTEGER[] NOT NULL,     -- what they say, in units; null: blank or not to be read
    proposed         INTEGER[] NOT NULL,
    follows          VARCHAR[] NOT NULL,     -- stated figures that were worked out from a wrong one
    follows_proposed INTEGER[] NOT NULL,
    net              INTEGER,
    why              VARCHAR NOT NULL
);

CREATE TABLE corrected_cell (                -- grain: one cell that a person put right in making a revision
    revision_id    BIGINT NOT NULL,
    field          VARCHAR NOT NULL,
    stated_text    VARCHAR,                  -- as it stood before; null: empty, or no such column in the file
    corrected_text VARCHAR NOT NULL          -- '' empties the cell
);

DROP VIEW meets_minimum;
DROP VIEW open_finding;
DROP VIEW current_entry;

CREATE VIEW current_entry AS                 -- grain: one entry in its current state, with its place
SELECT coalesce(r.entry_no, e.entry_no) AS entry_no, r.* EXCLUDE (entry_no), a.name AS area, a.district, a.region, w.weapon_class
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
