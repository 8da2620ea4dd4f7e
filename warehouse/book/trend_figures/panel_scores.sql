-- grain: one entry of $category that a panel has measured: its net as the sheet has it and as the panel, in units, and who measured it first
SELECT r.entry_id, coalesce(r.entry_no, e.entry_no) AS entry_no, r.measurer, r.season, r.net AS sheet_net, p.net AS panel_net, r.gross AS sheet_gross, p.gross AS panel_gross
FROM current_revision r
JOIN entry e ON e.entry_id = r.entry_id
JOIN panel_score p ON p.entry_id = r.entry_id AND p.category = r.category
WHERE r.category = $category AND r.net IS NOT NULL AND p.net IS NOT NULL
  AND ($first_season::VARCHAR IS NULL OR r.season >= $first_season) AND ($last_season::VARCHAR IS NULL OR r.season <= $last_season)
ORDER BY r.entry_id
