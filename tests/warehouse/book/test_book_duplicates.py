from collections import Counter
from pathlib import Path

import duckdb
import polars as pl
import pytest

from tests.book_builder import query
from tests.sheet_builder import Row
from tests.warehouse.book.duplicates_builder import Herd, book_of
from tests.warehouse.book.plain_duplicates import all_pairs
from warehouse.book import database, duplicates, duplicates_bounds
from warehouse.book.decisions import Decision, decide

Found = dict[tuple[str, str], list[str]]


def herd() -> list[Row]:
    """100 sheets: 60 heads of three days and two counties, and pairs of each kind, with near misses beside them."""
    made = Herd(20261125)
    heads = [made.head() for _ in range(60)]
    made.again(
        heads[0],
        {"beam_r": 16, "g2_l": -9},
        tag_no="T1000",
        hunter="Marn Osselby",
        taken_on="2025-11-20",
        area="Brackwater",
    )
    made.again(
        heads[1], {"beam_r": 9}, tag_no="T-1001", taken_on="2024-11-10", season="2024-25"
    )  # the tag of another season
    made.again(heads[2], hunter="Somebody Else", taken_on="2025-11-30")
    made.again(heads[3], area="Brackwater", taken_on="", season="2025-26")
    for place in range(4, 9):
        made.again(heads[place], made.moved(heads[place], 2, 16), hunter="Some Relative")
    made.again(heads[9], {"g1_r": 3}, hunter="Some Relative")  # one measure too far
    made.again(
        heads[10], dict.fromkeys(("g1_r", "g1_l", "g2_r", "g2_l", "g3_r", "g3_l", "beam_r", "h1_r", "h2_r"), 2)
    )  # 18 eighths
    for place in range(11, 16):
        made.again(
            heads[place],
            made.moved(heads[place], 4, 32),
            measured_on="2026-02-03",
            hunter=_misspelt(heads[place]["hunter"]),
        )
    made.again(heads[16], {"g1_r": 4}, measurer="M-44")
    made.again(heads[17], {"g1_r": 4})  # the same day by the same measurer
    made.again(heads[18], {"g1_r": 4}, measurer="M-44", hunter="Quite Different")
    for place in range(19, 23):
        made.again(
            heads[place], made.moved(heads[place], 4, 32), category="whitetail-nontypical", hunter="Another Name"
        )
    made.again(
        heads[23], {"h2_r": 3}, category="whitetail-nontypical", tag_no=heads[23]["tag_no"].lower(), area="Corrowick"
    )
    family = made.head(hunter="Tarn Holtquarry")
    made.again(family, {"g1_r": 4}, measurer="M-44", hunter="Zed Holtquarry")  # not the same name by far
    old = made.head(area="Old Abberlow", taken_on="2025-11-08")
    made.again(old, {"h1_l": 1}, area="Abberlow")
    blank = made.head()
    made.again(blank, {"h1_l": 1})["h1_r"] = ""
    made.head(tag_no="none", hunter="Corwin Vale"), made.head(tag_no="None", hunter="Ulf Ätten")
    while len(made.rows) < 100:
        made.head()
    return made.rows


def _misspelt(name: str) -> str:
    """As another typist writes it: the family name first, without marks, a letter lost."""
    given, family = name.replace("Š", "S").replace("Ä", "A").split()
    return f"{family.upper()}, {given[:-1]}"


def found(book: Path, entry_id: int | None = None, with_decided: bool = False) -> pl.DataFrame:
    with database.reading(book) as connection:
        return duplicates.pairs(connection, entry_id, with_decided)


def named(pairs: pl.DataFrame) -> Found:
    return {
        (one, other): kinds
        for one, other, kinds in pairs.select("first_entry_no", "second_entry_no", "kinds").iter_rows()
    }


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return book_of(tmp_path_factory.mktemp("duplicates"), herd())


def test_the_pairs_are_those_of_every_sheet_held_against_every_other(book: Path) -> None:
    expected = all_pairs(herd())
    assert named(found(book)) == expected
    assert Counter(kinds[0] for kinds in expected.values()) == {
        "same-tag": 2, "same-head": 2, "near-head": 7, "measured-again": 6, "other-category": 4,
    }  # fmt: skip


