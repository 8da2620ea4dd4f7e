"""An edition as it was frozen: one object, from which every format of it is made."""

from dataclasses import dataclass
from datetime import date

import duckdb
import polars as pl

from warehouse.book import contents, events
from warehouse.book.editions.printed import ALLOWED
from warehouse.book.named_query import frame
from warehouse.errors import EditionRefused
from warehouse.plain_text import shown


@dataclass(frozen=True)
class Edition:
    """A published edition. It holds no more of an entry than may be published (`printed.ALLOWED`).

    `events`, `head`: how many events of the log it rests on, and the hash of the last one. `before`: the name of the
    edition before; None for the first. `season`: the newest season in it. `entries`: accepted entries of the book then.
    Frames, each in the order in which it is printed; lengths are whole 1/`unit` inch:
    `lines`: book, category, span ('all-time', or a season), unit, and ALLOWED.
    `minimums`: book, category, weapon_class, antler_state, unit, minimum_units, score, tie_rule, rules
    (the others, in words), first_season, last_season.
    `changes`: book, category, kind (new, corrected, withdrawn, moved), entry_no, hunter, place_was, place_is, what.
    """

    number: int
    name: str
    published_on: date
    season: str
    entries: int
    events: int
    head: str
    before: str | None
    lines: pl.DataFrame
    minimums: pl.DataFrame
    changes: pl.DataFrame

    @property
    def errata(self) -> pl.DataFrame:
        """The changes that make a line of the edition before wrong: what was corrected, and what was withdrawn."""
        return self.changes.filter(pl.col("kind").is_in(["corrected", "withdrawn"]))


def edition_number(connection: duckdb.DuckDBPyConnection, name: str) -> int | None:
    """The number of the edition with this name; None where there is none."""
    found = connection.execute("SELECT edition_no FROM edition WHERE edition = ?", [name]).fetchall()
    return int(found[0][0]) if found else None


def read_edition(connection: duckdb.DuckDBPyConnection, name: str) -> Edition:
    """The edition of this name from its frozen rows, whatever became of the book since.

    Raises EditionRefused where there is none, or where its rows are not those that were frozen.
    """
    number = edition_number(connection, name)
    if number is None:
        raise EditionRefused(f"edition '{shown(name)}': no edition of this book has that name")
    rests_on = _check_as_frozen(connection, number, name)
    day, season, entries, head, before = connection.execute(
        "SELECT published_on, season, entries, head, (SELECT edition FROM edition WHERE edition_no < $no ORDER BY edition_no "
        "DESC LIMIT 1) FROM edition WHERE edition_no = $no",
        {"no": number},
    ).fetchall()[0]
    lines, minimums, changes = (frame(connection, query, {"edition": number}, "editions") for query in _FRAMES)
    keys = ("book", "category", "span", "unit")
    return Edition(
        number, name, day, season, entries, rests_on, head, before,
        lines=lines.select(*keys, *ALLOWED), minimums=minimums, changes=changes,
    )  # fmt: skip


_FRAMES = ("edition_lines", "edition_minimums", "edition_changes")


def events_since(connection: duckdb.DuckDBPyConnection, name: str) -> int:
    """How many events the log holds behind the one that published this edition."""
    return events.head(connection)[0] - _publishing(connection, name)[0]


def _check_as_frozen(connection: duckdb.DuckDBPyConnection, number: int, name: str) -> int:
    """How many events the edition rests on. Raises EditionRefused where log and rows do not agree."""
    _, kept, before, head = _publishing(connection, name)
    rests_on = connection.execute("SELECT event_no FROM event WHERE hash = ?", [head]).fetchall()
    if kept != contents.of_edition(connection, number) or before != head:
        raise EditionRefused(
            f"edition '{name}': its rows are not the ones that were frozen, by the log; run `beamledger verify`; "
            "nothing was written"
        )
    return int(rests_on[0][0]) if rests_on else 0


def _publishing(connection: duckdb.DuckDBPyConnection, name: str) -> tuple[int, str, str, str]:
    """Number, content and previous hash of the event that published the edition, and the head that its row tells."""
    found = connection.execute(
        "SELECT e.event_no, e.content, e.previous, d.head FROM event e JOIN edition d ON d.edition = e.about "
        "WHERE e.kind = 'publish' AND e.about = ? ORDER BY e.event_no",
        [name],
    ).fetchall()
    if not found:
        raise EditionRefused(
            f"edition '{name}': the log does not tell of its publishing; run `beamledger verify`; nothing was written"
        )
    number, content, previous, head = found[0]
    return int(number), content, previous, head
