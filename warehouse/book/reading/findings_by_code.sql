-- grain: one finding code and severity, over the open findings
SELECT code, severity, count(*) AS findings, count(DISTINCT entry_id) AS sheets
FROM open_finding
GROUP BY code, severity
ORDER BY findings DESC, code
