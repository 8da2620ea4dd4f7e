"""What the rate and the share say together. Neither says it alone.

The rate of entries (per head harvested, say) moves with the deer and with the zeal of those who send heads in. The share
of entries that are above a second, higher cut does not move with a zeal that is the same for every size. Only where the
share moves as the rate does may the book speak of larger or smaller deer among its entries; a rate that moves alone may be
sending-in. Festa-Bianchet et al. 2015 (Wildl. Soc. Bull. 39:746-750) show by simulation how little entries alone tell.
"""

from typing import Literal

Direction = Literal["up", "down", "unclear", "unknown"]
Verdict = Literal[
    "both-up",
    "both-down",
    "rate-up-alone",
    "rate-down-alone",
    "share-up-alone",
    "share-down-alone",
    "opposed",
    "neither",
    "unknown",
]

CLEAR = 0.05  # of an adjusted p: of what is told so at most one in twenty is expected to be chance


def direction(lower: float | None, upper: float | None) -> Direction:
    """Which way a slope goes, told by its interval: "unclear" where it holds zero, "unknown" where there is none."""
    if lower is None or upper is None:
        return "unknown"
    if lower > 0:
        return "up"
    return "down" if upper < 0 else "unclear"


def adjusted_direction(slope: float | None, p: float | None) -> Direction:
    """Which way the slope of one of many places goes, told by its p with their number allowed for."""
    if slope is None or p is None:
        return "unknown"
    if p > CLEAR:
        return "unclear"
    return "up" if slope > 0 else "down"


def verdict(rate: Direction, share: Direction) -> Verdict:
    """What both say together. "unknown": there is no trend of the rate. A share that is not known backs nothing."""
    if rate == "unknown":
        return "unknown"
    if share == "unknown":
        share = "unclear"
    if rate == share:
        return "both-up" if rate == "up" else "both-down" if rate == "down" else "neither"
    if rate == "unclear":
        return "share-up-alone" if share == "up" else "share-down-alone"
    if share == "unclear":
        return "rate-up-alone" if rate == "up" else "rate-down-alone"
    return "opposed"
