"""A step at the minimum of a higher book, told from the heaping on whole inches."""

import numpy as np
import numpy.typing as npt
import polars as pl
import pytest

from warehouse.trends.higher_minimum import HigherMinimum, higher_minimums


def near(off: npt.NDArray[np.int64], gap: int = 80, book: str = "High Book") -> pl.DataFrame:
    """Counted distances (eighths) from a minimum of 1080."""
    values, entries = np.unique(off[np.abs(off) <= 68], return_counts=True)
    return pl.DataFrame({"book": book, "minimum_units": 1080, "off": values, "gap": gap, "entries": entries})


def herd(seed: int, heaping: float = 0.0, lifted: float = 0.0) -> npt.NDArray[np.int64]:
    """20,000 scores thinning out upwards (mean excess 8 inches), some rounded to the whole inch, some of those just under the
    minimum lifted onto it.
    """
    draw = np.random.default_rng(seed)
    off = np.floor(draw.exponential(64, 20_000)).astype(np.int64) - 80
    off = np.where(draw.random(off.size) < heaping, np.round(off / 8).astype(np.int64) * 8, off)
    return np.where((off < 0) & (off >= -4) & (draw.random(off.size) < lifted), 0, off)


def only(frame: pl.DataFrame) -> HigherMinimum:
    (found,) = higher_minimums(frame, 8)
    return found


@pytest.mark.parametrize("heaping", [0.0, 0.3])
def test_heads_that_are_lifted_over_the_minimum_are_seen(heaping: float) -> None:
    step = only(near(herd(1, heaping, lifted=0.5))).step
    assert step is not None
    assert (step.sign, step.p < 1e-6) == ("more", True)


def test_heaping_on_whole_inches_alone_is_no_step() -> None:
    steps = [only(near(herd(seed, heaping=0.3))).step for seed in range(40)]
    assert sum(step is not None and step.p < 0.05 for step in steps) <= 5
    assert all(step is not None and step.expected > 0.6 for step in steps)  # a half would call every one of them a step


def test_few_entries_about_it_tell_nothing() -> None:
    assert only(near(herd(1)[:300])).step is None


def test_whole_inches_under_the_lower_books_own_minimum_are_not_looked_at() -> None:
    """The lower book begins an inch and a half under the higher minimum: of the whole inches below only one has a full window."""
    off = herd(1)
    near_its_own = near(off[off >= -12], gap=12)
    step = only(near_its_own).step
    assert step is not None
    assert step.p > 0.05


def test_where_the_lower_books_own_minimum_cuts_into_the_window_nothing_is_told() -> None:
    off = herd(1)
    assert only(near(off[off >= -2], gap=2)).step is None


def test_every_minimum_of_every_book_is_told_by_itself() -> None:
    two = pl.concat([near(herd(1)), near(herd(2), book="Another Book")])
    assert [(found.book, found.minimum_units) for found in higher_minimums(two, 8)] == [
        ("Another Book", 1080),
        ("High Book", 1080),
    ]


def test_no_higher_minimum_no_step() -> None:
    assert higher_minimums(near(np.array([], dtype=np.int64)), 8) == ()
