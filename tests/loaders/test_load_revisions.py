"""A sheet sent again with something changed: one more revision, which says what; the old one stays."""

from pathlib import Path

import pytest

from tests.book_builder import file_of, heads, load, new_book, query
from tests.sheet_builder import clean_sheet
from warehouse.book import balance, database

REVISIONS = "SELECT entry_id, revision_no, reason, status, net FROM entry_revision ORDER BY entry_id, revision_no"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    book = new_book(tmp_path)
    load(book, file_of(tmp_path / "a.csv", heads(1, 3)))
    return book


def balanced(book: Path) -> tuple[int, int, int, int]:
    """Rows received, accepted, held and sent again."""
    with database.reading(book) as connection:
        found = balance.balance(connection)
    assert found.holds
    assert found.received == found.accepted + found.held + found.sent_again
    return found.received, found.accepted, found.held, found.sent_again


def test_one_changed_measure_is_one_revision_in_words(book: Path, tmp_path: Path) -> None:
    before = query(book, REVISIONS)
    assert balanced(book) == (3, 3, 0, 0)
    first, second, third = heads(1, 3)
    changed = clean_sheet(**(second | {"g3_r": "8 1/8"}))
    loaded = load(book, file_of(tmp_path / "b.csv", [first, changed, third]))
    assert loaded.counts() == {"rows": 3, "new": 0, "unchanged": 2, "revised": 1, "held": 0}
    words = (
        "g3_r: 8 0/8 -> 8 1/8; g3_diff: 3/8 -> 2/8; right_total: 65 7/8 -> 66 0/8; diff_total: 4 4/8 -> 4 3/8; "
        "deductions: 7 7/8 -> 7 6/8; gross: {} -> {}; net: {} -> {}"
    ).format(second["gross"], changed["gross"], second["net"], changed["net"])
    after = query(book, REVISIONS)
    assert after[:2] == before[:2]
    assert after[3:] == before[2:]
    assert after[2][:4] == (2, 2, words, "accepted")
    assert after[2][4] == before[1][4] + 2  # an eighth more, and an eighth less to deduct
    assert balanced(book) == (6, 3, 0, 3)


@pytest.mark.parametrize(
    ("field", "text", "words"),
    [
        ("hunter", "Somebody Else", "hunter: Hunter 2 -> Somebody Else"),
        ("taken_on", "2025-11-09", "taken_on: 2025-11-08 -> 2025-11-09"),
        ("area", "Brackwater", "area: Abberlow -> Brackwater"),
        ("tag_no", "", "tag_no: T-4 -> (blank)"),
        ("points_r", "8", "points_r: 7 -> 8"),
    ],
)
def test_one_changed_entry_field_is_one_revision(book: Path, tmp_path: Path, field: str, text: str, words: str) -> None:
    load(book, file_of(tmp_path / "b.csv", [heads(2, 2)[0] | {field: text}]))
    assert query(book, "SELECT count(*) FROM entry") == [(3,)]
    assert query(book, "SELECT entry_id, revision_no, reason FROM entry_revision WHERE revision_no > 1") == [
        (2, 2, words)
    ]


def test_a_changed_figure_that_does_not_add_up_is_held_and_its_finding_replaces_none(
    book: Path, tmp_path: Path
) -> None:
    second = heads(2, 2)[0]
    loaded = load(book, file_of(tmp_path / "b.csv", [second | {"net": "1 0/8"}]))
    assert loaded.counts() == {"rows": 1, "new": 0, "unchanged": 0, "revised": 0, "held": 1}
    assert query(book, "SELECT entry_id, status FROM current_entry ORDER BY 1") == [
        (1, "accepted"),
        (2, "held"),
        (3, "accepted"),
    ]
    assert query(book, "SELECT entry_id, code FROM open_finding WHERE severity = 'error'") == [(2, "net")]
    assert balanced(book) == (4, 2, 1, 1)
    mended = load(book, file_of(tmp_path / "c.csv", [second | {"tag_no": "T-5"}]))
    assert mended.counts()["revised"] == 1
    assert query(book, "SELECT count(*) FROM open_finding WHERE severity = 'error'") == [(0,)]
    assert query(book, "SELECT count(*) FROM finding WHERE code = 'net'") == [
        (1,)
    ]  # what was found stays in the ledger
    reasons = [
        reason for (reason,) in query(book, "SELECT reason FROM entry_revision WHERE entry_id = 2 ORDER BY revision_no")
    ]
    assert reasons == [
        "first received",
        f"net: {second['net']} -> 1 0/8",
        f"tag_no: T-4 -> T-5; net: 1 0/8 -> {second['net']}",
    ]


def test_each_row_is_counted_in_exactly_one_verdict(book: Path, tmp_path: Path) -> None:
    first, second, third = heads(1, 3)
    rows = [
        first,
        second | {"tag_no": "T-9"},
        third | {"net": "1 0/8"},
        *heads(10, 12),
        heads(13, 13)[0] | {"gross": "5 0/8"},
    ]
    loaded = load(book, file_of(tmp_path / "b.csv", rows))
    assert loaded.counts() == {"rows": 7, "new": 3, "unchanged": 1, "revised": 1, "held": 2}
    verdicts = query(book, "SELECT row, verdict FROM received_row WHERE file_id = 2 ORDER BY row")
    names = ["unchanged", "revised", "held", "new", "new", "new", "held"]
    assert verdicts == [(row, name) for row, name in enumerate(names, start=2)]
    assert query(book, "SELECT count(*), count(DISTINCT entry_id) FROM received_row WHERE file_id = 2") == [(7, 7)]
