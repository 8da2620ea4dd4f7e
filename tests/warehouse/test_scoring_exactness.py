"""Twelve thousand random sheets of either category: every figure equals the slow scorer's, in exact fractions."""

from fractions import Fraction
from random import Random

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.plain_scoring import NONTYPICAL, TYPICAL, Rules, net_by_shorter_side, score
from tests.warehouse.scoring_frames import figures_in_inches, frame_of
from warehouse.categories import category_of
from warehouse.scoring import TOTALS, dependencies, recompute

SHEETS, EXAMPLES = 120, 100
RULES = {"whitetail-typical": TYPICAL, "whitetail-nontypical": NONTYPICAL}
MEASURES = (*category_of("whitetail-typical").measures, "abnormal_total")
POINTS = frozenset(f"g{n}_{side}" for n in range(1, 8) for side in "rl")
EIGHTHS = [Fraction(n, 8) for n in range(256)]
Sheets = list[dict[str, Fraction]]


def _sheets(data: bytes) -> Sheets:
    """One byte a measure: eighths up to 31 7/8; a point under two inches is one that nobody grew."""
    sheets = []
    for start in range(0, SHEETS * len(MEASURES), len(MEASURES)):
        lengths = dict(zip(MEASURES, data[start : start + len(MEASURES)], strict=True))
        sheets.append({n: EIGHTHS[0 if n in POINTS and v < 16 else v] for n, v in lengths.items()})
    return sheets


SIZE = SHEETS * len(MEASURES)
EDGES = (0, 7, 8, 15, 16, 17, 180, 255)  # many ties, capped spreads and missing points
seeds = st.integers(0, 2**32).map(Random)
many = st.one_of(
    st.binary(min_size=SIZE, max_size=SIZE),
    seeds.map(lambda source: source.randbytes(SIZE)),
    seeds.map(lambda source: bytes(source.choices(EDGES, k=SIZE))),
).map(_sheets)


@pytest.mark.parametrize("code", RULES)
@settings(max_examples=EXAMPLES // 2)
@given(sheets=many)
def test_every_figure_equals_the_slow_scorers(sheets: Sheets, code: str) -> None:
    rules = RULES[code]
    found = figures_in_inches(sheets, category_of(code))
    assert len(found) == SHEETS
    assert found == [score(sheet, rules) for sheet in sheets]


@pytest.mark.parametrize("code", RULES)
@settings(max_examples=EXAMPLES // 4)
@given(sheets=many)
def test_shorter_side_law(sheets: Sheets, code: str) -> None:
    """A second route to the net: spread credit, twice the shorter side of each pair, and the abnormal points."""
    rules: Rules = RULES[code]
    nets = [figures["net"] for figures in figures_in_inches(sheets, category_of(code))]
    assert nets == [net_by_shorter_side(sheet, rules) for sheet in sheets]


@pytest.mark.parametrize("code", RULES)
@settings(max_examples=EXAMPLES // 4)
@given(sheets=many)
def test_parity_law(sheets: Sheets, code: str) -> None:
    """In eighths, net + spread credit + abnormal total is even; so is differences + right - left, never too small."""
    figures = recompute(frame_of(sheets, category_of(code)), category_of(code))
    col = pl.col
    side = col("right_total") - col("left_total")
    laws = figures.select(
        even=(col("net") + col("spread_credit") + col("abnormal_total")) % 2 == 0,
        same=(col("diff_total") + side) % 2 == 0,
        least=col("diff_total") >= side.abs(),
        credit=col("spread_credit") <= col("gross"),
    )
    assert laws.select(pl.all().all()).row(0) == (True, True, True, True)


@settings(max_examples=EXAMPLES // 4)
@given(sheets=many)
def test_gross_does_not_depend_on_the_category(sheets: Sheets) -> None:
    typical, nontypical = (figures_in_inches(sheets, category_of(code)) for code in RULES)
    assert [one["gross"] for one in typical] == [one["gross"] for one in nontypical]
    apart = [two["net"] - one["net"] for one, two in zip(typical, nontypical, strict=True)]
    assert apart == [2 * sheet["abnormal_total"] for sheet in sheets]


@pytest.mark.parametrize("code", RULES)
@pytest.mark.parametrize("unknown", MEASURES)
def test_an_unknown_measure_leaves_exactly_what_rests_on_it_unknown(code: str, unknown: str) -> None:
    category = category_of(code)
    whole = frame_of([{name: Fraction(n + 9) for n, name in enumerate(MEASURES)}], category)
    lacking = recompute(whole.with_columns(pl.lit(None, dtype=pl.Int32).alias(unknown)), category).row(0, named=True)
    rests = {figure for figure, columns in dependencies(category).items() if unknown in columns}
    assert {figure for figure, value in lacking.items() if value is None} == rests
    complete = recompute(whole, category).row(0, named=True)
    assert {figure: value for figure, value in lacking.items() if value is not None}.items() <= complete.items()


@pytest.mark.parametrize("code", RULES)
def test_figures_are_whole_eighths_in_a_fixed_order(code: str) -> None:
    category = category_of(code)
    figures = recompute(frame_of([], category), category)
    assert figures.columns == [*(line.difference for line in category.pairs), *TOTALS]
    assert set(figures.dtypes) == {pl.Int32}


def test_what_the_net_rests_on() -> None:
    """Typical and non-typical alike: the inside spread, every paired line and the abnormal points; no other spread."""
    paired = {f"{pair}_{side}" for pair in TYPICAL.pairs for side in "rl"}
    for code in RULES:
        rests = dependencies(category_of(code))
        assert rests["net"] == paired | {"inside_spread", "abnormal_total"}
        assert rests["gross"] == paired | {"inside_spread"}
        assert rests["spread_credit"] == {"inside_spread", "beam_r", "beam_l"}
    assert "abnormal_total" in dependencies(category_of("whitetail-typical"))["deductions"]
    assert "abnormal_total" not in dependencies(category_of("whitetail-nontypical"))["deductions"]
