-- grain: one open finding of one entry's current state, worst first
SELECT code, severity, cells, stated, expected, message
FROM open_finding
WHERE entry_id = $entry_id
ORDER BY CASE severity WHEN 'error' THEN 1 WHEN 'question' THEN 2 ELSE 3 END,
         coalesce(list_position(['spread_credit', 'abnormal_total', 'right_total', 'left_total', 'diff_total',
                                 'deductions', 'gross', 'net'], code), 0), code, message
