"""Preferred eighths."""

import numpy as np
import numpy.typing as npt
import polars as pl
import pytest
from scipy.stats import binomtest, chi2_contingency, chisquare, norm

from warehouse.trends.digits import PREFERENCE, density_wave, digit_preference, eighths

PREFERRING = (300, 80, 140, 75, 210, 70, 120, 85)  # made up
LONG = {"beam"}
# Closed form: shares of the eighths 0 to 7 of lengths with an SD of .3 inches about 4
SHORT_SHARES = (0.1664, 0.1542, 0.1248, 0.0958, 0.0840, 0.0958, 0.1248, 0.1542)


def counts(*rows: tuple[str, str, npt.ArrayLike]) -> pl.DataFrame:
    cells = [
        (measurer, line, eighth, number)
        for measurer, line, of in rows
        for eighth, number in enumerate(np.asarray(of).tolist())
    ]
    schema = {"measurer": pl.String, "line": pl.String, "eighth": pl.Int64, "count": pl.Int64}
    return pl.DataFrame(cells, schema=schema, orient="row")


def shares_of_eighths(sd: float, middle: float) -> list[float]:
    """Of a normal length, rounded to eighths and wrapped at whole inches."""
    edges = np.arange(-80, 80 + 1) / 8 - 1 / 16
    cells = np.diff(norm.cdf(edges + np.floor(middle), middle, sd))
    return [float(cells[eighth::8].sum()) for eighth in range(8)]


def test_the_shares_of_a_short_line() -> None:
    assert shares_of_eighths(0.3, 4.0) == pytest.approx(SHORT_SHARES, abs=5e-5)


@pytest.mark.parametrize(("sd", "amplitude"), [(0.2, 0.908), (0.3, 0.338), (0.4, 0.085), (0.5, 0.014)])
def test_the_wave_of_a_short_line(sd: float, amplitude: float) -> None:
    """Closed form; an eighth's share follows the wave, but for the breadth of an eighth and what its third harmonic
    adds.
    """
    assert density_wave(sd) == pytest.approx(amplitude, abs=5e-4)
    breadth = np.sin(np.pi / 8) / (np.pi / 8)
    top, bottom = (shares_of_eighths(sd, 4.0)[eighth] for eighth in (0, 4))
    assert (top - bottom) * 4 == pytest.approx(density_wave(sd) * breadth, rel=2e-3)


def test_a_long_line_is_held_to_an_eighth_each() -> None:
    """Statistic by scipy 1.17.1; shares in closed form."""
    found = digit_preference(counts(("A", "beam", PREFERRING)), LONG).row(0, named=True)
    assert found["measurements"] == 1080
    assert found["statistic"] == pytest.approx(344.0741, abs=5e-5)
    assert found["p"] == pytest.approx(chisquare(PREFERRING).pvalue)
    assert (found["move"], found["even_share"]) == pytest.approx((0.226852, 0.712963), abs=5e-7)
    assert found["even_p"] == pytest.approx(binomtest(770, 1080).pvalue)


def test_the_critical_value_of_a_long_line() -> None:
    """Chi-squared, 7 degrees: 14.067 at .05, 18.475 at .01 (NIST/SEMATECH e-Handbook, 1.3.6.7.4, from memory)."""
    source = np.random.default_rng(1)
    found = digit_preference(
        counts(*((f"{k:03}", "beam", source.multinomial(400, [1 / 8] * 8)) for k in range(800))), LONG
    )
    for level, critical in ((0.05, 14.067), (0.01, 18.475)):
        assert (found["p"] < level).to_list() == (found["statistic"] > critical).to_list()
        assert (found["p"] < level).mean() == pytest.approx(level, abs=2.5 * (level / 800) ** 0.5)
    assert (found["adjusted"] > 0.05).all()


def test_a_short_line_is_held_to_the_middle_one_of_the_others() -> None:
    """Three others who measure alike are the middle one; as many measurements of a median are worth 2/pi of those of a mean."""
    own, other = (40, 30, 22, 16, 12, 15, 20, 45), (150, 140, 120, 90, 80, 92, 118, 160)
    found = digit_preference(counts(("A", "h1", own), *((name, "h1", other) for name in "BCD"), ("C", "h2", own)), LONG)
    row = found.row(by_predicate=pl.col("measurer") == "A", named=True)
    expected = chi2_contingency([own, 3 * np.array(other) * 2 / np.pi], correction=False)
    assert (row["statistic"], row["p"]) == pytest.approx((expected.statistic, expected.pvalue))
    assert row["move"] == pytest.approx(np.abs(np.array(own) / sum(own) - np.array(other) / sum(other)).sum() / 2)


