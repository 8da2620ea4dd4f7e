"""A panel: twelve heads, each measured by eight measurers on one day, so that it shows how far measurers differ."""

from __future__ import annotations

import datetime as dt

import numpy as np
import polars as pl

from sample_data import herd, people
from sample_data.eighths_text import written
from sample_data.figures import Ints, work_out

SEED = 20_260_314
SESSION = "Two Rivers panel 2026"
MEASURED_ON = dt.date(2026, 3, 14)
HEADS = 12
MEASURERS = 8
LINES = ("net", "gross", "beam_r", "beam_l", "inside_spread", "h1_r", "h1_l")
# in eighths: a measurer's own scatter, and how much more or less of it each line takes
SCATTER = (0.35, 0.95)
OF_LINE = {"beam_r": 1.6, "beam_l": 1.6, "inside_spread": 1.2, "h1_r": 0.6, "h1_l": 0.6}
OF_THE_OTHER_LINES = 2.2  # all that the gross adds up beside those
OF_DEDUCTIONS = 1.5
READS_HIGH, HIGH = 2, 3  # the third measurer finds too few deductions: his net is 3/8 high
READS_QUARTERS = 5  # the sixth measurer reads quarters of an inch


def certified() -> list[str]:
    """The numbers of the measurers on the panel: the first eight who held a certificate on that day."""
    day = MEASURED_ON.isoformat()
    held = zip(people.MEASURER_NOS, people.CERTIFICATES, strict=True)
    return [number for number, (start, end) in held if start <= day <= (end or day)][:MEASURERS]


def _true(draw: np.random.Generator) -> dict[str, Ints]:
    """What the heads measure, in eighths, each line of shape (HEADS,): of typical heads whose spread counts in full."""
    grown = herd.grow(draw)
    narrow = grown.lines["inside_spread"] + 16 < np.maximum(grown.lines["beam_r"], grown.lines["beam_l"])
    heads = grown.only(draw.choice(np.flatnonzero(narrow & ~grown.nontypical), HEADS, replace=False))
    return heads.lines | work_out(heads.lines, heads.abnormal, heads.nontypical)


def readings() -> Ints:
    """What was read, in eighths, of shape (head, measurer, line): net and gross carry what the lines are off by."""
    draw = np.random.default_rng(SEED)
    true = _true(draw)
    own = draw.uniform(*SCATTER, size=MEASURERS)
    off = {line: draw.normal(0, own * share, (HEADS, MEASURERS)) for line, share in OF_LINE.items()}
    off["gross"] = np.sum(list(off.values()), axis=0) + draw.normal(0, own * OF_THE_OTHER_LINES, (HEADS, MEASURERS))
    off["net"] = off["gross"] + draw.normal(0, own * OF_DEDUCTIONS, (HEADS, MEASURERS))
    off["net"][:, READS_HIGH] += HIGH
    read = np.stack([true[line][:, None] + off[line] for line in LINES], axis=2)
    step = np.where(np.arange(MEASURERS) == READS_QUARTERS, 2, 1)[None, :, None]
    return np.asarray(np.rint(read / step) * step, dtype=np.int64)


def panel_measures() -> pl.DataFrame:
    """The session as a table: session, measured_on, head, measurer, line, length (`21 3/8`), all text."""
    read = readings()
    heads = [f"TR-{number:02d}" for number in range(1, HEADS + 1)]
    rows = [
        (SESSION, MEASURED_ON.isoformat(), heads[h], measurer, line, written(int(read[h, m, k]), "fraction-zero"))
        for h in range(HEADS)
        for m, measurer in enumerate(certified())
        for k, line in enumerate(LINES)
    ]
    return pl.DataFrame(rows, schema=["session", "measured_on", "head", "measurer", "line", "length"], orient="row")
