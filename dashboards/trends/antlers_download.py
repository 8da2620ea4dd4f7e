"""The antlers' figures as files, with what was asked for and what every column means."""

from dashboards.trends.antlers_frames import AntlersFrames
from dashboards.trends.antlers_words import aged, cut_text
from dashboards.trends.settings_rows import Row, asked_rows, day_rows, length_rows
from dashboards.trends.zip_of_tables import settings_table, zip_of
from warehouse.book.trend_figures.antlers import ONE_IN, Antlers
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.trends.code_book_antlers import CODE_BOOK_ANTLERS

NAME = "antlers_figures.zip"


def figures_zip(antlers: Antlers, frames: AntlersFrames, settings: TrendSettings) -> bytes:
    """A ZIP of the files of `CODE_BOOK_ANTLERS` and code_book.csv."""
    tables = {
        "medians.csv": frames.medians, "weapons.csv": frames.weapons, "ages.csv": frames.ages,
        "quantiles.csv": frames.quantiles,
        "quantile_lines.csv": frames.lines, "tail.csv": frames.tail,
        "settings.csv": settings_table(_settings(antlers, settings)),
    }  # fmt: skip
    return zip_of(tables, CODE_BOOK_ANTLERS)


def _settings(antlers: Antlers, settings: TrendSettings) -> list[Row]:
    counted, level = antlers.counted, antlers.tail.one_in_thousand
    return [
        *asked_rows(settings, antlers.place),
        *day_rows(settings),
        *length_rows(counted),
        ("cut", cut_text(antlers), "inches: entries at or above it are counted"),
        ("kept", antlers.kept, "entries of the place at or above the cut"),
        ("aged", aged(antlers), "of them with a recorded age"),
        ("effort", antlers.effort.kind or "none", "what one in so many is of: harvest (antlered deer), licences (sold)"),
        ("above_per_effort", antlers.tail.above, "entries of complete seasons at or above the cut for each unit of effort"),
        ("one_in", ONE_IN, "units of effort of which one head exceeds the level"),
        ("level", level.level if level else None, "inches: that level; empty: cannot be told"),
        ("level_lower", level.lower if level else None, "inches: its lower limit, 95 %"),
        ("level_upper", level.upper if level else None, "inches: its upper limit, 95 %"),
    ]  # fmt: skip
