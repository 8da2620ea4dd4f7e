-- grain: one revision that rests on a row of one file; `corrections`: how many corrections of the row it holds
-- The number of an entry is kept with the entry; a revision has one of its own where a person corrected the row or it came again.
SELECT v.revision_id, v.row_id, v.revision_no,
       row_number() OVER (PARTITION BY v.row_id ORDER BY v.revision_no) - 1 AS corrections,
       CASE WHEN corrections = 0 THEN e.entry_no ELSE v.entry_no END AS entry_no,
       corrections > 0 OR v.revision_no = 1 AS tells_number,
       v.category, v.unit, v.hunter, v.tag_no, v.area_written, v.taken_on, v.weapon, v.measured_on, v.antler_state,
       v.age_half_years,
       v.points_r, v.points_l, v.measure_key,
       v.spread_credit, v.right_total, v.left_total, v.diff_total, v.abnormal_total, v.deductions, v.gross, v.net,
       v.stated_spread_credit, v.stated_right_total, v.stated_left_total, v.stated_diff_total, v.stated_abnormal_total,
       v.stated_deductions, v.stated_gross, v.stated_net
FROM received_row r
JOIN entry_revision v ON v.row_id = r.row_id
LEFT JOIN entry e ON e.entry_id = v.entry_id
WHERE r.file_id = $file
ORDER BY corrections, v.row_id
