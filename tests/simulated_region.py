"""A whole region with a known truth, simulated: bucks, harvests, minimums that are raised, late measuring, sending-in.

Nothing here is the product's: sizes are normal, their mean drifts by district, and what a trend ought to find is worked
out from the normal distribution. The sheets are full ones, so that they go through the loader as any others do.
"""

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import numpy.typing as npt
import polars as pl
from scipy.stats import norm

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

FIRST_YEAR, SEASONS, COUNTIES, DISTRICTS = 2006, 20, 24, 5
MINIMUMS = ((125, 0, 7), (130, 7, 14), (135, 14, 20))  # inches, from season, before season
RAISED_TO = 135
SPREAD = 15.0  # standard deviation of bucks, inches
MEASURER = "M-001"


@dataclass(frozen=True)
class Region:
    """What is true of one simulated region. Drifts are inches a year, by district; sending-in is a chance, by season."""

    seed: int
    drift: tuple[float, ...] = (-0.5, -0.25, 0.0, 0.25, 0.5)
    mean: float = 112.0
    harvest: int = 110
    season_shock: float = 0.4
    county_effect: float = 1.5
    sending: tuple[float, ...] = (0.8,) * SEASONS
    late: float = 0.10  # of the heads that are measured only after a season or two
    name: str = field(default="Record of the Region")


def seasons() -> list[str]:
    """The labels, 2006-07 to 2025-26."""
    return [f"{year}-{(year + 1) % 100:02d}" for year in range(FIRST_YEAR, FIRST_YEAR + SEASONS)]


def area_codes() -> list[str]:
    """Codes of the counties; county i lies in district i % 5."""
    return [f"07{2 * i + 1:03d}" for i in range(COUNTIES)]


def write_reference(region: Region, folder: Path) -> None:
    """The reference tables as CSV files, effort among them."""
    folder.mkdir(parents=True, exist_ok=True)
    years = range(FIRST_YEAR, FIRST_YEAR + SEASONS)
    districts = [f"District {i % DISTRICTS}" for i in range(COUNTIES)]
    pl.DataFrame({"area_code": area_codes(), "name": [f"County {i:02d}" for i in range(COUNTIES)], "kind": "county", "state": "QM",
                  "district": districts, "region": "All"}).write_csv(folder / "areas.csv")  # fmt: skip
    pl.DataFrame(
        {
            "season": seasons(),
            "starts_on": [f"{year}-07-01" for year in years],
            "ends_on": [f"{year + 1}-06-30" for year in years],
        }
    ).write_csv(folder / "seasons.csv")
    pl.DataFrame(
        {"measurer_no": [MEASURER], "name": ["Una Reed"], "certified_from": ["2000-01-01"], "certified_to": [None]}
    ).write_csv(folder / "measurers.csv")
    last = [seasons()[until - 1] if until < SEASONS else None for _, _, until in MINIMUMS]
    pl.DataFrame({"book": region.name, "category": "whitetail-typical", "weapon_class": "any", "minimum": [f"{m} 0/8" for m, _, _ in MINIMUMS],
                  "first_season": [seasons()[first] for _, first, _ in MINIMUMS], "last_season": last}).write_csv(folder / "minimums.csv")  # fmt: skip
    harvests = harvest(region)
    pl.DataFrame({"area_code": np.repeat(area_codes(), SEASONS).tolist(), "season": seasons() * COUNTIES, "square_miles": 500,
                  "licences_sold": harvests.ravel() * 4, "antlered_harvest": harvests.ravel()}).write_csv(folder / "effort.csv")  # fmt: skip


