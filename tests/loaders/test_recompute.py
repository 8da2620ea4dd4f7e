"""Every score recomputed from the rows as received: sound books stay sound, an altered figure is named with its row."""

from pathlib import Path

import duckdb
import pytest

from loaders import recompute as recomputing
from loaders.recompute import recompute
from tests.book_builder import beside, copy_of, file_of, heads, load, new_book, query
from tests.logged_book import OTHER_MEASURERS, REFERENCE, correct, put_reference
from tests.sheet_builder import MEASURES, Row, clean_sheet
from warehouse.book.verify import Check


def scores(received: int, corrected: int) -> list[Check]:
    rows, corrections = (f"{count} {what}{'' if count == 1 else 's'}" for count, what in
                         ((received, "row"), (corrected, "corrected row")))  # fmt: skip
    return [
        Check("scores", True, received, f"{rows} as received, recomputed and the same"),
        Check("corrections", True, corrected, f"{corrections}, recomputed and the same"),
    ]


def faults(book: Path) -> dict[str, str]:
    """The checks that do not hold, and why."""
    return {check.name: check.message for check in recompute(book) if not check.holds}


def alter(book: Path, to: Path, *sql: str) -> Path:
    """A copy of a book with something altered by hand; its anchor is taken away."""
    copy = copy_of(book, to)
    beside(copy, ".anchor").unlink()
    with duckdb.connect(str(copy)) as connection:
        for statement in sql:
            (touched,) = connection.execute(statement).fetchall()[0]
            assert touched > 0
    return copy


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three heads; G2 of the third cannot be read."""
    folder = tmp_path_factory.mktemp("plain")
    book = new_book(folder)
    load(book, file_of(folder / "show.csv", [*heads(1, 2), heads(3, 3)[0] | {"g2_r": "??"}]))
    return book


@pytest.fixture(scope="module")
def small(plain: Path) -> Path:
    """The same; the second head is corrected twice, the second time also in a column that the file does not have."""
    book = copy_of(plain, plain.with_name("small.duckdb"))
    correct(book, 2, hunter="Una Vale")
    correct(book, 2, net="100 0/8", antler_state="velvet")
    return book


def test_an_empty_book_is_sound(tmp_path: Path) -> None:
    assert recompute(new_book(tmp_path)) == scores(0, 0)


def test_rows_of_every_kind_are_read_again_as_they_were(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two categories, one that is not known, cells that hold the separator, a row sent again, a sheet without a number."""
    book = new_book(tmp_path)
    odd = clean_sheet(entry_no="5", hunter="A\x1fB", category="whitetail-nontypical", g3_l="8 2/8")
    rows = [
        *heads(1, 2),
        odd,
        heads(3, 3)[0] | {"category": "unicorn"},
        heads(4, 4)[0] | {"entry_no": "", "tag_no": " "},
    ]
    load(book, file_of(tmp_path / "a.csv", rows))
    load(book, file_of(tmp_path / "b.csv", [rows[1], heads(9, 9)[0], rows[0] | {"tag_no": "T-9"}]))
    assert query(book, "SELECT verdict FROM received_row WHERE file_id = 2 ORDER BY row_id") == [
        ("unchanged",), ("new",), ("revised",),
    ]  # fmt: skip
    assert query(book, "SELECT count(*) FROM received_row WHERE cells[1] = chr(30)") == [(1,)]
    told: list[tuple[str, int, int]] = []
    assert recompute(book, tell=lambda *words: told.append(words)) == scores(7, 0)
    assert told == [("recomputing a.csv", 0, 2), ("recomputing b.csv", 1, 2)]
    monkeypatch.setattr(recomputing, "MOST_ROWS", 1)  # each file at an opening of its own
    assert recompute(book) == scores(7, 0)