def test_one_entry_has_the_pairs_that_it_has_among_all(book: Path) -> None:
    every = found(book)
    for number in (1, 61, 100):
        mine = every.filter((pl.col("first_id") == number) | (pl.col("second_id") == number))
        assert found(book, entry_id=number).equals(mine)


def test_what_is_told_of_a_pair(book: Path) -> None:
    pair = found(book).filter(pl.col("second_entry_no") == "61").row(0, named=True)
    assert {name: pair[name] for name in ("first_id", "second_id", "kinds", "near", "decided")} == {
        "first_id": 1, "second_id": 61, "kinds": ["same-tag"], "near": 25, "decided": None,
    }  # fmt: skip
    told = (
        "entry_no",
        "hunter",
        "area",
        "season",
        "category",
        "unit",
        "measurer",
        "tag_no",
        "status",
        "revision_no",
        "newest_event",
    )
    assert [pair[f"second_{name}"] for name in told] == [
        "61", "Marn Osselby", "Brackwater", "2025-26", "whitetail-typical", 8, "M-12", "T1000", "held", 1, 0,
    ]  # fmt: skip
    assert str(pair["second_taken_on"]) == "2025-11-20"
    gross, net = query(book, "SELECT gross, net FROM entry_revision WHERE entry_id = 61")[0]
    assert (pair["second_gross"], pair["second_net"]) == (gross, net)


def test_the_strongest_kind_comes_first_and_then_the_nearest(book: Path) -> None:
    order = [
        (duplicates_bounds.KINDS.index(kinds[0]), near, first, second)
        for kinds, near, first, second in found(book).select("kinds", "near", "first_id", "second_id").iter_rows()
    ]
    assert order == sorted(order)


# Decisions --------------------------------------------------------------------------------------------------------


def three_of_one_head(folder: Path) -> Path:
    made = Herd(7)
    one = made.head()
    made.again(one, {"h1_r": 1})
    made.again(one, {"h1_r": 2})
    return book_of(folder, made.rows)


def decided(book: Path) -> list[tuple[int, int, str | None, int | None]]:
    rows = found(book, with_decided=True).sort("first_id", "second_id")
    return rows.select("first_id", "second_id", "decided", "decided_about").rows()


def test_a_decided_pair_asks_no_more_and_asks_again_when_it_is_undone(tmp_path: Path) -> None:
    book = three_of_one_head(tmp_path)
    assert sorted(found(book).select("first_id", "second_id").rows()) == [(1, 2), (1, 3), (2, 3)]
    decide(book, Decision("distinct", 3, "Una Reed", "two sheds", other_entry_id=1))
    assert sorted(found(book).select("first_id", "second_id").rows()) == [(1, 2), (2, 3)]
    assert decided(book) == [(1, 2, None, None), (1, 3, "two heads", 3), (2, 3, None, None)]
    decide(book, Decision("undo", 3, "Una Reed", "looked again"))
    assert sorted(found(book).select("first_id", "second_id").rows()) == [(1, 2), (1, 3), (2, 3)]


def test_a_merged_entry_asks_nothing_and_its_pair_is_decided(tmp_path: Path) -> None:
    book = three_of_one_head(tmp_path)
    decide(book, Decision("merge", 2, "Una Reed", "one rack", other_entry_id=1))
    assert decided(book) == [(1, 2, "one head", 2), (1, 3, None, None)]
    assert found(book, with_decided=True).filter(pl.col("second_id") == 2)["second_status"].to_list() == ["merged"]


@pytest.mark.parametrize("kind", ["withdraw", "refuse"])
def test_an_entry_that_left_the_book_asks_nothing(tmp_path: Path, kind: str) -> None:
    book = three_of_one_head(tmp_path)
    decide(book, Decision(kind, 2, "Una Reed", "sent by mistake"))
    assert decided(book) == [(1, 3, None, None)]


def test_a_decision_about_two_that_nothing_brings_up_is_told_without_a_kind(tmp_path: Path) -> None:
    made = Herd(8)
    made.head(taken_on="2025-11-08"), made.head(taken_on="2025-11-09")
    book = book_of(tmp_path, made.rows)
    decide(book, Decision("distinct", 1, "Una Reed", "asked by mail", other_entry_id=2))
    pairs = found(book, with_decided=True)
    assert pairs.select("first_id", "second_id", "kinds", "decided").rows() == [(1, 2, [], "two heads")]
    assert found(book).is_empty()


