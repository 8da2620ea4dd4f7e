"""Shares of counts: how many of those above one cut are above a second one, too."""

import numpy as np
import numpy.typing as npt
from scipy.stats import beta

from warehouse.trends.arrays import Floats


def clopper_pearson(count: npt.ArrayLike, out_of: npt.ArrayLike, level: float = 0.95) -> tuple[Floats, Floats]:
    """Lower and upper limit of a share `count` / `out_of` (arrays of whole numbers), exact at `level`.

    (0, 1) where `out_of` is 0: nothing is known. Source: Clopper & Pearson 1934, Biometrika 26:404-413.
    """
    seen, whole = np.asarray(count, dtype=np.float64), np.asarray(out_of, dtype=np.float64)
    tail = (1 - level) / 2
    with np.errstate(invalid="ignore"):  # a shape of 0 is no beta distribution; the ends are known
        lower = np.where(seen > 0, beta.ppf(tail, seen, whole - seen + 1), 0.0)
        upper = np.where(seen < whole, beta.ppf(1 - tail, seen + 1, whole - seen), 1.0)
    return lower, upper
