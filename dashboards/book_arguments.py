"""The arguments of the commands that keep a book: its reference tables, decisions, standings, rankings, editions, safety."""

import argparse
import math
from collections.abc import Callable
from datetime import date
from pathlib import Path

from warehouse.book.decision_kinds import KINDS

LEAST_SPREAD, MOST_SPREAD = 5, 40  # inches; beyond, it is no standard deviation of scores


def seconds(text: str) -> float:
    """A time to wait, 0 or more. Raises ValueError, which the parser puts into words."""
    number = float(text)
    if not 0 <= number < math.inf:
        raise ValueError
    return number


def count(text: str) -> int:
    """A number of things, 1 or more. Raises ValueError, which the parser puts into words."""
    number = int(text)
    if number < 1:
        raise ValueError
    return number


def day(text: str) -> date:
    """A day like 2026-03-14. Raises ValueError, which the parser puts into words."""
    return date.fromisoformat(text)


def spread(text: str) -> float:
    """A standard deviation of scores in inches. Raises ValueError, which the parser puts into words."""
    number = float(text)
    if not LEAST_SPREAD <= number <= MOST_SPREAD:
        raise ValueError
    return number


def book(parser: argparse.ArgumentParser) -> None:
    """--book and --wait."""
    parser.add_argument("--book", type=Path, required=True, metavar="BOOK", help="the book's file")
    wait(parser)


def wait(parser: argparse.ArgumentParser) -> None:
    """--wait."""
    parser.add_argument(
        "--wait", type=seconds, default=10.0, metavar="SECONDS", help="how long to wait for a locked book (10)"
    )


def as_json(parser: argparse.ArgumentParser) -> None:
    """--json."""
    parser.add_argument("--json", action="store_true", help="print JSON Lines: one object a line")


