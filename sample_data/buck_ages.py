"""How old the bucks were: ages by the jaw, in years and a half, drawn beside the heads so that no head changes for them."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from sample_data import region
from sample_data.figures import Ints, work_out
from sample_data.herd import Herd

Texts = npt.NDArray[np.object_]

SEED = 20_261_107
FIRST_SEASON = "2016-17"  # before it no jaw was aged
AGED = 0.6  # share of the sheets
MIDDLE, GAIN, OWN = 4.0, 0.8, 0.9  # years: of a middling head, for each step of size, and a buck's own
YOUNGEST, OLDEST = 1, 7  # whole years; in the fall a half is added
WRITTEN = {"2019-20": "{}½", "2021-22": "{}.5 yrs"}  # the others write 4.5


def is_aged(season: str) -> bool:
    """Whether a season's file has a column for the age."""
    return season >= FIRST_SEASON


def ages(herd: Herd) -> Texts:
    """The age of each head as text, such as `4.5`, of shape (n,); blank where the jaw was not aged. Larger heads are older."""
    draw = np.random.default_rng(SEED)
    gross = work_out(herd.lines, herd.abnormal, herd.nontypical)["gross"]
    size = (gross - gross.mean()) / gross.std()
    n = len(gross)
    years: Ints = np.clip(np.floor(MIDDLE + GAIN * size + draw.normal(0, OWN, n)), YOUNGEST, OLDEST).astype(np.int64)
    written = np.array([WRITTEN.get(season, "{}.5") for season in region.SEASONS], dtype=object)[herd.season]
    texts = [way.format(age) for way, age in zip(written.tolist(), years.tolist(), strict=True)]
    return np.asarray(np.where(draw.random(n) < AGED, np.array(texts, dtype=object), ""), dtype=object)
