"""Panels in sentences: how far measurers of one session differ, and sheets held against what a panel measured."""

import math
from collections.abc import Mapping
from typing import Any

import polars as pl

from dashboards.number_words import signed
from dashboards.trends.measurers_frames import MeasurersFrames, who
from dashboards.words import counted, field_words
from warehouse.book.trend_figures.measurers import Measurers
from warehouse.eighths import EIGHTHS
from warehouse.plain_text import shown
from warehouse.trends.agreement import FEW_HEADS

NO_PANEL = (
    "The book holds no panel session, in which several measurers measured the same heads; put one in place with "
    "panel_measures.csv."
)
OWN_MEAN = (
    "A bias is against the panel’s own mean, of which everybody is a part: who reads high draws it up, and the others "
    "seem to read low. "
    "So who stands apart is told from the panel’s middle measurer. What a head truly measures nobody knows."
)
ICC_FALLS = (
    "ICC(2,1) depends on how different the heads are and falls where they are much alike, although nobody measures "
    "worse; the technical "
    "error does not."
)
NO_SCORES = "No entry was measured by a panel in these seasons: there is nothing to hold against the sheets."
FEW_SCORES = f"Fewer than {FEW_HEADS} entries were measured by a panel in these seasons: no more can be said than their differences."
DRYING = (
    "Antlers shrink while they dry, and a panel measures later: a sheet above the panel may be right for its day. "
    "Bias and shrinkage are "
    "mixed here, and cannot be told apart; only a session in which all measure on one day can tell a bias."
)
CHOSEN = (
    "Panels are asked for heads that rank high or were doubted, and the highest of many sheets are rather too high by "
    "chance alone."
)


def sentences(frames: MeasurersFrames) -> list[str]:
    """Each session, on its first line (net, where it has one), and how to read it."""
    if frames.panels.is_empty():
        return [NO_PANEL]
    firsts = frames.panels.unique("session", keep="first", maintain_order=True)
    told = [
        sentence
        for row in firsts.iter_rows(named=True)
        for sentence in (*session_sentences(frames, row), *_on_other_lines(frames.biases, row))
    ]
    return [*told, OWN_MEAN, ICC_FALLS]


def session_sentences(frames: MeasurersFrames, row: Mapping[str, Any]) -> list[str]:
    """One line of a session: agreement, then who stands apart. Takes a row of `MeasurersFrames.panels`."""
    biases = frames.biases.filter(session=row["session"], line=row["line"])
    return [_agreement(row), _apart(biases)]


def _on_other_lines(biases: pl.DataFrame, row: Mapping[str, Any]) -> list[str]:
    """Who stands apart on the other lines of the same session; nothing where nobody does."""
    others = biases.filter(pl.col("session") == row["session"], pl.col("line") != row["line"], pl.col("opens"))
    if others.is_empty():
        return []
    named = "; ".join(
        f"{line_words(other['line'])}: {who(other)} {bias_text(other)} eighths"
        for other in others.iter_rows(named=True)
    )
    return [f"Apart on other lines of the sheet by more than chance: {named}."]


def line_words(line: str) -> str:
    """ "net", "main beam, right"."""
    return field_words(line).lower() if line in ("net", "gross") else field_words(line)


def eighths(value: float | None) -> str:
    """ "+3.4", "-0.5"; "-" for none."""
    return "-" if value is None or not math.isfinite(value) else signed(value, 1)


def plain_figure(value: float | None, digits: int) -> str:
    """ "2.4"; "-" for none."""
    return "-" if value is None or not math.isfinite(value) else f"{value:.{digits}f}"


def bias_text(row: Mapping[str, Any]) -> str:
    """ "+3.4 (+1.7 to +5.0)" eighths; without its limits where there is one head."""
    limits = "" if row["lower"] is None else f" ({eighths(row['lower'])} to {eighths(row['upper'])})"
    return f"{eighths(row['bias'])}{limits}"


def icc_text(row: Mapping[str, Any]) -> str:
    """ "0.997 (0.994 to 0.999)"; "-" for none."""
    figures = (plain_figure(row[name], 3) for name in ("icc_2_1", "icc_lower", "icc_upper"))
    icc, lower, upper = figures
    return "-" if icc == "-" else f"{icc} ({lower} to {upper})"


def _agreement(row: Mapping[str, Any]) -> str:
    place = f"{shown(row['session'])}, {line_words(row['line'])}"
    if row["heads"] is None:
        return (
            f"{place}: not two heads were measured by two measurers or more and by all of them, so that nothing is "
            "told of their agreement."
        )
    few = f"; under {FEW_HEADS} heads, so it says little" if row["few_heads"] else ""
    left = (
        f", {counted(row['left_out'], 'other head')} left out that somebody did not measure" if row["left_out"] else ""
    )
    return (
        f"{place}: {counted(row['heads'], 'head')}, each measured by all {row['measurers']} measurers{left}{few}. "
        "Technical error "
        f"{plain_figure(row['technical_error'], 1)} eighths ({plain_figure(row['within_error'], 1)} with the biases); "
        "ICC(2,1) "
        f"{icc_text(row)}."
    )  # fmt: skip


def _apart(biases: pl.DataFrame) -> str:
    if (biases["heads"] < FEW_HEADS).all():
        return f"With fewer than {FEW_HEADS} heads nobody is said to stand apart."
    opening = biases.filter("opens")
    many = f"that {biases.height} measurers were looked at is allowed for"
    if opening.is_empty():
        return f"Nobody stands apart from the panel’s middle measurer by more than chance would bring ({many})."
    named = "; ".join(
        f"{who(row)} {bias_text(row)} eighths, {eighths(row['from_middle'])} from the middle"
        for row in opening.iter_rows(named=True)
    )
    return (
        f"Apart from the panel’s middle measurer by more than chance ({many}): {named}. A reason to measure again, by "
        "others, nothing more."
    )


def against(measurers: Measurers, frames: MeasurersFrames) -> list[str]:
    """Sheets less panels, with the limits of agreement, and what is mixed in them."""
    found = measurers.against_panel
    if found is None:
        return [NO_SCORES if frames.against_panel.is_empty() else FEW_SCORES]
    bias, lower, upper, low, high = (
        eighths(value * EIGHTHS) for value in (found.bias, found.bias_lower, found.bias_upper, found.lower, found.upper)
    )
    return [
        f"{counted(found.pairs, 'entry', 'entries')} measured by a panel: the net recomputed from the sheet’s measures less the panel’s is {bias} "
        "eighths on average (95 % interval "
        f"{lower} to {upper}); limits of agreement {low} to {high} eighths, technical error "
        f"{plain_figure(found.technical_error * EIGHTHS, 1)} eighths.",
        DRYING, CHOSEN,
    ]  # fmt: skip
