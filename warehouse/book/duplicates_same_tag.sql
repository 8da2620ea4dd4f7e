-- grain: one pair of standing entries of one species (or one not known) with the same tag number in one season or on one day
-- Signs and small letters do not tell two tags apart; a tag without a digit ("none") is no number, and one that more
-- than $tag_most entries of a season carry is no tag.
WITH tagged AS (
    SELECT entry_id, species, tag, coalesce(season, taken_on::VARCHAR) AS span  -- one day is of one season
    FROM pair_entry WHERE regexp_matches(tag, '[0-9]')
),
shared AS MATERIALIZED (
    SELECT * FROM tagged WHERE span IS NOT NULL
    QUALIFY count(*) OVER (PARTITION BY tag, span) BETWEEN 2 AND $tag_most
)
SELECT a.entry_id AS first_id, b.entry_id AS second_id, 'same-tag' AS kind
FROM shared a JOIN shared b USING (tag, span)
WHERE a.entry_id < b.entry_id AND (a.species = b.species) IS NOT FALSE
