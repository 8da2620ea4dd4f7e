"""Births and sudden infant deaths of the 100 counties of North Carolina, 1974-78 and 1979-84.

Cressie & Read 1985, Biometrical J. 27:101-117, as the file sids2 of libpysal 4.14.1 has them (columns BIR74 SID74 BIR79
SID79).
"""

from pathlib import Path

import polars as pl

DATA = Path(__file__).with_name("data")


def counties() -> pl.DataFrame:
    """county, births_1974, sids_1974, births_1979, sids_1979."""
    return pl.read_csv(DATA / "nc_sids.csv")


def first_period() -> pl.DataFrame:
    """county, count, effort of 1974-78."""
    return counties().select("county", count="sids_1974", effort="births_1974")


def both_periods() -> pl.DataFrame:
    """county (as a number), count, effort, later (0 or 1): two rows a county."""
    numbered = counties().with_row_index("place")
    return pl.concat(
        numbered.select("place", count=f"sids_{year}", effort=f"births_{year}", later=pl.lit(later))
        for later, year in enumerate((1974, 1979))
    )