def _standing(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument("--entry", metavar="NO", help="only this entry: its number, or its ID as =ID")
    parser.add_argument("--in", dest="record_book", metavar="BOOKNAME", help="only this record book")
    as_json(parser)


def _rank(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument("--in", dest="record_book", metavar="BOOKNAME",
                        help="what qualifies in this record book (default: every accepted entry)")  # fmt: skip
    parser.add_argument("--category", metavar="C")
    parser.add_argument("--area", metavar="A", help="county or parish, by name or code")
    parser.add_argument("--district", metavar="D")
    parser.add_argument("--season", metavar="S", help="one season, like 2024-25")
    parser.add_argument("--from", dest="first_season", metavar="S", help="from this season on")
    parser.add_argument("--to", dest="last_season", metavar="S", help="up to this season")
    parser.add_argument("--weapon", metavar="W", help="a weapon, or a class of weapons such as firearm")
    parser.add_argument(
        "--score", choices=("net", "gross"), help="what is ranked (default: the record book's rule, else net)"
    )
    parser.add_argument("--top", type=count, metavar="N", help="only the first N places of each category")
    as_json(parser)


def _trend(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument(
        "--in", dest="record_book", metavar="BOOKNAME", required=True, help="what qualifies in this record book"
    )
    parser.add_argument("--category", metavar="C", help="default: whitetail-typical, where the book has it")
    place = parser.add_mutually_exclusive_group()
    place.add_argument("--district", metavar="D")
    place.add_argument("--area", metavar="A", help="county or parish, by name or code")
    parser.add_argument("--from", dest="first_season", metavar="S", help="from this season on")
    parser.add_argument("--to", dest="last_season", metavar="S", help="up to this season")
    parser.add_argument("--weapon", metavar="W", help="a weapon, or a class of weapons such as firearm")
    parser.add_argument("--effort", choices=("harvest", "licences", "area", "none"), help="what rates are per, or none for counts (default: the first that is known enough)")  # fmt: skip
    parser.add_argument("--cut", metavar="LENGTH", help="count from this score on, like '140 4/8' (default: the highest minimum of the seasons)")  # fmt: skip
    parser.add_argument(
        "--second", type=count, metavar="INCHES", help="how far the second cut lies above the first (15)"
    )
    parser.add_argument(
        "--spread", type=spread, metavar="INCHES",
        help=f"standard deviation of the scores of all bucks, known from elsewhere ({LEAST_SPREAD} to {MOST_SPREAD}): adds the trend of their mean",
    )  # fmt: skip
    parser.add_argument(
        "--antlers", action="store_true", help="what the heads above the cut are like, in place of the rates"
    )
    parser.add_argument("--as-of", type=day, metavar="DAY", help="the book as it was known when this day (UTC) ended, like 2026-03-14")  # fmt: skip
    as_json(parser)


def _measurers(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument(
        "--in",
        dest="record_book",
        metavar="BOOKNAME",
        required=True,
        help="the record book whose minimums are looked at",
    )
    parser.add_argument("--category", metavar="C", help="default: whitetail-typical, where the book has it")
    parser.add_argument("--from", dest="first_season", metavar="S", help="from this season on")
    parser.add_argument("--to", dest="last_season", metavar="S", help="up to this season")
    parser.add_argument("--as-of", type=day, metavar="DAY", help="the book as it was known when this day (UTC) ended, like 2026-03-14")  # fmt: skip
    as_json(parser)


def _decide(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument("entry", metavar="ENTRY", help="the entry's number, or its ID as =ID")
    parser.add_argument("decision", choices=KINDS, help="what is decided")
    parser.add_argument("--by", required=True, metavar="NAME", help="who decides")
    parser.add_argument(
        "--why",
        required=True,
        metavar="TEXT",
        help="the reason, or the question; kept in the log, and printed where an edition tells of it",
    )
    parser.add_argument("--despite-errors", action="store_true", help="accept: although the audit found errors")
    parser.add_argument("--net", metavar="LENGTH", help="panel: the net that the panel measured, like 150 3/8")
    parser.add_argument("--gross", metavar="LENGTH", help="panel: the gross that the panel measured")
    parser.add_argument("--with", dest="other", metavar="ENTRY", help="merge, distinct: the other entry")
    parser.add_argument("--cell", action="append", default=[], metavar="FIELD=TEXT",
                        help="correct: the text a cell should have; nothing behind = empties it; may be repeated")  # fmt: skip
    parser.add_argument("--accept", nargs="?", type=int, const=0, metavar="N",
                        help="correct: as explanation N proposes (the likeliest)")  # fmt: skip
    as_json(parser)


def _duplicates(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument("--entry", metavar="NO", help="only pairs with this entry: its number, or its ID as =ID")
    parser.add_argument("--all", action="store_true", help="also the pairs that were decided")
    as_json(parser)


def _verify(parser: argparse.ArgumentParser) -> None:
    book(parser)
    as_json(parser)


def _publish(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument("--edition", required=True, metavar="NAME", help="the edition's name, like 2026")
    parser.add_argument("--to", type=Path, required=True, metavar="FOLDER", help="where to write it; made if not there")
    parser.add_argument("--by", metavar="NAME", help="who publishes (default: the login name)")
    parser.add_argument("--why", metavar="TEXT", default="annual rankings", help="the reason, kept in the log")


def _reference(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="reference files, or a folder of them")
    book(parser)
    parser.add_argument("--by", metavar="NAME", help="who changes the tables (default: the login name)")
    parser.add_argument("--why", required=True, metavar="TEXT", help="the reason, kept in the log")


def _backup(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("book", type=Path, metavar="BOOK", help="the book's file")
    parser.add_argument("file", type=Path, metavar="FILE", help="the backup to write")
    wait(parser)


def _restore(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="a backup")
    parser.add_argument("book", type=Path, metavar="BOOK", help="the book to make of it; must not be there yet")


COMMANDS: dict[str, tuple[str, Callable[[argparse.ArgumentParser], None]]] = {
    "standing": ("say of every entry where it qualifies, or why not", _standing),
    "rank": ("rank the entries", _rank),
    "trend": ("tell the trends among a record book's entries, and what they do not tell", _trend),
    "measurers": ("tell how alike measurers measure, which accuses nobody", _measurers),
    "decide": ("decide about one entry, with a name and a reason", _decide),
    "duplicates": ("list pairs of entries that may be one head", _duplicates),
    "verify": ("prove that the book is whole, and every score right", _verify),
    "publish": ("freeze an edition and write its rankings", _publish),
    "reference": ("put reference tables in place of the book's", _reference),
    "backup": ("write a backup of a book", _backup),
    "restore": ("make a book of a backup", _restore),
}
"""Command -> its summary, and what adds its arguments."""
