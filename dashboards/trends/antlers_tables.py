"""The antlers' figures as tables of a page."""

import polars as pl

from dashboards.tables import Columns, right
from dashboards.trends.antlers_frames import ALL, UNKNOWN
from dashboards.trends.measures import MEASURES
from dashboards.trends.trend_season_words import STATES
from warehouse.plain_text import shown

_TAIL = {
    "mean_excess": "Mean excess, inches",
    "scale": "Scale, inches",
    "shape": "Shape",
    "modified_scale": "Modified scale",
}


def medians(frame: pl.DataFrame, place: str) -> tuple[pl.DataFrame, Columns]:
    """Medians and counts by district and season; the whole `place` first. Takes `AntlersFrames.medians`."""
    told = frame.with_columns(cell=pl.format("{} ({})", "middle_text", "entries"))
    alone = told.filter(pl.col("district") != ALL)["district"].n_unique() < 2
    if alone:
        told = told.filter(pl.col("district") == ALL)
    keys = ["district", "season", "state"]
    cells = (
        pl.col("cell").filter(pl.col("measure") == code).first().fill_null("-").alias(f"{measure.name} (n)")
        for code, measure in MEASURES.items()
    )
    wide = told.group_by(keys, maintain_order=True).agg(cells)
    table = wide.with_columns(
        pl.col("district").replace({ALL: shown(place) if alone else "All together", UNKNOWN: "Not known"}),
        pl.col("state").replace_strict(STATES),
    ).rename({"district": "District", "season": "Season", "state": "State"})
    return table, {name: right(name) for name in table.columns[3:]}


def tail(frame: pl.DataFrame) -> tuple[pl.DataFrame, Columns]:
    """The tail at rising cuts. Takes `AntlersFrames.tail`."""
    table = frame.select(
        pl.col("cut_text").alias("Cut, inches"),
        pl.col("entries").alias("Entries"),
        *(
            pl.col(name)
            .map_elements(lambda value: f"{value:.2f}", return_dtype=pl.String)
            .fill_null("-")
            .alias(heading)
            for name, heading in _TAIL.items()
        ),
    )
    return table, {name: right(name) for name in ("Cut, inches", *_TAIL.values())}
