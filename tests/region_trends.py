"""From a simulated region to what the book says of its districts, by the real loader; and the truth beside it."""

from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np
import numpy.typing as npt
import polars as pl

from loaders.load import Request, load_files
from loaders.reference_files import files_in, read_all
from tests.simulated_region import (
    COUNTIES,
    DISTRICTS,
    FIRST_YEAR,
    Floats,
    Region,
    expected_rates,
    harvest,
    sheets,
    write_reference,
)
from warehouse.book import database, reference
from warehouse.book.reference import Told
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import Trend, read_trend

DAY = date(2026, 11, 26)


@dataclass(frozen=True)
class Recovered:
    """`found`: the districts' trends as the book tells them, with `truth`: the true slope (log scale a year) over the
    seasons that were used.
    """

    trend: Trend
    found: pl.DataFrame


def book_of_region(region: Region, folder: Path) -> Path:
    """The region's book: its reference tables put in place, its sheets loaded from one file."""
    write_reference(region, folder / "reference")
    sheets(region, str(DAY)).write_csv(folder / "sheets.csv")
    book = folder / "region.duckdb"
    database.create(book)
    with database.writing(book) as connection:
        told = Told("tester", "the region", datetime.now(UTC).replace(tzinfo=None))
        reference.put(connection, read_all(files_in(folder / "reference")), told)
    load_files(Request([folder / "sheets.csv"], book, "tester", DAY, {}))
    return book


def recover(region: Region, folder: Path) -> Recovered:
    """What the book of the region says of its districts, beside the truth."""
    trend = read_trend(book_of_region(region, folder), TrendSettings(region.name, "whitetail-typical", DAY))
    used = trend.seasons.filter("used")["year"].to_numpy() - FIRST_YEAR
    truth = pl.DataFrame({"district": [f"District {d}" for d in range(DISTRICTS)], "truth": true_slopes(region, used)})
    return Recovered(trend, trend.districts.join(truth, on="district", validate="1:1"))


def true_slopes(region: Region, used: npt.NDArray[np.int64]) -> list[float]:
    """The slope that a log-linear trend has in the expected counts themselves, by district: no chance is left in it."""
    rates, effort = expected_rates(region)[:, used], harvest(region)[:, used]
    hunted = [effort[np.arange(COUNTIES) % DISTRICTS == district].sum(axis=0) for district in range(DISTRICTS)]
    return [_log_slope(rate * deer, deer, used - used.mean()) for rate, deer in zip(rates, hunted, strict=True)]


def _log_slope(count: Floats, effort: npt.NDArray[np.int64], time: Floats) -> float:
    """The slope of the Poisson likelihood's maximum, by Newton's steps."""
    design = np.column_stack([np.ones_like(time), time])
    line = np.array([np.log(count.sum() / effort.sum()), 0.0])
    for _ in range(30):
        fitted = effort * np.exp(design @ line)
        line = line + np.linalg.solve(design.T @ (design * fitted[:, None]), design.T @ (count - fitted))
    return float(line[1])
