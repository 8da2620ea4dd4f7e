"""How much hunting stands behind the heads: square miles, licences and antlered harvest of each area and season."""

from __future__ import annotations

import numpy as np
import polars as pl

from sample_data import region

SEED = 20_260_207
SQUARE_MILES = (310, 1_090)
LICENCES_A_SQUARE_MILE = (2.2, 6.5)
SUCCESS = (0.18, 0.34)  # antlered deer a licence


def effort() -> pl.DataFrame:
    """The effort as a table: area_code, season (text), square_miles, licences_sold, antlered_harvest (whole numbers).

    Each area has its own land, its own crowd and its own luck; seasons sway around a slow decline of licences.
    """
    draw = np.random.default_rng(SEED)
    areas, seasons = len(region.AREA_CODES), len(region.SEASONS)
    miles = draw.integers(*SQUARE_MILES, size=areas)
    crowd = draw.uniform(*LICENCES_A_SQUARE_MILE, size=areas)[:, None]
    decline = np.linspace(1.08, 0.92, seasons)[None, :]
    licences = np.rint(miles[:, None] * crowd * decline * draw.uniform(0.94, 1.06, size=(areas, seasons))).astype(int)
    luck = draw.uniform(*SUCCESS, size=areas)[:, None] * draw.uniform(0.85, 1.15, size=(1, seasons))
    harvest = np.rint(licences * luck * draw.uniform(0.93, 1.07, size=(areas, seasons))).astype(int)
    return pl.DataFrame(
        {
            "area_code": np.repeat(region.AREA_CODES, seasons).tolist(),
            "season": list(region.SEASONS) * areas,
            "square_miles": np.repeat(miles, seasons),
            "licences_sold": licences.ravel(),
            "antlered_harvest": harvest.ravel(),
        }
    )
