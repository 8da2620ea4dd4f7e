"""What every column of the trends means that is handed out: one row a column, with its unit."""

from dataclasses import dataclass

from warehouse.trends.places import LEVEL_SEASONS

RATE_UNIT = "entries per so many units of effort (`per` in the settings); entries a season where effort is none"
PER_YEAR = "per cent a year"
ENTRIES = "entries"
SHARE = "0 to 1"
INCHES = "inches"


@dataclass(frozen=True)
class Column:
    """What a column holds: its unit ("text" for words and codes) and what it means."""

    unit: str
    meaning: str


SEASONS: dict[str, Column] = {
    "season": Column("text", "the season, named by its two years"),
    "year": Column("year", "the year the season begins in"),
    "state": Column("text", "complete; incomplete: under 95 % of what is to come; running: not ended; unknown: too little seen to tell; "
                            "missing: the book holds nothing of it; not-covered: the record book covered nothing of the place; no-rate: complete, but its "
                            "areas were not covered or their effort is not known as in the seasons of the rate"),
    "used": Column("true or false", "whether the trend of the rate rests on it"),
    "whole": Column("true or false", "whether it is complete, so that the trends of the share and of the median rest on it"),
    "entries": Column(ENTRIES, "at or above the cut, in the areas that were covered, and their effort known, in every season used; what the rate is of"),
    "all_entries": Column(ENTRIES, "at or above the cut, in all areas of the place"),
    "above_second": Column(ENTRIES, "at or above the second cut, in all areas of the place"),
    "areas": Column("areas", "that the rate is of"),
    "ground": Column("areas", "that the record book covered"),
    "effort": Column("units of effort", "of those areas together; 1 where entries are only counted"),
    "rate": Column(RATE_UNIT, "entries over effort"),
    "rate_lower": Column(RATE_UNIT, "lower limit of the rate, 95 % (Garwood)"),
    "rate_upper": Column(RATE_UNIT, "upper limit of the rate, 95 % (Garwood)"),
    "fitted": Column(RATE_UNIT, "the fitted rate (quasi-Poisson); also of seasons that it does not rest on"),
    "fitted_lower": Column(RATE_UNIT, "lower limit of the fitted rate, 95 %"),
    "fitted_upper": Column(RATE_UNIT, "upper limit of the fitted rate, 95 %"),
    "share": Column(SHARE, "of all entries, at or above the second cut"),
    "share_lower": Column(SHARE, "lower limit of the share, 95 % (Clopper and Pearson)"),
    "share_upper": Column(SHARE, "upper limit of the share, 95 % (Clopper and Pearson)"),
    "fitted_share": Column(SHARE, "the fitted share (quasi-binomial); also of seasons that it does not rest on"),
    "fitted_share_lower": Column(SHARE, "lower limit of the fitted share, 95 %"),
    "fitted_share_upper": Column(SHARE, "upper limit of the fitted share, 95 %"),
    "median_excess": Column(INCHES, "by how much the median entry is above the cut"),
    "median_text": Column("inches, as a score sheet has them", "the median entry"),
    "fitted_excess": Column(INCHES, "the line of Theil and Sen through the medians' excess; also of seasons that it does not rest on"),
    "completeness": Column(SHARE, "how much of the season's entries in the end are known, as earlier seasons filled up"),
    "nowcast": Column(ENTRIES, "what an incomplete season will come to, all areas together"),
    "nowcast_lower": Column(ENTRIES, "lower limit of that, 95 %"),
    "nowcast_upper": Column(ENTRIES, "upper limit of that, 95 %"),
    "nowcast_rate": Column(RATE_UNIT, "what the rate will come to"),
    "nowcast_lower_rate": Column(RATE_UNIT, "its lower limit, 95 %"),
    "nowcast_upper_rate": Column(RATE_UNIT, "its upper limit, 95 %"),
    "highest": Column("parts of an inch (`unit` in the settings)", "the season's own highest minimum in force"),
    "highest_text": Column("inches, as a score sheet has them", "the season's own highest minimum in force"),
}  # fmt: skip
"""Columns of a season."""

