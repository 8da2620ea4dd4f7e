"""What every column of the antlers' figures means that is handed out: one row a column, with its unit."""

from warehouse.trends.code_book import ENTRIES, INCHES, SETTINGS, Column

_AMOUNT = "inches; points; years: as the measure"
_AS_SHEET = (
    "inches as a score sheet has them, to half an eighth (or sixteenth, as `unit` in the settings); points; years"
)
_MEASURE = Column(
    "text",
    "score: as the record book ranks; beam, h1: mean of both sides; spread: inside spread; points: of both sides; age",
)
_STATE = Column(
    "text",
    "of the season: complete; incomplete: under 95 % of what is to come; running: not ended; unknown: too little seen "
    "to tell",
)
_QUARTILES: dict[str, Column] = {
    "entries": Column(ENTRIES, "at or above the cut that have this measure"),
    "lower_quarter": Column(_AMOUNT, "a quarter of them are at or below it"),
    "middle": Column(_AMOUNT, "their median"),
    "upper_quarter": Column(_AMOUNT, "a quarter of them are at or above it"),
    "lower_text": Column(_AS_SHEET, "the lower quarter"),
    "middle_text": Column(_AS_SHEET, "the median"),
    "upper_text": Column(_AS_SHEET, "the upper quarter"),
}
_SEASON = Column("text", "the season, named by its two years")
_TAU = Column("0 to 1", "the quantile: so large a share of the season's entries is below it")
MEDIANS: dict[str, Column] = {
    "district": Column("text", "as drawn in the newest season; (all): the whole place; (not known): of areas that are not known or in no district"),
    "season": _SEASON, "year": Column("year", "the year the season begins in"), "state": _STATE, "measure": _MEASURE,
    **_QUARTILES,
}  # fmt: skip
"""Columns of a district's measure in a season."""
WEAPONS: dict[str, Column] = {
    "weapon_class": Column("text", "class of weapons; empty: not known"),
    "measure": _MEASURE,
    **_QUARTILES,
}
"""Columns of a weapon class's measure, over all seasons."""
AGES: dict[str, Column] = {
    "age_years": Column("years", "age of the buck, as recorded"),
    "measure": _MEASURE,
    **_QUARTILES,
}
"""Columns of an age's measure, over all seasons."""
QUANTILES: dict[str, Column] = {
    "season": _SEASON, "year": Column("year", "the year the season begins in"), "state": _STATE, "tau": _TAU,
    "entries": Column(ENTRIES, "of the season, at or above the cut"),
    "value": Column(INCHES, "the quantile of the season's scores"),
    "value_text": Column("inches, as a score sheet has them", "the same, to half a unit"),
    "fitted": Column(INCHES, "the line of that quantile; empty where it is refused, and outside of the complete seasons"),
}  # fmt: skip
"""Columns of a quantile of a season's scores."""
LINES: dict[str, Column] = {
    "tau": _TAU,
    "intercept": Column(INCHES, "of the line at year 0: value = intercept + slope * year"),
    "slope": Column("inches a year", "of the line (quantile regression over the complete seasons)"),
    "lower": Column("inches a year", "lower limit of the slope, 95 % (whole seasons drawn anew)"),
    "upper": Column("inches a year", "upper limit of the slope, 95 %"),
    "refused": Column("text", "why there is no line: few-seasons (under 8), few-beyond (under 5 entries beyond it to be expected); empty: there is one"),
}  # fmt: skip
"""Columns of the line through one quantile."""
TAIL: dict[str, Column] = {
    "cut": Column(INCHES, "the tail is fitted to entries of complete seasons from here up"),
    "cut_text": Column("inches, as a score sheet has them", "the same cut"),
    "entries": Column(ENTRIES, "of the complete seasons at or above it"),
    "mean_excess": Column(INCHES, "by how much these are above it on average"),
    "scale": Column(INCHES, "of the generalised Pareto distribution of the excess; empty: under 30 entries"),
    "shape": Column("number", "of that distribution: 0 exponential, below 0 bounded, above 0 heavy"),
    "modified_scale": Column(INCHES, "scale - shape * cut: the same at every cut from which such a tail holds"),
}  # fmt: skip
"""Columns of the tail, by rising cuts."""
CODE_BOOK_ANTLERS: dict[str, dict[str, Column]] = {
    "medians.csv": MEDIANS, "weapons.csv": WEAPONS, "ages.csv": AGES, "quantiles.csv": QUANTILES,
    "quantile_lines.csv": LINES,
    "tail.csv": TAIL, "settings.csv": SETTINGS,
}  # fmt: skip
"""File -> its columns, in their order."""