def test_a_corrected_number_does_not_make_the_row_as_received_another(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", heads(1, 2)))
    correct(book, 1, entry_no="18", category="whitetail-nontypical")
    load(book, file_of(tmp_path / "b.csv", [heads(1, 1)[0] | {"entry_no": "18", "tag_no": "T-9"}]))
    assert recompute(book) == scores(3, 1)


def test_reference_tables_that_changed_since_do_not_matter(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    put_reference(book, **REFERENCE)
    load(book, file_of(tmp_path / "a.csv", heads(1, 2)))
    correct(book, 1, tag_no="T-9")
    resolved = "SELECT measurer, area_code, season FROM entry_revision"
    assert set(query(book, resolved)) == {("M-12", "07001", "2025-26")}
    put_reference(
        book,
        measurer=OTHER_MEASURERS,
        area=f"{REFERENCE['area']}\n07005,Corrow,ZZ,South,Lowland".replace("Abberlow", "Abbermere"),
        season="season,starts_on,ends_on\n2025-26,2025-12-01,2026-06-30",
    )
    assert recompute(book) == scores(2, 1)


# Altered by hand -------------------------------------------------------------------------------------------------

AS_RECEIVED, AS_CORRECTED = "the row as received gives", "the row as corrected gives"


@pytest.mark.parametrize(
    ("sql", "message"),
    [
        ("UPDATE entry_revision SET gross = gross + 8, net = net + 8 WHERE revision_id = 1",
         f"row 2, gross: revision 1 holds 146 5/8, {AS_RECEIVED} 145 5/8"),
        ("UPDATE entry_revision SET gross = NULL, net = NULL WHERE revision_id = 1",
         f"row 2, gross: revision 1 holds nothing, {AS_RECEIVED} 145 5/8"),
        ("UPDATE entry_revision SET net = 1000 WHERE revision_id = 3", f"row 4, net: revision 1 holds 125 0/8, {AS_RECEIVED} nothing"),
        ("UPDATE entry_revision SET stated_net = 1 WHERE revision_id = 1", f"row 2, stated_net: revision 1 holds 1/8, {AS_RECEIVED} 137 5/8"),
        ("UPDATE entry_revision SET hunter = 'Nobody' WHERE revision_id = 1", f"row 2, hunter: revision 1 holds 'Nobody', {AS_RECEIVED} 'Hunter 1'"),
        ("UPDATE entry_revision SET category = 'whitetail-nontypical' WHERE revision_id = 2",
         f"row 3, category: revision 1 holds 'whitetail-nontypical', {AS_RECEIVED} 'whitetail-typical'"),
        ("UPDATE entry_revision SET unit = 16 WHERE revision_id = 2", f"row 3, unit: revision 1 holds '16', {AS_RECEIVED} '8'"),
        ("UPDATE entry_revision SET taken_on = DATE '2024-11-08' WHERE revision_id = 2",
         f"row 3, taken_on: revision 1 holds '2024-11-08', {AS_RECEIVED} '2025-11-08'"),
        ("UPDATE entry_revision SET age_half_years = 9 WHERE revision_id = 2", f"row 3, age_half_years: revision 1 holds '9', {AS_RECEIVED} nothing"),
        ("UPDATE entry_revision SET points_l = NULL WHERE revision_id = 2", f"row 3, points_l: revision 1 holds nothing, {AS_RECEIVED} '5'"),
        ("UPDATE entry SET entry_no = '11' WHERE entry_id = 1", f"row 2, entry_no: revision 1 holds '11', {AS_RECEIVED} '1'"),
        ("UPDATE received_row SET cells = replace(cells, 'Hunter 2', 'Hunter 9') WHERE row_id = 2",
         f"row 3, hunter: revision 1 holds 'Hunter 2', {AS_RECEIVED} 'Hunter 9'"),
        ("UPDATE measurement SET left_units = 1 WHERE revision_id = 1 AND line = 'g2'",
         f"row 2, g2_l: revision 1 holds 1/8, {AS_RECEIVED} 8 0/8"),
        ("UPDATE measurement SET single_units = NULL WHERE revision_id = 2 AND line = 'tip_to_tip'",
         f"row 3, tip_to_tip: revision 1 holds nothing, {AS_RECEIVED} 12 2/8"),
        ("UPDATE measurement SET stated_difference = 99 WHERE revision_id = 3 AND line = 'h1'",
         f"row 4, h1_diff: revision 1 holds 12 3/8, {AS_RECEIVED} 1/8"),
        ("DELETE FROM measurement WHERE revision_id = 2 AND line = 'h4'", f"row 3, h4_r: revision 1 holds no such line, {AS_RECEIVED} 4 0/8"),
        ("UPDATE measurement SET line = 'g9' WHERE revision_id = 2 AND line = 'h4'",
         f"row 3, g9_r: revision 1 holds 4 0/8, {AS_RECEIVED} no such line"),
        ("INSERT INTO measurement SELECT * FROM measurement WHERE revision_id = 2 AND line = 'beam'",
         f"row 3, beam_r: revision 1 holds 22 1/8, {AS_RECEIVED} no such line"),
    ],
)  # fmt: skip
def test_an_altered_figure_is_named(plain: Path, tmp_path: Path, sql: str, message: str) -> None:
    assert faults(alter(plain, tmp_path / "copy.duckdb", sql)) == {"scores": f"show.csv, {message}"}


def test_an_altered_key_of_the_measures_is_named(plain: Path, tmp_path: Path) -> None:
    ((key,),) = query(plain, "SELECT measure_key FROM entry_revision WHERE revision_id = 1")
    altered = alter(plain, tmp_path / "copy.duckdb", "UPDATE entry_revision SET measure_key = 7 WHERE revision_id = 1")
    assert faults(altered) == {"scores": f"show.csv, row 2, measure_key: revision 1 holds '7', {AS_RECEIVED} '{key}'"}


@pytest.mark.parametrize(
    ("sql", "message"),
    [
        ("UPDATE entry_revision SET hunter = 'Hunter 2' WHERE revision_id = 4",
         f"revision 2 holds 'Hunter 2', {AS_CORRECTED} 'Una Vale'"),
        ("UPDATE entry_revision SET hunter = 'Hunter 2' WHERE revision_id = 5",
         f"revision 3 holds 'Hunter 2', {AS_CORRECTED} 'Una Vale'"),
        ("UPDATE entry_revision SET stated_net = 1103 WHERE revision_id = 5", f"revision 3 holds 137 7/8, {AS_CORRECTED} 100 0/8"),
        ("UPDATE corrected_cell SET corrected_text = '' WHERE field = 'net'", f"revision 3 holds 100 0/8, {AS_CORRECTED} nothing"),
        ("UPDATE corrected_cell SET corrected_text = 'hard' WHERE field = 'antler_state'", f"revision 3 holds 'velvet', {AS_CORRECTED} 'hard'"),
        ("UPDATE measurement SET right_units = 0 WHERE revision_id = 5 AND line = 'beam'", f"revision 3 holds 0, {AS_CORRECTED} 22 1/8"),
        ("UPDATE entry_revision SET entry_no = '7' WHERE revision_id = 4", f"revision 2 holds '7', {AS_CORRECTED} '2'"),
    ],
)  # fmt: skip
def test_an_altered_figure_of_a_corrected_row_is_named(small: Path, tmp_path: Path, sql: str, message: str) -> None:
    found = faults(alter(small, tmp_path / "copy.duckdb", sql))
    place, _, said = found["corrections"].partition(": ")
    assert (list(found), place.rpartition(",")[0], said) == (["corrections"], "show.csv, row 3", message)


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE received_file SET headings = headings[2:]",
        "UPDATE received_row SET cells = chr(30) || '[' WHERE row_id = 2",
        "UPDATE received_row SET cells = chr(30) || '[]' WHERE row_id = 2",
        "UPDATE received_file SET fields = list_resize(['g2_r'], len(fields), 'g2_r')",
    ],
)
def test_rows_that_cannot_be_read_any_more_are_a_fault(plain: Path, tmp_path: Path, sql: str) -> None:
    found = faults(alter(plain, tmp_path / "copy.duckdb", sql))
    assert found["scores"].startswith("show.csv: its rows cannot be read any more: ")


