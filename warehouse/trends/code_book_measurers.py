"""What every column of the measurers' figures means that is handed out: one row a column, with its unit."""

from warehouse.trends.code_book import ENTRIES, SETTINGS, SHARE, Column

_EIGHTHS = "eighths of an inch"
_MEASURER = Column(
    "text", "the measurer's number, as in the table of measurers; the name as written where there is none"
)
_NAME = Column("text", "the measurer's newest name; empty: not in the table of measurers")
_SESSION = Column("text", "the session of the panel")
_LINE = Column("text", "net, gross or a measure of the sheet")
_KIND = Column("text", "beams; circumferences; points; spreads")
_P = Column("0 to 1", "chance of a figure so far off if nothing but chance were at work")
_ADJUSTED = Column("0 to 1", "p with the number of tests of that kind allowed for (Benjamini and Hochberg)")
_OPENS = Column(
    "true or false",
    "whether the figure is a reason to measure again, by others (adjusted p at or under 0.05); it accuses nobody",
)
BIASES: dict[str, Column] = {
    "session": _SESSION, "line": _LINE, "measurer": _MEASURER, "name": _NAME,
    "heads": Column("heads", "that this and another measurer measured"),
    "bias": Column(_EIGHTHS, "mean of the measurer's lengths less the panel's own mean of each head"),
    "lower": Column(_EIGHTHS, "lower limit of the bias, 95 % (t)"),
    "upper": Column(_EIGHTHS, "upper limit of the bias, 95 %"),
    "from_middle": Column(_EIGHTHS, "bias less the median bias of the session's measurers, by which it is told who stands apart"),
    "p": _P, "adjusted": _ADJUSTED, "opens": _OPENS,
}  # fmt: skip
"""Columns of a measurer's bias on one line of one session."""
PANELS: dict[str, Column] = {
    "session": _SESSION, "line": _LINE,
    "heads": Column("heads", "measured by all measurers of the session; empty: not two heads were"),
    "measurers": Column("measurers", "of the session"),
    "left_out": Column("heads", "that some measurer did not measure"),
    "few_heads": Column("true or false", "whether there are under 10 heads, so that little can be said"),
    "technical_error": Column(_EIGHTHS, "technical error of measurement: scatter of a measurer about the head and his own bias"),
    "within_error": Column(_EIGHTHS, "the same, the biases among the scatter"),
    "icc_2_1": Column("number", "intraclass correlation (2,1), absolute agreement; falls where the heads are much alike"),
    "icc_lower": Column("number", "its lower limit, 95 %"),
    "icc_upper": Column("number", "its upper limit, 95 %"),
}  # fmt: skip
"""Columns of one line of one session."""
AGAINST_PANEL: dict[str, Column] = {
    "entry_id": Column("number", "the entry"), "entry_no": Column("text", "its number; empty: it has none"), "season": Column("text", "the season, named by its two years"),
    "measurer": _MEASURER, "name": _NAME,
    "sheet_net": Column("inches, as a score sheet has them", "net as recomputed from the measures of the sheet"),
    "panel_net": Column("inches, as a score sheet has them", "net as the panel measured it"),
    "sheet_gross": Column("inches, as a score sheet has them", "gross as recomputed from the measures of the sheet"),
    "panel_gross": Column("inches, as a score sheet has them", "gross as the panel measured it"),
    "difference": Column(_EIGHTHS, "net of the sheet less that of the panel"),
}  # fmt: skip
"""Columns of an entry that a panel measured."""
DIGITS: dict[str, Column] = {
    "measurer": _MEASURER, "name": _NAME, "line": _KIND,
    "measurements": Column("measures", "of accepted entries"),
    "move": Column(SHARE, "of them would have to end on another eighth for the eighths to be as expected"),
    "statistic": Column("number", "Pearson's X2 of the measurer's eighths against an eighth each; of circumferences, against the middle one of the others"),
    "p": _P, "adjusted": _ADJUSTED,
    "even_share": Column(SHARE, "of even eighths"),
    "even_p": Column("0 to 1", "chance of such a share if even and odd were alike (exact binomial)"),
    "even_adjusted": Column("0 to 1", "that with the number of measurers allowed for"),
    "reads_quarters": Column("true or false", "whether even eighths are more by more than chance, as where quarters are read"),
    "opens": _OPENS,
    "refused": Column("text", "why nothing is told: few-measurements (under 80), few-others (fewer than three others have 80); empty: it is told"),
}  # fmt: skip
"""Columns of a measurer's last eighths on one kind of line."""
EIGHTHS: dict[str, Column] = {
    "measurer": _MEASURER, "name": _NAME, "line": _KIND,
    "eighth": Column("eighths of an inch", "the fraction that a measure ends on, 0 to 7"),
    "count": Column("measures", "that end so"),
    "share": Column(SHARE, "of the measurer's measures on such lines"),
    "expected": Column(SHARE, "an eighth; of circumferences, the middle one of the others' shares"),
}  # fmt: skip
"""Columns of one last eighth."""
FIRST_INCH: dict[str, Column] = {
    "measurer": _MEASURER, "name": _NAME,
    "first_inch": Column(ENTRIES, "less than an inch above the minimum of their season, weapon and antlers"),
    "above": Column(ENTRIES, "at or above that minimum, those among them"),
    "share": Column(SHARE, "in the first inch"),
    "expected": Column(SHARE, "in the first inch if the tail above it went on downwards"),
    "sign": Column("text", "more or fewer than expected"),
    "p": _P, "adjusted": _ADJUSTED, "opens": _OPENS,
}  # fmt: skip
"""Columns of a measurer's entries just above a minimum."""
HIGHER_MINIMUMS: dict[str, Column] = {
    "book": Column("text", "another record book, ranked by the same score"),
    "minimum": Column("inches, as a score sheet has them", "a minimum of it above the one that entries of this record book had to reach"),
    "minimum_units": Column("parts of an inch (`unit` of the category)", "the same minimum"),
    "below": Column(ENTRIES, "of this record book in the half inch under it"),
    "above": Column(ENTRIES, "of this record book in the half inch from it up"),
    "share": Column(SHARE, "of both that are from it up"),
    "lower": Column(SHARE, "lower limit of the share, 95 % (Clopper and Pearson)"),
    "upper": Column(SHARE, "upper limit of the share, 95 %"),
    "expected": Column(SHARE, "that share about the other whole inches up to 8 inches away, together"),
    "sign": Column("text", "more or fewer from it up than expected; empty: as many"),
    "p": Column("0 to 1", "chance of a share so far off if nothing but chance were at work (exact binomial); of this minimum by itself"),
    "refused": Column("text", "why nothing is told: few-entries (under 30 in both half inches, or none about other whole inches); empty: it is told"),
}  # fmt: skip
"""Columns of a minimum of a higher record book."""
CODE_BOOK_MEASURERS: dict[str, dict[str, Column]] = {
    "panels.csv": PANELS, "biases.csv": BIASES, "against_panel.csv": AGAINST_PANEL, "digits.csv": DIGITS,
    "eighths.csv": EIGHTHS,
    "first_inch.csv": FIRST_INCH, "higher_minimums.csv": HIGHER_MINIMUMS, "settings.csv": SETTINGS,
}  # fmt: skip
"""File -> its columns, in their order."""