# Large blocks -----------------------------------------------------------------------------------------------------


def one_opening_day(seed: int, heads: int) -> list[Row]:
    """Heads of one day and county, no two hunters with a word in common, some of them entered twice."""
    made = Herd(seed)
    for place in range(heads):
        made.head(taken_on="2025-11-08", area="Abberlow", hunter=f"Hunter {_word(place)}")
    for place, row in enumerate(made.rows[: heads // 3]):
        made.again(row, made.moved(row, 2, 16), hunter=f"Hunter {_word(heads + place)}")
    return made.rows


def _word(place: int) -> str:
    return "".join(chr(ord("a") + place // 26**power % 26) * 3 for power in range(2))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_no_near_head_is_missed_in_a_block_that_is_too_large_to_compare_each_with_each(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    rows = one_opening_day(seed, 90)
    book, expected = book_of(tmp_path, rows), all_pairs(rows)
    monkeypatch.setattr(duplicates_bounds, "BLOCK_MOST", 5)
    assert len(expected) == 30
    assert named(found(book)) == expected


def test_a_large_block_is_compared_by_the_words_of_names_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = Herd(4)
    for place in range(20):
        made.head(taken_on="2025-11-08", area="Abberlow", hunter=f"Hunter {_word(place)}")
    made.again(made.rows[3], {"g1_r": 4}, measurer="M-44")
    made.again(made.rows[5], {"g1_r": 1}, measurer="M-44", hunter=f"Huntre {_word(5)}")["h1_l"] = ""
    book, expected = book_of(tmp_path, made.rows), all_pairs(made.rows)
    monkeypatch.setattr(duplicates_bounds, "BLOCK_MOST", 5)
    assert (
        named(found(book))
        == expected
        == {("4", "21"): ["measured-again"], ("6", "22"): ["measured-again", "near-head"]}
    )


def test_many_equal_sheets_are_each_paired_with_the_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = Herd(5)
    one = made.head(taken_on="2025-11-08", area="Abberlow")
    for day in range(10, 16):
        made.again(one, taken_on=f"2025-11-{day}", hunter=f"Hunter {day}")
    book = book_of(tmp_path, made.rows)
    monkeypatch.setattr(duplicates_bounds, "BLOCK_MOST", 5)
    assert sorted(named(found(book))) == [("1", str(number)) for number in range(2, 8)]


def test_a_tag_that_many_entries_carry_is_a_placeholder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = Herd(6)
    for _ in range(4):
        made.head(tag_no="A-1")
    made.head(tag_no="A-2"), made.head(tag_no="a 2")
    book = book_of(tmp_path, made.rows)
    monkeypatch.setattr(duplicates_bounds, "TAG_MOST", 3)
    assert named(found(book)) == {("5", "6"): ["same-tag"]}


def test_without_a_reference_table_the_area_as_written_makes_the_block(tmp_path: Path) -> None:
    made = Herd(9)
    one = made.head(area="Nowhere in Particular")
    made.again(one, {"h1_r": 1}, area="nowhere in particular ")
    made.again(one, {"h1_r": 1}, area="")
    assert named(found(book_of(tmp_path, made.rows, areas=False))) == {
        ("1", "2"): ["near-head"],
        ("2", "3"): ["same-head"],
    }


def test_nothing_is_left_behind_in_the_connection(book: Path) -> None:
    with database.reading(book) as connection:
        before = _tables(connection)
        duplicates.pairs(connection)
        assert _tables(connection) == before


def _tables(connection: duckdb.DuckDBPyConnection) -> list[tuple[str]]:
    return connection.execute("SELECT table_name FROM information_schema.tables ORDER BY 1").fetchall()


def test_an_empty_book_has_no_pair(tmp_path: Path) -> None:
    book = book_of(tmp_path, Herd(1).rows or [Herd(1).head()])
    pairs = found(book)
    assert pairs.is_empty()
    assert pairs.columns == list(duplicates.COLUMNS)
