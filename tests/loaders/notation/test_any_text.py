"""Any text at all: one of the states, whole numbers, the same alone and in bulk, and as the second reader says."""

from fractions import Fraction

import polars as pl
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from loaders.notation import read_columns, read_lists, read_text, spell
from loaders.notation.spellings import ABSENT, BLANK, MEASURED
from tests.plain_notation import read

STATES = ("measured", "blank", "absent", "open", "date", "hidden", "unreadable")
Rows = list[dict[str, int | None]]

anything = st.text(max_size=12)
soup = st.text(alphabet="0123456789 /-.,'\"&[]#?½⅝⁄–”\u00a0anxiMrT:;+", max_size=10)
number = st.integers(0, 400).map(str)
part = st.one_of(st.integers(0, 20).map(str), st.sampled_from(["", "00", "05", "078", "½", "⅜", "⅓"]))
built = st.tuples(
    st.sampled_from(["", "", "", " ", "'", "-", "\u00a0"]),
    number,
    st.sampled_from([" ", " ", "-", " - ", "–", "- ", " & ", "and", " + ", "\u00a0", "", "."]),
    part,
    st.sampled_from(["/", "/", " / ", "⁄", "", "-"]),
    st.sampled_from(["8", "8", "16", "4", "2", "3", "32", ""]),
    st.sampled_from(["", "", "", '"', "”", " in.", "in", " inches", "''", " ", "cm"]),
).map("".join)
decimal = st.tuples(
    st.sampled_from(["", "-"]), number, st.sampled_from([".", ","]),
    st.one_of(st.integers(0, 9).map(str), st.integers(0, 9999).map(str), st.sampled_from(["125", "38", "37", "6250", "0000", "0625", "9"])),
    st.sampled_from(["", "", "", " [# ?/8]", " [# ??/16]", " [0.00]", " [d/m/yyyy]"]),
).map("".join)  # fmt: skip
day = st.tuples(
    st.dates(), st.sampled_from(["%Y-%m-%d", "%Y-%m-%d 00:00:00", "%d-%b", "%b-%d", "%m/%d/%Y", "%d-%b-%y", "%d/%m/%y"]),
    st.sampled_from(["", " [d-mmm]", " [m/d]"]),
).map(lambda parts: parts[0].strftime(parts[1]) + parts[2])  # fmt: skip
sound = st.tuples(
    number, st.sampled_from([" ", "-", " & "]), st.integers(0, 7).map(str), st.sampled_from(["/8", "", '/8"'])
).map("".join)
split = st.tuples(st.integers(1, 999).map(str), st.sampled_from(["/8", "/16"])).map("".join)
serial = st.integers(19_990, 60_010).map(str)
texts = st.lists(st.one_of(anything, soup, sound, built, split, decimal, day, serial), min_size=20, max_size=120)


def _reads(row: dict[str, int | None], unit: int) -> tuple[str, tuple[Fraction | None, ...]]:
    state = STATES[row["state"] or 0]
    if state in ("measured", "absent"):
        return state, (Fraction(row["value"] or 0, unit),)
    both = tuple(None if value is None else Fraction(value, unit) for value in (row["first"], row["second"]))
    return state, both if state == "open" else both[:1] if state in ("date", "hidden") else ()


@pytest.mark.parametrize("unit", [8, 16])
@settings(max_examples=60)
@given(texts=texts)
def test_the_second_reader_agrees_on_every_text(texts: list[str], unit: int) -> None:
    rows = spell(pl.Series(texts, dtype=pl.String), unit).to_dicts()
    differ = {text: (_reads(row, unit), read(text, unit)) for text, row in zip(texts, rows, strict=True)}
    assert {text: pair for text, pair in differ.items() if pair[0] != pair[1]} == {}


@pytest.mark.parametrize("unit", [8, 16])
def test_the_second_reader_agrees_on_every_run_together_fraction_and_short_decimal(unit: int) -> None:
    runs = [f"{top}/{bottom}" for top in range(2600) for bottom in (2, 8, 16)]
    decimals = [f"7.{digits:0{places}d}" for places in (1, 2, 3) for digits in range(10**places)]
    rows = spell(pl.Series(runs + decimals), unit).to_dicts()
    assert [_reads(row, unit) for row in rows] == [read(text, unit) for text in runs + decimals]