_TREND: dict[str, Column] = {
    "seasons": Column("seasons", "that the trend rests on"),
    "entries": Column(ENTRIES, "at or above the cut in those seasons"),
    "slope": Column("log rate a year", "the trend of the rate"),
    "se": Column("log rate a year", "its standard error, scatter beyond chance allowed for"),
    "lower": Column("log rate a year", "its lower limit, 95 %"),
    "upper": Column("log rate a year", "its upper limit, 95 %"),
    "percent": Column(PER_YEAR, "the trend of the rate: 100*(exp(slope) - 1)"),
    "percent_lower": Column(PER_YEAR, "its lower limit, 95 %"),
    "percent_upper": Column(PER_YEAR, "its upper limit, 95 %"),
    "p": Column("0 to 1", "chance of a slope so far from none if there were none (Student's t)"),
    "p_adjusted": Column("0 to 1", "p with the number of places allowed for (Benjamini and Hochberg)"),
    "phi": Column("ratio", "scatter of the counts about the fit, over what chance alone gives"),
    "refused": Column("text", "why there is no trend: few-seasons (under 8), no-entries, no-effort; empty: there is one"),
    "share_slope": Column("log odds a year", "the trend of the share at or above the second cut"),
    "share_lower": Column("log odds a year", "its lower limit, 95 %"),
    "share_upper": Column("log odds a year", "its upper limit, 95 %"),
    "share_p": Column("0 to 1", "chance of such a slope of the share if there were none"),
    "share_p_adjusted": Column("0 to 1", "share_p with the number of places allowed for (Benjamini and Hochberg)"),
    "share_refused": Column("text", "why the share has no trend; empty: it has one"),
    "verdict": Column("text", "what the rate and the share say together, by both adjusted p"),
}  # fmt: skip
_LEVEL: dict[str, Column] = {
    "level_seasons": Column("seasons", f"of the level: the newest {LEVEL_SEASONS} that the trends rest on, as far as effort is known"),
    "level_entries": Column(ENTRIES, "in those seasons"),
    "level_effort": Column("units of effort", "in those seasons"),
    "level": Column(RATE_UNIT, "entries over effort in those seasons"),
    "level_lower": Column(RATE_UNIT, "its lower limit, 95 % (Garwood)"),
    "level_upper": Column(RATE_UNIT, "its upper limit, 95 % (Garwood)"),
    "smoothed": Column(RATE_UNIT, "the level drawn towards that of all places, the more the less is known of it (Marshall)"),
    "smoothed_gamma": Column(RATE_UNIT, "the level drawn in otherwise, as a check (gamma and Poisson, Clayton and Kaldor)"),
    "pooled": Column(RATE_UNIT, "the level of all places together"),
    "expected": Column(ENTRIES, "in the place if it had the level of all places together"),
    "lower_998": Column(ENTRIES, "lower limit of chance about the expected, 99.8 % (funnel)"),
    "lower_95": Column(ENTRIES, "lower limit of chance about the expected, 95 % (funnel)"),
    "upper_95": Column(ENTRIES, "upper limit of chance about the expected, 95 % (funnel)"),
    "upper_998": Column(ENTRIES, "upper limit of chance about the expected, 99.8 % (funnel)"),
    "lower_998_rate": Column(RATE_UNIT, "lower limit of 99.8 % over effort"),
    "lower_95_rate": Column(RATE_UNIT, "lower limit of 95 % over effort"),
    "upper_95_rate": Column(RATE_UNIT, "upper limit of 95 % over effort"),
    "upper_998_rate": Column(RATE_UNIT, "upper limit of 99.8 % over effort"),
    "funnel_phi": Column("ratio", "scatter of the places about the level of all, over what chance gives; above 1 the limits are widened by its root"),
    "flag": Column("text", "above or below the limits of 99.8 %; empty: within"),
}  # fmt: skip
_DISTRICT = Column("text", "the district, as drawn in the newest season")
DISTRICTS: dict[str, Column] = {"district": _DISTRICT, **_TREND, **_LEVEL}
"""Columns of a district."""
AREAS: dict[str, Column] = {
    "district": _DISTRICT, "area": Column("text", "county or parish"), "area_code": Column("text", "its present code"),
    **_TREND, "shrunk_percent": Column(PER_YEAR, "the trend drawn towards that of all areas, the more the less sure it is"), **_LEVEL,
}  # fmt: skip
"""Columns of an area."""
FIGURES: dict[str, Column] = {
    "figure": Column("text", "what is told of the whole place"),
    "unit": Column("text", "the unit of the next three"),
    "estimate": Column("as `unit` says", "the figure; empty: only its p is told"),
    "lower": Column("as `unit` says", "its lower limit, 95 %; empty: none"),
    "upper": Column("as `unit` says", "its upper limit, 95 %; empty: none"),
    "p": Column("0 to 1", "chance of a figure so far from none if there were none; of I-squared: of areas so unlike if they were alike"),
}  # fmt: skip
"""Columns of the figures of the whole place."""
SETTINGS: dict[str, Column] = {
    "setting": Column("text", "what was asked for, or chosen by the program"),
    "value": Column("text", "its value; empty: any, or none"),
    "meaning": Column("text", "what it means"),
}
"""Columns of the settings that the figures rest on."""
CODE_BOOK: dict[str, dict[str, Column]] = {
    "trend.csv": FIGURES, "seasons.csv": SEASONS, "districts.csv": DISTRICTS, "areas.csv": AREAS, "settings.csv": SETTINGS,
}  # fmt: skip
"""File -> its columns, in their order."""
