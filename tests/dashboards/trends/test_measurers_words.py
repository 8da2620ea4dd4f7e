"""Sentences on panels, digits and the first inch, from figures set by hand."""

from dataclasses import replace

import polars as pl
import pytest

from dashboards.trends import bunching_words, digit_words, higher_minimum_words, panel_words
from dashboards.trends.measurers_frames import MeasurersFrames, frames_of
from tests.measured_region import panel_measures
from warehouse.book.trend_figures.measurers import AboveMinimum, Measurers, PanelLine
from warehouse.trends.agreement import biases, two_way
from warehouse.trends.bunching import bunching, caliper
from warehouse.trends.digits import EIGHTHS, LONG_LINES, PREFERENCE, digit_preference
from warehouse.trends.higher_minimum import HigherMinimum

NAMES = {"M-001": "Una Reed", "M-002": "Bryl Zephrane"}
SCORES = pl.Schema({"entry_id": pl.Int64, "entry_no": pl.String, "measurer": pl.String, "season": pl.String, "sheet_net": pl.Int32, "panel_net": pl.Int32,
                    "sheet_gross": pl.Int32, "panel_gross": pl.Int32})  # fmt: skip
NO_DIGITS = pl.DataFrame(schema=pl.Schema(PREFERENCE))
NEAR = {"measurer": pl.String, "first_inch": pl.Int64, "above": pl.Int64, "expected": pl.Float64}
NOTHING_ABOVE = AboveMinimum(0, 0, 0, None, bunching(pl.DataFrame(schema=NEAR)))
NOTHING = Measurers(
    NAMES, (), pl.DataFrame(schema=SCORES), None, NO_DIGITS, pl.DataFrame(schema=EIGHTHS), NOTHING_ABOVE, ()
)


def panel_of(heads: int, measurers: int = 5) -> Measurers:
    """The panel of `measured_region` with so many heads, its net only, in inches."""
    inches = (
        pl.col("length").str.extract(r"^(\d+)").cast(pl.Float64)
        + pl.col("length").str.extract(r" (\d)/8").cast(pl.Float64) / 8
    )
    rows = panel_measures(heads).filter(line="net").with_columns(value=inches)
    rows = rows.filter(pl.col("measurer").is_in([f"M-00{number}" for number in range(1, measurers + 1)]))
    return replace(NOTHING, panels=(PanelLine("Panel of 2026", "net", two_way(rows), biases(rows)),))


def frames(measurers: Measurers) -> MeasurersFrames:
    return frames_of(measurers, 8)


def test_an_empty_book_says_what_is_missing() -> None:
    told = frames(NOTHING)
    assert panel_words.sentences(told) == [panel_words.NO_PANEL]
    assert panel_words.against(NOTHING, told) == [panel_words.NO_SCORES]
    assert digit_words.sentences(told) == [digit_words.NONE]
    assert bunching_words.sentences(NOTHING, told) == [
        "How many entries to expect in the first inch cannot be said: it takes 30 entries more than an inch above "
        "one and the same minimum, and "
        "0 entries with a measurer qualify at all."
    ]


def test_few_heads_are_said_and_nobody_stands_apart_of_them() -> None:
    told = panel_words.sentences(frames(panel_of(6)))
    assert told[0].startswith(
        "Panel of 2026, net score: 6 heads, each measured by all 5 measurers; under 10 heads, so it says little. "
    )
    assert told[1] == "With fewer than 10 heads nobody is said to stand apart."


def test_one_head_tells_nothing_of_agreement() -> None:
    told = panel_words.sentences(frames(panel_of(1)))
    assert told[0] == (
        "Panel of 2026, net score: not two heads were measured by two measurers or more and by all of them, so that "
        "nothing is told of their "
        "agreement."
    )


def test_icc_is_said_to_fall_where_heads_are_alike() -> None:
    told = panel_words.sentences(frames(panel_of(12)))
    assert told[-1] == (
        "ICC(2,1) depends on how different the heads are and falls where they are much alike, although nobody "
        "measures worse; the technical "
        "error does not."
    )


def test_nobody_apart_is_a_sentence_too() -> None:
    assert panel_words.sentences(frames(panel_of(12, measurers=2)))[1] == (
        "Nobody stands apart from the panel’s middle measurer by more than chance would bring (that 2 measurers were "
        "looked at is allowed for)."
    )


@pytest.mark.parametrize(("row", "text"), [
    ({"bias": 3.375, "lower": 1.74, "upper": 5.0}, "+3.4 (+1.7 to +5.0)"),
    ({"bias": -0.04, "lower": None, "upper": None}, "0.0"),
    ({"bias": float("nan"), "lower": None, "upper": None}, "-"),
])  # fmt: skip
def test_biases_are_written_with_sign_and_one_decimal(row: dict[str, float | None], text: str) -> None:
    assert panel_words.bias_text(row) == text