def harvest(region: Region) -> Ints:
    """Antlered deer harvested, shape (county, season): known to the book, and different from season to season."""
    draw = np.random.default_rng([region.seed, 1])
    return draw.integers(region.harvest * 6 // 10, region.harvest * 14 // 10, size=(COUNTIES, SEASONS))


def expected_rates(region: Region, cut: float = RAISED_TO) -> Floats:
    """Entries at or above `cut` inches that are expected for each deer harvested, shape (district, season).

    Sizes are rounded to eighths, so that a head counts from a sixteenth below the cut on. The shocks of seasons and
    counties are chance, not truth: rates are at their mean, exp(mean + variance/2) of a small normal shift being 1 + it.
    """
    drift = np.array(region.drift)[:, None] * (np.arange(SEASONS) - 0.0)[None, :]
    wide = np.sqrt(SPREAD**2 + region.county_effect**2 + region.season_shock**2)
    return np.asarray(norm.sf((cut - 1 / 16 - region.mean - drift) / wide) * np.array(region.sending)[None, :])


def sheets(region: Region, known_until: str) -> pl.DataFrame:
    """Every sheet that was sent in and measured by `known_until` (year-month-day), as text in the canonical fields."""
    draw = np.random.default_rng([region.seed, 2])
    count = harvest(region)
    county, season = (index.repeat(count.ravel()) for index in np.divmod(np.arange(COUNTIES * SEASONS), SEASONS))
    shift = (
        draw.normal(0, region.county_effect, COUNTIES)[county]
        + draw.normal(0, region.season_shock, (DISTRICTS, SEASONS))[county % DISTRICTS, season]
    )
    mean = region.mean + np.array(region.drift)[county % DISTRICTS] * season + shift
    net = np.rint(draw.normal(mean, SPREAD) * 8).astype(np.int64)
    least = np.empty(SEASONS, dtype=np.int64)
    for inches, first, until in MINIMUMS:
        least[first:until] = inches * 8
    taken = (
        np.datetime64(f"{FIRST_YEAR}-11-01") + (season * 365.25).astype(np.int64) + draw.integers(0, 85, len(net))
    ).astype("datetime64[D]")
    measured = taken + 60 + _delay(region, len(net), draw)
    sent = (
        (draw.random(len(net)) < np.array(region.sending)[season])
        & (net >= least[season])
        & (measured <= np.datetime64(known_until))
    )
    return _sheets(net[sent], county[sent], taken[sent], measured[sent], draw)


def _delay(region: Region, heads: int, draw: np.random.Generator) -> npt.NDArray[np.timedelta64]:
    """Days from drying to measuring: mostly a few months, for some a year and more."""
    days = np.where(draw.random(heads) < region.late, 120 + draw.exponential(300, heads), draw.gamma(2.0, 40.0, heads))
    return days.astype(np.int64).astype("timedelta64[D]")


def _sheets(
    net: Ints,
    county: Ints,
    taken: npt.NDArray[np.datetime64],
    measured: npt.NDArray[np.datetime64],
    draw: np.random.Generator,
) -> pl.DataFrame:
    lines = lines_of(net, draw)
    texts = pl.Series([_text(eighths) for eighths in range(3200)])
    codes = np.array(area_codes())
    facts = {
        "entry_no": [f"S{i:06d}" for i in range(len(net))], "category": ["whitetail-typical"] * len(net),
        "hunter": [f"Hunter {i}" for i in draw.permutation(len(net))], "area": codes[county], "taken_on": np.datetime_as_string(taken, "D"),
        "weapon": ["rifle"] * len(net), "measured_on": np.datetime_as_string(measured, "D"), "measurer": [MEASURER] * len(net),
    }  # fmt: skip
    return pl.DataFrame({**facts, **{name: texts.gather(values) for name, values in lines.items()}})


def lines_of(net: Ints, draw: np.random.Generator) -> dict[str, Ints]:
    """A full sheet for each net score (eighths): both sides alike but for one second point, shorter on the left."""
    heads = len(net)
    apart = draw.integers(0, 8, heads)
    spread = draw.integers(15 * 8, 17 * 8, heads)
    spread += (net - spread) % 2
    side = (net - spread) // 2 + apart  # the longer side's total
    beam = np.minimum((side * draw.normal(0.37, 0.01, heads)).astype(np.int64), 28 * 8)
    rows = {"beam": beam}
    for row, share in (
        ("g1", 0.08),
        ("g3", 0.11),
        ("g4", 0.05),
        ("h1", 0.075),
        ("h2", 0.068),
        ("h3", 0.07),
        ("h4", 0.065),
    ):
        rows[row] = np.clip((side * draw.normal(share, share * 0.06, heads)).astype(np.int64), 9, 12 * 8)
    rows["g2"] = side - np.sum(list(rows.values()), axis=0)
    left = {**rows, "g2": rows["g2"] - apart}
    sides = {f"{row}_{letter}": values[row] for row in rows for letter, values in (("r", rows), ("l", left))}
    gross = spread + 2 * side - apart
    return {
        "inside_spread": spread,
        **sides,
        "abnormal_total": np.zeros(heads, dtype=np.int64),
        "deductions": apart,
        "gross": gross,
        "net": gross - apart,
    }


def _text(eighths: int) -> str:
    return f"{eighths // 8} {eighths % 8}/8" if eighths % 8 else str(eighths // 8)
