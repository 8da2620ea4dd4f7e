-- grain: one line of one head as one measurer had it in one session: its length in inches
SELECT session, measured_on, head, measurer_no AS measurer, line, length_units::DOUBLE / unit AS inches
FROM panel_measure
ORDER BY session, line, head, measurer_no
