"""What a load keeps of a file, what a dry run does not, and how a saved mapping is used again."""

import csv
import hashlib
import io
from pathlib import Path

import polars as pl
import pytest

from tests.book_builder import beside, file_of, heads, load, new_book, query
from tests.sheet_builder import clean_sheet
from warehouse.book.cells_text import split_cells
from warehouse.errors import BookRefused, FileRefused, MappingRefused

ODD_CELLS = [
    "plain",
    " blanks ",
    'say "x"',
    "two\nlines",
    "é ½ Ñ",
    "=1+1",
    "\x1f",
    "a\x1fb",
    "\x1e",
    "[]",
    "NA",
    "007",
    "‮gnp",
]


def hashes(book: Path) -> tuple[str, ...]:
    return tuple(hashlib.sha256(path.read_bytes()).hexdigest() for path in (book, beside(book, ".anchor")))


def test_every_cell_of_every_row_can_be_got_back(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    rows = [
        sheet | {"remark": odd, "hunter": odd} for sheet, odd in zip(heads(1, len(ODD_CELLS)), ODD_CELLS, strict=True)
    ]
    path = file_of(tmp_path / "odd.csv", rows)
    load(book, path)
    sent = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"), newline="")))
    ((headings, count, sha),) = query(book, "SELECT headings, row_count, sha256 FROM received_file")
    kept = pl.Series([text for (text,) in query(book, "SELECT cells FROM received_row ORDER BY row")], dtype=pl.String)
    assert headings == sent[0]
    assert [list(row) for row in split_cells(kept, len(headings)).fill_null("").rows()] == sent[1:]
    assert count == len(ODD_CELLS)
    assert sha == hashlib.sha256(path.read_bytes()).hexdigest()


def test_a_column_that_is_no_field_is_kept_as_received(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    loaded = load(book, file_of(tmp_path / "a.csv", [heads(1, 1)[0] | {"Landowner": "Old Mill"}]))
    assert loaded.counts()["new"] == 1  # a column for nobody holds no row
    ((headings, fields, cells),) = query(
        book, "SELECT headings, fields, cells FROM received_row JOIN received_file USING (file_id)"
    )
    assert (headings[-1], fields[-1], cells.split("\x1f")[-1]) == ("Landowner", "", "Old Mill")
    assert query(book, "SELECT code, cells, row FROM open_finding WHERE severity = 'question'") == [
        ("column-unmatched", ["Landowner"], None)
    ]


def test_a_dry_run_reports_the_same_and_writes_nothing(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", heads(1, 3)))
    wrong = heads(4, 4)[0] | {"net": "1 0/8"}
    path = file_of(tmp_path / "b.csv", [heads(1, 1)[0], heads(2, 2)[0] | {"tag_no": "T-9"}, *heads(5, 6), wrong])
    before = hashes(book)
    dry = load(book, path, dry_run=True, save_mapping="kept", mapping={"tag_no": "tag_no"})
    assert hashes(book) == before
    assert sorted(item.name for item in tmp_path.iterdir()) == ["a.csv", "b.csv", "book.duckdb", "book.duckdb.anchor"]
    real = load(book, path)
    assert dry.counts() == real.counts() == {"rows": 5, "new": 2, "unchanged": 1, "revised": 1, "held": 1}
    assert dry.findings() == real.findings()
    assert [placed.changed.to_list() for placed in dry.tables] == [placed.changed.to_list() for placed in real.tables]
    assert [verdict.to_list() for verdict in dry.verdicts] == [verdict.to_list() for verdict in real.verdicts]


def test_a_refused_second_file_leaves_the_book_untouched(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    good, bad = file_of(tmp_path / "a.csv", heads(1, 3)), tmp_path / "bad.csv"
    bad.write_text("Dear secretary,\nhere are the scores.\n")
    before = hashes(book)
    with pytest.raises(FileRefused, match=r"^.*bad\.csv: no row of headings was found"):
        load(book, good, bad)
    assert hashes(book) == before
    with pytest.raises(FileRefused, match=r"gone\.csv: "):
        load(book, good, tmp_path / "gone.csv")
    assert hashes(book) == before
    assert load(book, good).counts()["new"] == 3


def test_a_mapping_is_saved_by_name_and_used_again(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    renamed = [
        {("Pole R" if name == "beam_r" else name): text for name, text in sheet.items()} for sheet in heads(1, 4)
    ]
    first, second = file_of(tmp_path / "a.csv", renamed[:2]), file_of(tmp_path / "b.csv", renamed[2:])
    load(book, first, mapping={"Pole R": "beam_r"}, save_mapping="our club")
    assert query(book, "SELECT * FROM heading_mapping") == [("our club", "Pole R", "beam_r")]
    loaded = load(book, second, use_mapping="our club")
    assert loaded.counts()["new"] == 2
    beams = query(book, "SELECT right_units FROM measurement WHERE line = 'beam'")
    assert beams == [(177,)] * 4


def test_a_mapping_that_is_not_there_is_named(tmp_path: Path) -> None:
    book, path = new_book(tmp_path), file_of(tmp_path / "a.csv", heads(1, 1))
    with pytest.raises(MappingRefused) as refused:
        load(book, path, use_mapping="our\x1b club")
    assert str(refused.value) == f"{book}: no mapping is saved as 'our\\x1b club'"


def test_a_book_that_is_not_there_is_named_before_anything_is_read(tmp_path: Path) -> None:
    with pytest.raises(BookRefused, match="no book there; make one with `beamledger init"):
        load(tmp_path / "none.duckdb", tmp_path / "also not there.csv")


def test_measures_stated_figures_and_unit_are_kept_in_eighths(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", [clean_sheet()]))
    assert query(book, "SELECT unit, spread_credit, right_total, left_total, diff_total, abnormal_total, deductions, gross, net, "
                       "stated_gross, stated_net, points_r, points_l, taken_on::VARCHAR FROM current_entry") == [
        (8, 140, 527, 516, 19, 27, 46, 1183, 1137, 1183, 1137, 7, 5, "2025-11-08")
    ]  # fmt: skip
    measured = query(book, "SELECT line, right_units, left_units, single_units, stated_difference FROM measurement")
    lines = {line: rest for line, *rest in measured}
    assert lines["beam"] == [177, 174, None, 3]
    assert lines["g3"] == [64, 67, None, 3]
    assert lines["inside_spread"] == [None, None, 140, None]
    assert lines["abnormal"][2] == 27
    assert "g5" not in lines
