"""A person puts cells of one sheet right: the row is audited again as it then reads, and kept as a new revision."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import polars as pl

from loaders.audit_table import AuditedTable, audit_table
from loaders.batch import Placed, against_book, make_batch
from loaders.check import Settings
from loaders.fields import all_fields
from loaders.load import book_names
from loaders.one_row import only_row
from loaders.repeats import keys_of
from loaders.tables import Table
from warehouse.audit.rules import FINDINGS
from warehouse.book import corrections, database
from warehouse.book.cells_text import split_cells
from warehouse.book.corrections import RowOfEntry
from warehouse.eighths import text_of
from warehouse.errors import CorrectionRefused
from warehouse.plain_text import shown

# The habit of whoever wrote the file decides cells with such findings, so they are read among its other rows.
OPEN = ("two-readings", "reading-chosen", "date-cell", "hidden-fraction")
# A correction must be read itself: it would only take one fault's place.
UNREAD = ("unreadable", "weapon-unknown", "category-unknown", "antler-state-unknown", "date-unreadable", "age-unread")
# What says no longer what it said, once one of these fields is another.
RESTS_ON = {"entry-twice": {"entry_no", "hunter", "taken_on"}, "number-reused": {"entry_no"}}


@dataclass(frozen=True)
class Author:
    """Who corrects, and why; both must say something."""

    by: str
    why: str

    def check(self) -> None:
        """Raise CorrectionRefused where a name or a reason is missing."""
        for what, text in (("name", self.by), ("reason", self.why)):
            if not text.strip():
                raise CorrectionRefused(f"a correction needs a {what}; nothing was changed")
            _check_letters(f"the {what}", text)


@dataclass(frozen=True)
class Corrected:
    """What a correction came to: the new revision's number, the entry's status since, what is still found, the cells put
    right (field -> text before or None, text now), and the net as text (None: not known)."""

    revision_no: int
    status: str
    findings: pl.DataFrame
    cells: dict[str, tuple[str | None, str]]
    net: str | None

    @property
    def is_held(self) -> bool:
        """Whether something still needs a person."""
        return self.status == "held"


@dataclass(frozen=True)
class Target:
    """The entry to correct, and the revision that the person looked at (None: whichever is current).

    `undoes`: the event of the correction that this one takes back.
    """

    book: Path
    entry_id: int
    revision_no: int | None = None
    wait: float = database.WAIT_SECONDS
    undoes: int | None = None


def correct_cells(target: Target, cells: Mapping[str, str], author: Author, today: date) -> Corrected:
    """Put these texts (our field -> text, '' empties the cell) in place of what the sheet says.

    Raises CorrectionRefused, naming the field; the book is then untouched.
    """
    author.check()
    with database.reading(target.book, target.wait) as connection:
        of = _row(corrections.row_of_entry(connection, target.entry_id), target)
        settings = Settings(today, book_names(connection))
    before = _texts(of)
    changed = _changed(before, cells, target.undoes is not None)
    audited = _audited(target, of, _table(of, before | changed), settings)
    if target.undoes is None:  # what a correction is taken back to was there before, be it readable or not
        _check_readable(audited, changed)
    placed = _placed(target, of, audited, changed, author.why.strip())
    batch = make_batch([placed])
    batch = replace(batch, revisions=batch.revisions.with_columns(audited.entries["entry_no"]))
    told = {field: (before.get(field), text) for field, text in changed.items()}
    with database.writing(target.book, target.wait) as connection:
        now = datetime.now(UTC).replace(tzinfo=None)
        by = corrections.Told(author.by.strip(), author.why.strip(), now, target.undoes)
        number, status = corrections.write(connection, of, batch, told, by)
    return Corrected(number, status, placed.audited.findings.drop_nulls("id"), told, _net(audited))


def _check_readable(audited: AuditedTable, changed: Mapping[str, str]) -> None:
    """Raise CorrectionRefused for a corrected cell that cannot be read: it would only take one fault's place."""
    unread = audited.findings.filter(pl.col("code").is_in(UNREAD)).drop_nulls("id")
    for cells, message in unread.select("cells", "message").rows():
        if not changed.keys().isdisjoint(cells):
            raise CorrectionRefused(f"{message.removesuffix('.')}; nothing was changed")


def _net(audited: AuditedTable) -> str | None:
    for sheets in audited.sheets:
        net = sheets.frame["net"][0]
        return None if net is None else text_of(net, sheets.category.unit)
    return None


def accept_explanation(target: Target, place: int | None, author: Author, today: date) -> Corrected:
    """Put right what the explanation at `place` of the entry's current state proposes (0, and None: the likeliest).

    Raises CorrectionRefused for None where several are as likely: a person must choose.
    """
    author.check()
    with database.reading(target.book, target.wait) as connection:
        of = _row(corrections.row_of_entry(connection, target.entry_id), target)
        found = corrections.explanation(connection, of.revision_id, place or 0)
        if place is None and found["tie"]:
            raise CorrectionRefused(
                f"several explanations are as likely as each other: say which, by its number: "
                f"{'; '.join(corrections.explanations_in_short(connection, of.revision_id))}; nothing was changed"
            )
    return correct_cells(replace(target, revision_no=of.revision_no), _proposed(of, found), author, today)


