-- grain: one held entry with an open finding that passes the filters, with the worst of those findings
-- An empty list of a filter means "any". Figures that only carry an earlier slip on come after the slip itself.
WITH passing AS (
    SELECT f.entry_id, f.code, f.severity, f.message,
           CASE f.severity WHEN 'error' THEN 1 WHEN 'question' THEN 2 ELSE 3 END AS weight,
           coalesce(list_position(['spread_credit', 'abnormal_total', 'right_total', 'left_total', 'diff_total',
                                   'deductions', 'gross', 'net'], f.code), 0) AS carried
    FROM open_finding f
    WHERE f.entry_id IS NOT NULL
      AND (len($severities::VARCHAR[]) = 0 OR list_contains($severities::VARCHAR[], f.severity))
      AND (len($codes::VARCHAR[]) = 0 OR list_contains($codes::VARCHAR[], f.code))
),
worst AS (
    SELECT entry_id,
           arg_min(struct_pack(severity, code, message), struct_pack(weight, carried, code, message)) AS first,
           min(weight) AS weight,
           count(*) AS findings
    FROM passing
    GROUP BY entry_id
)
SELECT c.entry_id, c.entry_no, coalesce(w.first.severity, 'error') AS severity, coalesce(w.first.code, 'column-needed') AS code,
       coalesce(w.first.message, 'The file says why: a finding about the whole file holds its sheets.') AS message,
       coalesce(w.findings, 0) AS findings, c.hunter, coalesce(c.area, c.area_written) AS area, c.season, c.measurer,
       count(*) OVER () AS matching
FROM current_entry c
LEFT JOIN worst w USING (entry_id)
WHERE c.status = 'held'
  AND (w.entry_id IS NOT NULL OR (len($severities::VARCHAR[]) = 0 AND len($codes::VARCHAR[]) = 0))
  AND (len($areas::VARCHAR[]) = 0 OR list_contains($areas::VARCHAR[], c.area_code))
  AND (len($measurers::VARCHAR[]) = 0 OR list_contains($measurers::VARCHAR[], c.measurer))
  AND (len($seasons::VARCHAR[]) = 0 OR list_contains($seasons::VARCHAR[], c.season))
ORDER BY coalesce(w.weight, 1), c.season DESC NULLS LAST, c.entry_id
LIMIT $most
