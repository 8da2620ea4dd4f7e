-- grain: one measurer, under the newest name
SELECT measurer_no AS measurer, max_by(name, certified_from) AS name FROM measurer GROUP BY measurer_no ORDER BY measurer_no