def test_the_second_reader_agrees_on_every_bare_spreadsheet_day() -> None:
    days = [str(n) for n in (*range(19_000, 21_000), *range(45_000, 46_500), *range(59_000, 61_000))]
    assert [_reads(row, 8) for row in spell(pl.Series(days)).to_dicts()] == [read(day) for day in days]


@settings(max_examples=60)
@given(texts=texts)
def test_a_reading_is_whole_and_in_keeping_with_its_state(texts: list[str]) -> None:
    found = spell(pl.Series(texts, dtype=pl.String))
    assert found.schema == {"state": pl.UInt8, "value": pl.Int32, "first": pl.Int32, "second": pl.Int32}
    for row in found.to_dicts():
        values = (row["value"] is not None, row["first"] is not None or row["second"] is not None)
        expected = {MEASURED: (True, False), ABSENT: (True, False), BLANK: (False, False), 6: (False, False)}
        assert values == expected.get(row["state"], (False, True))
        assert min(value for value in (*row.values(), 0) if value is not None) == 0


@settings(max_examples=40)
@given(texts=st.lists(st.one_of(st.none(), soup, built, decimal, day), min_size=1, max_size=40))
@example(texts=[None, "", "-"])
def test_alone_and_in_bulk_are_one_reading(texts: list[str | None]) -> None:
    bulk = read_columns(
        pl.DataFrame({"a": texts, "b": texts[::-1]}, schema={"a": pl.String, "b": pl.String}), ["a", "b"]
    )
    alone = spell(pl.Series(texts, dtype=pl.String))
    assert bulk.values["a"].to_list() == alone["value"].to_list() == bulk.values["b"].to_list()[::-1]
    for column in bulk.states.columns:
        frame = pl.DataFrame({"state": bulk.states[column], "first": bulk.first[column], "second": bulk.second[column]})
        ordered = frame if column == "a" else frame.reverse()
        assert ordered.rows() == alone.select("state", "first", "second").rows()
    regular = alone["state"].is_in([MEASURED, BLANK]).all()
    assert bulk.states.columns == ([] if regular else ["a", "b"])


@settings(max_examples=30)
@given(text=st.one_of(anything, soup, built, decimal))
def test_one_text_and_a_column_of_it_agree(text: str) -> None:
    found = read_text(text)
    assert (found.state, found.value, found.first, found.second) == spell(pl.Series([text])).row(0)


@settings(max_examples=40)
@given(lengths=st.lists(st.integers(1, 200), max_size=8))
def test_a_list_of_abnormal_points_is_summed_and_counted(lengths: list[int]) -> None:
    text = "; ".join(f"{n // 8} {n % 8}/8" for n in lengths)
    row = read_lists(pl.Series([text], dtype=pl.String)).row(0, named=True)
    assert (row["value"], row["count"]) == (sum(lengths), len(lengths))
    assert (row["first"], row["second"]) == (sum(lengths), sum(lengths))


@pytest.mark.parametrize(
    ("text", "value", "count", "first", "second", "state"),
    [
        (None, 0, 0, 0, 0, "blank"), ("", 0, 0, 0, 0, "blank"), ("-", 0, 0, 0, 0, "absent"), ("1 2/8;", 10, 1, 10, 10, "measured"),
        ("1.5; 2", None, 2, 29, 28, "open"), ("1 1/8; 8-Mar", None, 2, 12, 12, "date"), ("junk; 1", None, 1, None, None, "unreadable"),
        ("1 2/8, 2 3/8", None, 0, None, None, "unreadable"), ("-1 2/8; 2 3/8", None, 1, None, None, "unreadable"),
    ],
)  # fmt: skip
def test_lists(
    text: str | None, value: int | None, count: int, first: int | None, second: int | None, state: str
) -> None:
    row = read_lists(pl.Series([text], dtype=pl.String)).row(0, named=True)
    assert (row["value"], row["count"], row["first"], row["second"]) == (value, count, first, second)
    assert STATES[row["state"]] == state
