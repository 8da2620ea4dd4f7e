"""Entries in the first inch above a minimum, in sentences: more or fewer than the tail above foretells."""

from collections.abc import Mapping
from typing import Any

from dashboards.number_words import p_text, share
from dashboards.trends.measurers_frames import MeasurersFrames, who
from dashboards.words import counted
from warehouse.book.trend_figures.measurers import Measurers
from warehouse.trends.pareto_tail import FEWEST

SIGN = (
    "Fewer in the first inch than expected can mean that owners do not send in heads that barely qualify. More of them "
    "can mean that heads are helped "
    "across, and also that somebody measures for people who bring in just such heads."
)
NOBODY = (
    "Nobody has more heads in the first inch than expected by more than chance, with the number of measurers looked "
    "at allowed for."
)


def sentences(measurers: Measurers, frames: MeasurersFrames) -> list[str]:
    """What is expected, over all measurers and of each who stands out, and how to read the sign."""
    above, rows = measurers.above, frames.first_inch
    if above.expected is None:
        return [
            f"How many entries to expect in the first inch cannot be said: it takes {FEWEST} entries more than an "
            "inch above one and the same minimum, "
            f"and {counted(above.entries, 'entry', 'entries')} with a measurer "
            f"{'qualifies' if above.entries == 1 else 'qualify'} at all."
        ]
    near, total = int(rows["first_inch"].sum()), int(rows["above"].sum())
    seen = (
        "fewer than"
        if near / total < above.expected
        else "more than"
        if near / total > above.expected
        else "as many as"
    )
    minimum, it = (
        ("season’s minimum", "it")
        if above.minimums == 1
        else (f"{above.minimums} minimums of their seasons and weapons", "theirs")
    )
    told = [row_sentence(row) for row in rows.filter("opens").iter_rows(named=True)] or [NOBODY]
    return [
        f"Expected in the first inch above the {minimum}: {share(above.expected)} of the entries, from the "
        f"tail of the {above.beyond:,} that are "
        f"more than an inch above {it}. Over all measurers: {near:,} of {total:,}, {share(near / total)}, {seen} "
        "expected.",
        *told, SIGN,
    ]  # fmt: skip


def row_sentence(row: Mapping[str, Any]) -> str:
    """One measurer's share in the first inch."""
    return (
        f"{who(row)}: {row['first_inch']:,} of {counted(row['above'], 'entry', 'entries')} in the first inch, "
        f"{share(row['share'])}, "
        f"{row['sign'] or 'as many as'}{' than' if row['sign'] else ''} the expected {share(row['expected'])} "
        f"(adjusted p {p_text(row['adjusted'])})."
    )
