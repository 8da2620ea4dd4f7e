"""Daily rainfall over 20 mm in south-west England, 1914-1961: 570 of 17,531 days, 152 of them over 30 mm. Data `rain` of the
R package ismev 1.43.

Coles 2001, An Introduction to Statistical Modeling of Extreme Values, section 4.4.1.
"""

import numpy as np
import numpy.typing as npt

DAYS = 17_531
LIGHTER_TEXT = """
20.1x16 20.3x27 20.6x13 20.8x23 21.1x18 21.3x20 21.6x18 21.8x17 22.1x11 22.4x8 22.6x11 22.9x29 23.1x10 23.4x7 23.6x9 23.9x10
24.1x14 24.4x6 24.6x8 24.9x9 25.1x2 25.4x13 25.7x4 25.9x12 26.2x5 26.4x4 26.7x12 26.9x11 27.2x4 27.4x4 27.7x5 27.9x7 28.2x7
28.4x6 28.7x7 29x5 29.2x13 29.5x4 29.7x5 30x4
"""
RAIN_TEXT = """
30.2x3 30.5x14 30.7 31x3 31.2x3 31.7 31.8x11 32x3 32.3x2 32.5x3 32.8 33x7 33.3 33.5x6 33.8x2 34x3 34.3x5
34.8x2 35.1 35.3x5 35.6x6 36.1 36.3x2 36.6x2 36.8x2 37.1 37.3 37.6x2 37.8 38.1x5 38.4x2 39.1 39.4x4 39.9 40.1 40.6
40.9x2 41.9x2 42.4 42.7 42.9 43.2 43.4 44.2 44.5x2 45.2 45.7x3 47x3 47.5 47.8x2 48.5x2 48.8 51.3x2 51.6 53.3 54.9 55.4
55.9x2 59.2 59.4x2 67.3 72.4 76.7 83.3 85.3 86.6
"""


def _rain(written: str) -> npt.NDArray[np.float64]:
    pairs = [text.partition("x") for text in written.split()]
    return np.repeat([float(value) for value, _, _ in pairs], [int(times or 1) for _, _, times in pairs])


RAIN = _rain(RAIN_TEXT)  # over 30 mm
RAIN_OVER_20 = _rain(LIGHTER_TEXT + RAIN_TEXT)
