-- grain: one finding of one entry's current state, worst first; a person may have accepted the entry although it is there
SELECT f.code, f.severity, f.cells, f.stated, f.expected, f.message
FROM finding f JOIN current_revision c USING (revision_id)
WHERE c.entry_id = $entry_id AND f.row_id IS NOT NULL
ORDER BY CASE severity WHEN 'error' THEN 1 WHEN 'question' THEN 2 ELSE 3 END,
         coalesce(list_position(['spread_credit', 'abnormal_total', 'right_total', 'left_total', 'diff_total',
                                 'deductions', 'gross', 'net'], code), 0), code, message
