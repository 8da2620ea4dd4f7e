"""What the antlers above the cut tell, in sentences for a biologist: one place for the page, the command and its lines.

Whatever changes is a trend among entries, never of the herd.
"""

from collections.abc import Iterator, Mapping

import polars as pl

from dashboards.trends import quantile_words, tail_words
from dashboards.trends.antlers_frames import AntlersFrames, whole
from dashboards.trends.measures import MEASURES
from dashboards.trends.trend_minimum_words import unplaced
from dashboards.words import counted, weapon_words
from warehouse.book.trend_figures.antlers import Antlers
from warehouse.eighths import text_of
from warehouse.plain_text import shown

NEVER_OF_THE_HERD = (
    "What changes here is a trend among entries, never of the herd: only heads that somebody sent in, from {cut} on."
)
RIVAL = (
    "Age structure is a rival explanation for any trend: larger antlers may be those of older bucks, not of better "
    "ones."
)
OTHER_HUNTERS = (
    "Who hunts with one weapon hunts in other places and on other days: a difference between weapons is one among "
    "entries, of other "
    "hunters as well as of other deer."
)
AGED = "Where only some bucks are aged, those need not be like the others; an age with few entries tells little."


def cut_text(antlers: Antlers) -> str:
    """The length at or above which entries count."""
    return text_of(antlers.counted.cut, antlers.counted.unit)


def aged(antlers: Antlers) -> int:
    """Of how many of the entries kept the age is recorded."""
    return int(antlers.by_season.filter(pl.col("district").is_null(), pl.col("measure") == "age")["entries"].sum())


def sections(antlers: Antlers, frames: AntlersFrames) -> dict[str, list[str]]:
    """Every sentence under its heading, in the order of the page."""
    if not antlers.kept:
        return {"Antlers": [nothing(antlers)]}
    return {
        "Antlers": [*kept(antlers), NEVER_OF_THE_HERD.format(cut=cut_text(antlers)), *age_recorded(antlers)],
        "Season by season": list(_readings("season", frames.medians)),
        "By weapon": [OTHER_HUNTERS, *_readings("weapon", frames.weapons)],
        "By age": [AGED, *_readings("age", frames.ages)] if frames.ages.height else [],
        "Whether the best get better": quantile_words.sentences(antlers),
        "How large one head in a thousand is": tail_words.sentences(antlers),
    }


def nothing(antlers: Antlers) -> str:
    """Why no entry is counted."""
    if antlers.counted.minimum.units is None:
        return "The record book has no minimum for such heads in these seasons, so there is nothing to count from."
    return f"No entry of {shown(antlers.place)} is at or above {cut_text(antlers)}."


def kept(antlers: Antlers) -> list[str]:
    """The cut, how many entries stand behind everything, and which seasons are not whole yet."""
    cut, counted_out = cut_text(antlers), antlers.counted
    what = (
        "the highest minimum in force in these seasons"
        if counted_out.cut == counted_out.minimum.units
        else "as asked for"
    )
    score = counted_out.minimum.by_season["score"][0] if counted_out.minimum.by_season.height else "net"
    told = [
        f"{counted(antlers.kept, 'entry', 'entries')} of {shown(antlers.place)} at or above {score} {cut} ({what})."
    ]
    told += _unplaced(antlers)
    open_seasons = antlers.filling.seasons.filter(pl.col("state") != "complete")["season"].to_list()
    if open_seasons:
        told.append(f"Not complete yet, drawn hollow and in no line and no tail: {', '.join(open_seasons)}.")
    return told


def _unplaced(antlers: Antlers) -> list[str]:
    cells = antlers.counted.cells
    return unplaced(int(cells.join(antlers.counted.areas, on="area_code", how="anti")["entries"].sum()))


def age_recorded(antlers: Antlers) -> list[str]:
    """That ages may explain what is seen, and how far they are known."""
    known = aged(antlers)
    if not known:
        return [f"{RIVAL} The age is recorded for none of the entries, so nothing here can tell the two apart."]
    return [
        f"{RIVAL} The age is recorded for {known:,} of {antlers.kept:,} entries ({100 * known / antlers.kept:.0f} %)."
    ]


def reading(kind: str, frame: pl.DataFrame, measure: str) -> str:
    """What one chart shows, in a sentence; `kind`: "season", "weapon" or "age", with its frame of `AntlersFrames`."""
    name = MEASURES[measure].name
    rows = _rows(kind, frame, measure)
    if rows.is_empty():
        return (
            f"{name}: recorded for no entry of a complete season."
            if kind == "season"
            else f"{name}: recorded for no entry."
        )
    ordered = rows.sort("middle", maintain_order=True)
    entries, low, high = int(rows["entries"].sum()), ordered.row(0, named=True), ordered.row(-1, named=True)
    of = f"{name}, {counted(entries, 'entry', 'entries')}{' of complete seasons' if kind == 'season' else ''}"
    if low["middle_text"] == high["middle_text"]:
        return (
            f"{of}: the median is {low['middle_text']} {'throughout' if rows.height > 1 else f'({_which(kind, low)})'}."
        )
    return (
        f"{of}: medians from {low['middle_text']} ({_which(kind, low)}) to {high['middle_text']} "
        f"({_which(kind, high)})."
    )


def _rows(kind: str, frame: pl.DataFrame, measure: str) -> pl.DataFrame:
    if kind == "season":
        return whole(frame, measure).filter(state="complete")
    return frame.filter(pl.col("measure") == measure)


def _which(kind: str, row: Mapping[str, object]) -> str:
    if kind == "season":
        return f"{row['season']}, n {row['entries']:,}"
    if kind == "weapon":
        return (
            f"{weapon_words(None if row['weapon_class'] is None else str(row['weapon_class']))}, n {row['entries']:,}"
        )
    return f"{row['age_years']:g} years, n {row['entries']:,}"


def _readings(kind: str, frame: pl.DataFrame) -> Iterator[str]:
    for measure in MEASURES:
        if not (kind == "age" and measure == "age"):
            yield reading(kind, frame, measure)