def _row(of: RowOfEntry, target: Target) -> RowOfEntry:
    if target.revision_no is not None and of.revision_no != target.revision_no:
        raise CorrectionRefused(
            f"entry {of.entry_id}: revision {of.revision_no} was made since you looked at revision {target.revision_no}; "
            "nothing was changed, look at it again"
        )
    return of


def _proposed(of: RowOfEntry, found: Mapping[str, Any]) -> dict[str, str]:
    texts = _texts(of)
    named = zip((*found["cells"], *found["follows"]), (*found["proposed"], *found["follows_proposed"]), strict=True)
    cells = {field: text_of(units, found["unit"]) for field, units in named}
    for field in found["cells"]:
        if ";" in (texts.get(field) or ""):
            raise CorrectionRefused(
                f"{field} '{shown(texts[field] or '')}' lists several points, which together should be {cells[field]}; which of "
                f"them is wrong is not known: correct the list by hand, with `beamledger correct --cell {field}=...`"
            )
    return cells


def _texts(of: RowOfEntry) -> dict[str, str | None]:
    """Field -> text as it stands: as received, with earlier corrections made."""
    received = {field: text for field, text in zip(of.fields, of.cells, strict=True) if field}
    return received | {field: text or None for field, text in of.corrected.items()}


def _changed(before: Mapping[str, str | None], cells: Mapping[str, str], is_undone: bool) -> dict[str, str]:
    for field in cells:
        if field not in all_fields():
            raise CorrectionRefused(
                f"'{shown(field)}' is no field of a sheet; expected a name such as g2_r, gross or taken_on (the README lists them)"
            )
        _check_letters(field, cells[field])
    if not is_undone and not cells.get("entry_no", "some").strip():
        raise CorrectionRefused("entry_no: a number can be corrected, but not taken away; nothing was changed")
    changed = {
        field: text.strip() for field, text in cells.items() if text.strip() != (before.get(field) or "").strip()
    }
    if not changed:
        said = "; ".join(f"{field} says '{shown(text.strip())}' already" for field, text in cells.items())
        raise CorrectionRefused(f"nothing to correct: {said or 'no cell was named'}")
    return changed


def _check_letters(what: str, text: str) -> None:
    try:
        text.encode()
    except UnicodeEncodeError as odd:
        raise CorrectionRefused(
            f"{what} '{shown(text)}' holds bytes that are no letters (UTF-8 is expected); nothing was changed"
        ) from odd


def _table(of: RowOfEntry, texts: Mapping[str, str | None]) -> Table:
    """The row as it then reads, as a table of one row; a field that the file does not have gets a column."""
    cells = [texts[field] if field else text for field, text in zip(of.fields, of.cells, strict=True)]
    added = [field for field in texts if field not in of.fields]
    values = [text or None for text in (*cells, *(texts[field] for field in added))]
    frame = pl.DataFrame([pl.Series(f"c{n}", [text], dtype=pl.String) for n, text in enumerate(values)])
    rows = pl.Series("row", [of.row], dtype=pl.Int32)
    return Table(of.file, of.sha256, of.sheet, rows, frame, (*of.headings, *added), (*of.fields, *added), ())


def _audited(target: Target, of: RowOfEntry, table: Table, settings: Settings) -> AuditedTable:
    """The row audited as it then reads: among the other rows of its file where their habit decides how it is read."""
    alone = audit_table(table, settings.names, settings.today)
    if not alone.findings["code"].is_in(OPEN).any():
        return alone
    with database.reading(target.book, target.wait) as connection:
        rows = corrections.rows_of_file(connection, of.file_id)
    place = int((rows["row_id"] == of.row_id).arg_true()[0])
    cells = split_cells(rows["cells"], len(of.headings))
    among = pl.concat([cells.head(place), table.cells, cells.slice(place + 1)], how="diagonal")
    whole = replace(table, rows=rows["row"].cast(pl.Int32), cells=among)
    return only_row(audit_table(whole, settings.names, settings.today), place)


def _placed(target: Target, of: RowOfEntry, audited: AuditedTable, changed: Mapping[str, str], why: str) -> Placed:
    """The audited row in the place of the entry it corrects, with what was found of it beyond its cells."""
    keys = keys_of(audited)
    matches = pl.DataFrame(
        {"entry_id": [of.entry_id], "revision_no": [of.revision_no], "before": [of.row_id]},
        schema={"entry_id": pl.Int64, "revision_no": pl.Int32, "before": pl.Int64},
    )
    is_same_head = keys[0] == of.measure_key
    with database.reading(target.book, target.wait) as connection:
        kept = corrections.findings_to_keep(connection, of.revision_id)
        of_file = corrections.errors_of_file(connection, of.file_id)
        heads = corrections.heads_with(connection, None if is_same_head else keys[0])
    gone = [code for code, fields in RESTS_ON.items() if fields & changed.keys()]
    gone += [] if is_same_head else ["head-twice"]
    answered = pl.col("cells").list.eval(pl.element().is_in(list(audited.table.present))).list.all()
    more = [
        kept.filter(~pl.col("code").is_in(gone)).with_columns(id=pl.lit(0)),
        of_file.filter((pl.col("cells").list.len() == 0) | ~answered).with_columns(id=pl.lit(None)),
        against_book(audited, keys, matches, heads),
    ]
    told = pl.concat([frame.select(pl.col(name).cast(kind) for name, kind in FINDINGS.items()) for frame in more])
    return Placed(audited.with_findings(told), keys, matches, pl.Series("changed", [why]))
