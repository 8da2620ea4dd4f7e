"""The same sheets again, in other files and other orders: the book is the same, and says so."""

from pathlib import Path
from typing import Any

import pytest

from tests.book_builder import file_of, heads, load, new_book, query
from tests.sheet_builder import as_csv, clean_sheet

WRONG_NET = clean_sheet(entry_no="90", hunter="Marn Osselby", inside_spread="15 1/8") | {"net": "99 1/8"}


def state(book: Path) -> list[tuple[Any, ...]]:
    """Every entry with its measures and open findings; ids, times and file names left out."""
    return query(
        book,
        """
        SELECT c.* EXCLUDE (revision_id, entry_id, row_id, made_at, received_at),
               (SELECT list((line, right_units, left_units, single_units, stated_difference) ORDER BY line)
                FROM measurement m WHERE m.revision_id = c.revision_id) AS measures,
               (SELECT list((code, severity, cells, stated, expected, message) ORDER BY code)
                FROM open_finding f WHERE f.revision_id = c.revision_id) AS found
        FROM current_entry c ORDER BY entry_no, hunter
        """,
    )


def counts(book: Path) -> tuple[int, ...]:
    """Files, rows, entries, revisions, findings."""
    tables = ("received_file", "received_row", "entry", "entry_revision", "finding")
    return tuple(query(book, f"SELECT count(*) FROM {table}")[0][0] for table in tables)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book that holds a.csv: five clean heads, and one whose net is wrong."""
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [*heads(1, 5), WRONG_NET]))
    return book


def test_the_same_file_is_not_taken_again_and_is_said_to_be_known(book: Path, tmp_path: Path) -> None:
    before, rows = state(book), counts(book)
    again = load(book, tmp_path / "a.csv")
    assert again.counts() == {"rows": 6, "new": 0, "unchanged": 6, "revised": 0, "held": 0}
    assert again.findings() == {"error": 0, "question": 0, "note": 1}
    (repeat,) = again.repeats
    (day,) = query(book, "SELECT strftime(loaded_at, '%Y-%m-%d') FROM load")[0]
    assert (repeat.rows, repeat.before) == (6, f"as a.csv on {day} by tester")
    assert (state(book), counts(book)) == (before, rows)
    assert query(book, "SELECT count(*) FROM load") == [(1,)]


def test_a_renamed_copy_is_known_by_its_content(book: Path, tmp_path: Path) -> None:
    before, rows = state(book), counts(book)
    (tmp_path / "other name.csv").write_bytes((tmp_path / "a.csv").read_bytes())
    assert load(book, tmp_path / "other name.csv").counts()["unchanged"] == 6
    assert (state(book), counts(book)) == (before, rows)


@pytest.mark.parametrize("order", ["reversed", "columns", "semicolons", "quoted"])
def test_the_same_sheets_laid_out_otherwise_are_unchanged(book: Path, tmp_path: Path, order: str) -> None:
    before, (files, rows, *others) = state(book), counts(book)
    sheets = [*heads(1, 5), WRONG_NET]
    if order == "reversed":
        data = as_csv(sheets[::-1])
    elif order == "columns":
        data = as_csv([dict(sorted(sheet.items())) for sheet in sheets])
    elif order == "semicolons":
        data = as_csv(sheets).replace(b"1 2/8; 2 1/8", b'"1 2/8; 2 1/8"').replace(b",", b";")
    else:
        data = b"\n".join(as_csv(sheets).splitlines()) + b"\n"
    (tmp_path / "b.csv").write_bytes(data)
    again = load(book, tmp_path / "b.csv")
    assert again.counts() == {"rows": 6, "new": 0, "unchanged": 6, "revised": 0, "held": 0}
    assert again.findings()["error"] == again.findings()["question"] == 0
    assert state(book) == before
    assert counts(book)[:2] == (files + 1, rows + 6)  # the file and its rows are kept
    assert list(counts(book)[2:]) == others  # but add no entry, no revision and no finding
    assert query(book, "SELECT DISTINCT verdict FROM received_row WHERE file_id = 2") == [("unchanged",)]


def test_the_order_of_two_files_does_not_matter(tmp_path: Path) -> None:
    a, b = file_of(tmp_path / "a.csv", [*heads(1, 4), WRONG_NET]), file_of(tmp_path / "b.csv", heads(5, 9))
    states = []
    for name, files in {"ab": (a, b), "ba": (b, a)}.items():
        apart, together = new_book(tmp_path, f"{name}.duckdb"), new_book(tmp_path, f"{name}_together.duckdb")
        for file in files:
            load(apart, file)
        load(together, *files)
        states += [state(apart), state(together)]
    assert states[0] == states[1] == states[2] == states[3]
    assert len(states[0]) == 10


def test_one_file_given_twice_in_a_run_is_taken_once(tmp_path: Path) -> None:
    book, a = new_book(tmp_path), file_of(tmp_path / "a.csv", heads(1, 3))
    loaded = load(book, a, a)
    assert loaded.counts() == {"rows": 6, "new": 3, "unchanged": 3, "revised": 0, "held": 0}
    assert counts(book)[:3] == (1, 3, 3)