@pytest.mark.parametrize("honest", [3, 5, 12])
def test_one_busy_measurer_who_rounds_does_not_make_the_careful_ones_odd(honest: int) -> None:
    """Thrown together, his 4,000 measurements would be what everybody else is held to."""
    source = np.random.default_rng(5)
    rounds = ("rounds", "h1", source.multinomial(4000, [0.55, 0.05, 0.1, 0.05, 0.1, 0.05, 0.05, 0.05]))
    careful = ((f"{k:02}", "h1", source.multinomial(300, SHORT_SHARES / np.sum(SHORT_SHARES))) for k in range(honest))
    found = digit_preference(counts(rounds, *careful), LONG)
    assert found.filter(pl.col("adjusted") < 0.001)["measurer"].to_list() == ["rounds"]


def test_a_short_line_that_keeps_to_its_middle_is_no_preference() -> None:
    """As a long line every one of these measurers would stand out."""
    source = np.random.default_rng(2)
    short = counts(*((f"{k:02}", "h4", source.multinomial(500, shares_of_eighths(0.25, 4.0))) for k in range(40)))
    assert (digit_preference(short, LONG)["adjusted"] > 0.05).all()
    assert (digit_preference(short, {"h4"})["adjusted"] < 0.05).all()


def test_one_who_reads_quarters_stands_out_on_a_short_line() -> None:
    source = np.random.default_rng(3)
    shares = np.array(shares_of_eighths(0.3, 4.0))
    quarters = np.where(np.arange(8) % 2, 0, shares + np.roll(shares, 1) / 2 + np.roll(shares, -1) / 2)
    rows = [(f"{k:02}", "h4", source.multinomial(200, shares)) for k in range(20)]
    found = digit_preference(counts(*rows, ("quarters", "h4", source.multinomial(200, quarters))), LONG)
    assert found.filter(pl.col("adjusted") < 0.05)["measurer"].to_list() == ["quarters"]
    assert found.filter(pl.col("even_adjusted") < 0.05)["measurer"].to_list() == ["quarters"]


def test_eighths_that_hardly_occur_are_taken_together() -> None:
    own, others = (80, 60, 2, 0, 0, 1, 1, 50), (300, 220, 6, 0, 0, 2, 8, 180)
    found = digit_preference(counts(("A", "h1", own), *((name, "h1", others) for name in "BCD")), LONG)
    middle = 3 * np.array([300, 220, 180, 16]) * 2 / np.pi
    expected = chi2_contingency([[80, 60, 50, 4], middle], correction=False)
    assert (found["statistic"][0], found["p"][0]) == pytest.approx((expected.statistic, expected.pvalue))


def test_under_eighty_measurements_nothing_is_told() -> None:
    few, enough = (10, 10, 10, 10, 10, 10, 10, 9), (10,) * 8
    found = digit_preference(
        counts(("A", "beam", few), ("B", "beam", enough), ("C", "h1", enough), ("D", "h1", few)), LONG
    )
    assert found["refused"].to_list() == ["few-measurements", None, "few-others", "few-measurements"]
    assert found["measurements"].to_list() == [79, 80, 80, 79]
    told = found.select(pl.exclude("measurer", "line", "measurements", "refused"))
    assert told.select(pl.all().null_count()).row(0) == (3,) * 7
    assert told.row(1) == pytest.approx((0, 1, 1, 0, 0.5, 1, 1))


def test_measures_that_all_end_alike_cannot_be_compared() -> None:
    whole = (100, 0, 0, 0, 0, 0, 0, 0)
    found = digit_preference(counts(*((name, "h1", whole) for name in "ABCD")), LONG)
    assert found.select("statistic", "p", "move", "even_share").rows() == [(None, None, 0, 1)] * 4


def test_nobody_has_no_preference() -> None:
    found = digit_preference(counts(), LONG)
    assert (found.height, found.schema) == (0, PREFERENCE)


def test_the_eighths_behind_it_are_told_with_what_is_expected() -> None:
    """By hand; an eighth that does not occur has a row too, and on a short line with few others nothing is expected."""
    told = eighths(counts(("A", "beam", (30, 0, 0, 0, 10, 0, 0, 0)), ("A", "h1", (7,) * 8)), LONG)
    assert told.filter(line="beam").select("eighth", "count", "share", "expected").rows() == [
        (eighth, {0: 30, 4: 10}.get(eighth, 0), {0: 0.75, 4: 0.25}.get(eighth, 0.0), 0.125) for eighth in range(8)
    ]
    assert told.filter(line="h1")["expected"].is_null().all()


def test_on_a_short_line_the_middle_one_of_the_others_is_expected() -> None:
    told = eighths(
        counts(
            *(
                (name, "h1", row)
                for name, row in zip("ABCD", [(80,) + (0,) * 7, (10,) * 8, (20,) * 8, (40, 0) * 4], strict=True)
            )
        ),
        LONG,
    )
    assert told.filter(measurer="A")["expected"].to_list() == pytest.approx([0.125] * 8)