# Cells that may be two lengths -----------------------------------------------------------------------------------


def with_points(row: Row) -> Row:
    """The row with 17 4/8 written as 17.4, as some do who count eighths."""
    lengths = {field for field in row if field in MEASURES or field.endswith(("_diff", "_total"))}
    lengths |= {"gross", "net", "deductions", "spread_credit"}
    return {field: _with_point(text) if field in lengths and ";" not in text else text for field, text in row.items()}


def _with_point(text: str) -> str:
    whole, _, eighths = text.rpartition(" ")
    return f"{whole or 0}.{eighths.removesuffix('/8')}" if "/" in text else text


@pytest.fixture(scope="module")
def habit(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Ten sheets tell by their figures that 17.4 is 17 4/8; 3 states no figure, nor does 4. Both are corrected elsewhere."""
    folder = tmp_path_factory.mktemp("habit")
    book = new_book(folder)
    rows = [with_points(row) for row in heads(1, 12)]
    figures = [name for name in rows[0] if name.endswith(("_diff", "_total"))]
    for place in (2, 3):
        rows[place] |= dict.fromkeys((*figures, "gross", "net", "deductions", "spread_credit"), "")
    load(book, file_of(folder / "points.csv", rows))
    correct(book, 3, tag_no="T-8")
    correct(book, 4, tag_no="T-9")
    correct(book, 3, inside_spread="17 4/8")
    return book


def test_cells_read_by_the_habit_of_their_writer_are_read_so_again(habit: Path) -> None:
    assert query(habit, "SELECT DISTINCT net FROM entry_revision WHERE entry_id IN (3, 4) ORDER BY 1") == [
        (1105,),
        (1107,),
    ]
    assert recompute(habit) == scores(12, 3)


def test_an_altered_figure_that_rests_on_the_habit_is_named(habit: Path, tmp_path: Path) -> None:
    sql = "UPDATE measurement SET single_units = 139 WHERE revision_id = {} AND line = 'inside_spread'"
    as_received = alter(habit, tmp_path / "received.duckdb", sql.format(4))
    assert faults(as_received) == {
        "scores": f"points.csv, row 5, inside_spread: revision 1 holds 17 3/8, {AS_RECEIVED} 17 4/8"
    }
    corrected = alter(habit, tmp_path / "corrected.duckdb", sql.format(14))
    assert faults(corrected) == {
        "corrections": f"points.csv, row 5, inside_spread: revision 2 holds 17 3/8, {AS_CORRECTED} 17 4/8"
    }
