-- grain: one measurer, minimum of the entry's own season, weapon and antlers (units), and margin over it (units), over `counted`: how many entries
-- What a panel has scored is the panel's measuring, not the measurer's.
SELECT measurer, minimum_units, margin, count(*) AS entries
FROM counted
WHERE measurer IS NOT NULL AND entry_id NOT IN (SELECT entry_id FROM panel_score)
GROUP BY ALL
ORDER BY ALL
