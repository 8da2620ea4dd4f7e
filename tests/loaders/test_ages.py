"""Ages as written: read in half years, asked about where they cannot be, kept with the entry and never a reason to hold it."""

from pathlib import Path

import polars as pl
import pytest

from loaders.ages import read_ages
from loaders.decisions import Correction, decide
from loaders.headings import field_of
from loaders.recompute import recompute
from loaders.verify import verify
from tests.book_builder import copy_of, file_of, heads, load, new_book, query
from tests.logged_book import WHO, correct
from tests.sheet_builder import TODAY, Finding, Row, audit_rows, clean_sheet
from warehouse.book.decisions import Decision
from warehouse.errors import CorrectionRefused

AGES = "SELECT entry_no, age_half_years, status FROM current_entry ORDER BY entry_id"
EXPECTED = "years in halves from 0.5 to 20, like 4.5"


# common practice, no source: jaws are aged in years and a half
@pytest.mark.parametrize(
    ("text", "half_years"),
    [
        ("4.5", 9), ("4 1/2", 9), ("4½", 9), ("4 ½", 9), ("4-1/2", 9), ("4\u20131/2", 9), ("4,5", 9), ("4.50", 9), ("4", 8),
        ("4.0", 8), ("4.5 yrs", 9), ("4.5 Yrs.", 9), ("4½ years old", 9), ("1 yr", 2), ("6 y", 12), ("3.5 y/o", 7),
        (" 4.5\u00a0years ", 9), ("½", 1), ("1/2", 1), (".5", 1), ("0.5", 1), ("0 1/2", 1), ("20", 40), ("20.0", 40),
        ("4.5 [0.0]", 9), ("4.5 [# ?/2]", 9),
    ],
)  # fmt: skip
def test_an_age_is_read_in_half_years(text: str, half_years: int) -> None:
    assert read_ages(pl.Series([text])).rows() == [(half_years, False)]


@pytest.mark.parametrize("text", ["", " ", "-", "\u2014", "n/a", "Unknown", "?", "not aged"])
def test_a_blank_age_says_nothing(text: str) -> None:
    assert read_ages(pl.Series([text])).rows() == [(None, False)]


@pytest.mark.parametrize(
    "text",
    [
        "0", "0.0", "20.5", "20 1/2", "21", "45", "9999", "12345678", "-4.5", "4.25", "4.6", "4.05", "41/2", "4 1/4", "4 2/4",
        "5.5+", "3-4", "old", "yrs", ".", "4..5", "4.5.", "2026-02-01 [d-mmm]", "four",
    ],
)  # fmt: skip
def test_what_is_no_age_in_half_years_is_not_read(text: str) -> None:
    assert read_ages(pl.Series([text])).rows() == [(None, True)]


@pytest.mark.parametrize(
    "heading", ["age", "Age (years)", "JAW AGE", "Est. age", "Estimated Age", "Age by jaw", "Age (yrs.)", "age of buck"]
)
def test_headings_of_an_age(heading: str) -> None:
    assert field_of(heading) == "age"


def test_an_age_that_cannot_be_read_is_noted(tmp_path: Path) -> None:
    rows = [clean_sheet(), clean_sheet(entry_no="18", beam_l="21 5/8")]
    assert audit_rows(tmp_path, rows[0] | {"age": "4½"}, rows[1] | {"age": "5.5+"}) == [
        Finding(
            3, "age-unread", "note", ("age",), "5.5+", EXPECTED, f"The age '5.5+' is not kept; expected {EXPECTED}."
        )
    ]


def without_age(row: Row) -> Row:
    """The row of a file that has no column for the age."""
    return {field: text for field, text in row.items() if field != "age"}


@pytest.fixture(scope="module")
def aged(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Four heads: aged, not aged, with an age that cannot be read, and with one beyond any buck's."""
    folder = tmp_path_factory.mktemp("aged")
    book = new_book(folder)
    ages = ("4 1/2", "", "about four", "45")
    load(book, file_of(folder / "a.csv", [row | {"age": age} for row, age in zip(heads(1, 4), ages, strict=True)]))
    return book


def test_the_age_is_kept_in_half_years_and_never_holds_a_sheet(aged: Path) -> None:
    assert query(aged, AGES) == [
        (number, age, "accepted") for number, age in (("1", 9), ("2", None), ("3", None), ("4", None))
    ]
    assert query(aged, "SELECT entry_no, code, severity FROM open_finding ORDER BY row") == [
        ("3", "age-unread", "note"), ("4", "age-unread", "note"),
    ]  # fmt: skip
    assert verify(aged).is_sound


def test_a_file_without_ages_lacks_nothing(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [without_age(heads(1, 1)[0])]))
    assert query(book, "SELECT code FROM finding") == []
    assert query(book, AGES) == [("1", None, "accepted")]


def test_an_age_is_corrected_and_taken_back(aged: Path, tmp_path: Path) -> None:
    book = copy_of(aged, tmp_path / "copy.duckdb")
    correct(book, 1, age="5.5 yrs")
    correct(book, 3, age="4")
    assert [age for _, age, _ in query(book, AGES)] == [11, None, 8, None]
    assert query(book, "SELECT entry_no FROM open_finding") == [("4",)]
    decide(book, Decision("undo", 1, *WHO), TODAY)
    assert [age for _, age, _ in query(book, AGES)] == [9, None, 8, None]
    assert verify(book).is_sound


def test_an_age_is_corrected_where_the_file_has_no_such_column(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", map(without_age, heads(1, 2))))
    correct(book, 2, age="6½")
    assert [age for _, age, _ in query(book, AGES)] == [None, 13]
    assert verify(book).is_sound


def test_a_correction_must_be_an_age(aged: Path, tmp_path: Path) -> None:
    book = copy_of(aged, tmp_path / "copy.duckdb")
    with pytest.raises(CorrectionRefused) as refused:
        decide(book, Decision("correct", 1, *WHO), TODAY, Correction({"age": "30"}))
    assert str(refused.value) == f"The age '30' is not kept; expected {EXPECTED}; nothing was changed"


def test_a_row_sent_again_with_its_age_is_a_revision(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [without_age(heads(1, 1)[0])]))
    load(book, file_of(tmp_path / "b.csv", [heads(1, 1)[0] | {"age": "3.5"}]))
    assert query(book, "SELECT revision_no, reason, age_half_years FROM current_entry") == [
        (2, "age: (blank) -> 3.5", 7)
    ]
    assert [check.holds for check in recompute(book)] == [True, True]
