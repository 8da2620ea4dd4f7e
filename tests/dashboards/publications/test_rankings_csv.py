"""The CSV files of an edition, byte by byte, and read again by the standard reader."""

import csv
import io

import polars as pl
import pytest

from dashboards.publications import rankings_csv
from tests.dashboards.publications.hand_edition import FORMULA, HOSTILE_BOOK, LINES, MARKUP, hand_edition
from warehouse.book.editions import Edition

HEADINGS = "book,category,span,place,tied,net,gross,hunter,area,district,season,weapon,antler_state,entry_no"


def rows(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode(), newline=""), strict=True))


def test_every_list_in_one_file() -> None:
    table = rows(rankings_csv.rankings(hand_edition()))
    assert table[0] == HEADINGS.split(",")
    assert table[1] == [
        "Bow Register", "whitetail-typical", "2025-26", "1", "false", "125 0/8", "125 3/8", "Ilse Marrowby", "", "",
        "2025-26", "", "velvet", "",
    ]  # fmt: skip
    typical = [HOSTILE_BOOK, "whitetail-typical", "all-time"]
    assert table[3:] == [
        [*typical, "1", "true", "150 0/8", "152 0/8", r"\u202eevil", "Abberlow", "North", "2024-25", "Rifle", "hard", "4"],
        [*typical, "1", "true", "150 0/8", "151 7/8", MARKUP, "Abberlow", "North", "2024-25", "Rifle", "hard", "'-5"],
        [*typical, "3", "false", "5/16", "10 0/16", "'" + FORMULA, "Abberlow", "North", "2023-24", "Bow", "hard", "6"],
    ]  # fmt: skip


def test_changes_and_errata() -> None:
    changes = rows(rankings_csv.changes(hand_edition()))
    assert changes[0] == ["book", "category", "kind", "entry_no", "hunter", "place_was", "place_is", "what"]
    assert [line[2:7] for line in changes[1:]] == [
        ["new", "6", "'" + FORMULA, "", "3"], ["corrected", "4", r"\u202eevil", "2", "1"], ["withdrawn", "", MARKUP, "3", ""],
    ]  # fmt: skip
    errata = rows(rankings_csv.errata(hand_edition()))
    assert errata[0] == ["book", "category", "kind", "entry_no", "hunter", "place_was", "erratum"]
    assert [line[-1] for line in errata[1:]] == [
        r"Net 140 0/8 is now 150 0/8. Reason: =1+1\x0a<b>read</b> wrong.", "Withdrawn: the owner asked for it.",
    ]  # fmt: skip


def test_records_end_as_rfc_4180_says_and_letters_are_utf_8() -> None:
    edition = hand_edition()
    named = Edition(**{**vars(edition), "lines": LINES.with_columns(hunter=pl.lit("Brünn, Åse"))})
    content = rankings_csv.rankings(named)
    assert content.startswith(HEADINGS.encode() + b"\r\nBow Register,")
    assert content.count(b"\r\n") == content.count(b"\n") == 1 + LINES.height
    assert b',"Br\xc3\xbcnn, \xc3\x85se",' in content


@pytest.mark.parametrize("make", [rankings_csv.changes, rankings_csv.errata])
def test_a_first_edition_has_empty_files_with_headings(make: object) -> None:
    assert callable(make)
    assert len(rows(make(hand_edition(None)))) == 1


def test_a_column_that_may_not_be_published_is_left_behind() -> None:
    edition = hand_edition()
    more = LINES.with_columns(tag_no=pl.lit("TAG-CANARY"), measurer=pl.lit("MEASURER-CANARY"))
    content = rankings_csv.rankings(Edition(**{**vars(edition), "lines": more}))
    assert content == rankings_csv.rankings(edition)