def test_who_reads_quarters_is_told_by_the_share_first() -> None:
    even = [("M-001", "beams", eighth, 50) for eighth in (0, 2, 4, 6)]
    every = [("M-002", "beams", eighth, 50) for eighth in range(8)]
    few = [("M-003", "beams", 0, 79)]
    counts = pl.DataFrame(even + every + few, schema=["measurer", "line", "eighth", "count"], orient="row")
    told = digit_words.sentences(frames(replace(NOTHING, digits=digit_preference(counts, LONG_LINES))))
    assert told[1].startswith("Una Reed (M-001), beams: ")
    assert (
        "of 200 measures to be moved (adjusted p <0.001); even eighths 100 % (adjusted p <0.001), as where quarters "
        "are read." in told[1]
    )
    assert told[-1] == "Not told, under 80 measures: M-003 (beams)."


def test_alone_a_measurer_has_nobody_to_be_compared_with() -> None:
    counts = pl.DataFrame({"measurer": "M-002", "line": "circumferences", "eighth": range(8), "count": 20})
    told = digit_words.sentences(frames(replace(NOTHING, digits=digit_preference(counts, LONG_LINES))))
    assert (
        told[-1]
        == "Not told, fewer than 3 others have 80 measures to compare with: Bryl Zephrane (M-002) (circumferences)."
    )


def test_the_sign_of_the_first_inch_is_told() -> None:
    near = pl.DataFrame({"measurer": ["M-001", "M-002"], "first_inch": [40, 2], "above": [200, 100], "expected": 0.1})
    above = AboveMinimum(300, 258, 1, 0.1, bunching(near))
    measurers = replace(NOTHING, above=above)
    told = bunching_words.sentences(measurers, frames(measurers))
    assert told[0] == (
        "Expected in the first inch above the season’s minimum: 10 % of the entries, from the tail of the 258 that "
        "are more than an inch above it. "
        "Over all measurers: 42 of 300, 14 %, more than expected."
    )
    assert (
        told[1]
        == "Una Reed (M-001): 40 of 200 entries in the first inch, 20 %, more than the expected 10 % (adjusted p <0.001)."
    )
    assert told[2] == bunching_words.SIGN
    assert len(told) == 3, "fewer than expected is no reason to measure again"


STEP = HigherMinimum("High Book", 1080, caliper(10, 40, 0.5))
EVEN = HigherMinimum("High Book", 1120, caliper(20, 20, 0.5))
FEW = HigherMinimum("Higher\x1b[2J Book", 1200, None)


def about(*steps: HigherMinimum) -> list[str]:
    return higher_minimum_words.sentences(frames(replace(NOTHING, steps=steps)).higher_minimums)


def test_a_step_at_a_higher_minimum_is_told_and_accuses_nobody() -> None:
    """Limits of 40 of 50 (Clopper & Pearson): 66 to 90 %; R binom.test, from memory. p, closed form: 2 P(B(50, 1/2) >= 40)."""
    assert about(STEP) == [
        higher_minimum_words.HOW,
        "High Book, 135 0/8: 10 entries in the half inch under it, 40 in the half inch from it up, 80 % of both (95 % interval "
        "66 % to 90 %); expected 50 %: more than expected (p below 0.001).",
        "A step is one of all measurers together and names none of them. It opens a re-measure of heads about that minimum, by "
        "others, and accuses nobody.",
    ]


def test_as_many_as_expected_and_several_minimums() -> None:
    told = about(STEP, EVEN)
    assert told[2].endswith("expected 50 %: as many as expected (p = 1.00).")
    assert told[3] == higher_minimum_words.EACH_ALONE


def test_minimums_with_too_few_entries_are_named() -> None:
    few = (
        "Not told, too few entries to tell (under 30 within half an inch of it, or none about other whole inches): "
        "Higher\\x1b[2J Book, 150 0/8."
    )
    assert about(FEW) == [few]
    assert about(STEP, FEW)[-2:] == [higher_minimum_words.OPENS, few]


def test_no_higher_minimum_is_said() -> None:
    assert about() == [higher_minimum_words.NONE]


def test_hostile_names_are_written_out() -> None:
    measurers = replace(panel_of(12), names={"M-003": "Osk\x1b[2J\u202eHarrow"})
    assert "Osk\\x1b[2J\\u202eHarrow (M-003) +2.4" in panel_words.sentences(frames(measurers))[1]
