"""From audited tables and what the book holds to the batch that one load writes."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from loaders.audit_table import AuditedTable
from loaders.check import scored
from loaders.fields import COUNTS
from loaders.matching import match_rows
from loaders.repeats import keys_of
from loaders.same_content import changes
from warehouse.audit.codes import HOLDS
from warehouse.audit.rules import FINDINGS, Rule, apply
from warehouse.audit.sheets import Sheets
from warehouse.book.cells_text import join_cells
from warehouse.book.ledger import EXPLANATION, FINDING, MEASUREMENT, RECEIVED_ROW, REVISION, Batch, ReceivedFile
from warehouse.scoring import TOTALS

FIRST_RECEIVED = "first received"


@dataclass(frozen=True)
class Placed:
    """A table whose rows have found their place: `matches` (see `match_rows`), `changed` (words, null for a new head)."""

    audited: AuditedTable
    keys: pl.Series
    matches: pl.DataFrame
    changed: pl.Series

    @property
    def unchanged(self) -> pl.Series:
        """Rows that say what the book says already."""
        return (self.changed == "").fill_null(False)


def identities(audited: AuditedTable, keys: pl.Series) -> pl.DataFrame:
    """What a row is recognised by."""
    return audited.entries.select("id", "entry_no", "hunter", "taken_on", "area_written").with_columns(keys)


def place(audited: AuditedTable, heads: pl.DataFrame, received: pl.DataFrame | None = None) -> Placed:
    """Match a table's rows with the book's heads (`received`: as in `match_rows`); `with_changes` says what changed."""
    keys = keys_of(audited)
    matches = match_rows(identities(audited, keys), heads, received)
    changed = pl.Series("changed", [None], dtype=pl.String).new_from_index(0, matches.height)
    return Placed(audited.with_findings(against_book(audited, keys, matches, heads)), keys, matches, changed)


def with_changes(placed: Placed, before: pl.DataFrame, received: pl.DataFrame) -> Placed:
    """Say what changed in the matched rows, and which corrections of theirs the new row does not have.

    `before`: `row_id`, `cells`, `fields` of the book's rows for them; `received`: `entry_id` and the fields `corrected`.
    """
    ids = placed.matches["before"].is_not_null().arg_true()
    if not len(ids):
        return placed
    asked = placed.matches.select(pl.col("before").gather(ids)).rename({"before": "row_id"})
    ordered = asked.join(before, on="row_id", how="left", maintain_order="left")
    words = changes(placed.audited.table, ids, ordered)
    entries = placed.matches.select(pl.col("entry_id").gather(ids), words.alias("changes"))
    lost = pl.format("{}; corrected before and to be corrected again, if that still holds: {}", "changes", "corrected")
    words = (
        entries.join(received.select("entry_id", "corrected"), on="entry_id", how="left", maintain_order="left")
        .rechunk()
        .select(pl.when((pl.col("changes") != "") & pl.col("corrected").is_not_null()).then(lost).otherwise("changes"))
        .to_series()
    )
    return Placed(placed.audited, placed.keys, placed.matches, placed.changed.scatter(ids, words))


def against_book(audited: AuditedTable, keys: pl.Series, matches: pl.DataFrame, heads: pl.DataFrame) -> pl.DataFrame:
    """Findings: heads of the book that a row repeats without being the same entry.

    `heads` has "entry_id", "entry_no" and "measure_key"; `matches` the "entry_id" that each row is.
    """
    if not heads.height:
        return pl.DataFrame(schema=FINDINGS)
    frame = audited.entries.select("id", "entry_no").with_columns(keys, matches["entry_id"])
    known = heads.select("measure_key", pl.col("entry_id").alias("other"), pl.col("entry_no").alias("other_no"))
    same = _first_other(frame, known.drop_nulls("measure_key"), "measure_key").select("other", "other_no")
    numbers = heads.select("entry_no", pl.col("entry_id").alias("other")).drop_nulls("entry_no")
    again = _first_other(frame.with_columns(entry_id=None), numbers, "entry_no")["other"]
    frame = frame.hstack([same["other"].alias("same_head"), same["other_no"], again.alias("same_number")])
    number = pl.col("entry_no")
    rules = [
        Rule("head-twice", ("entry_no",), pl.col("same_head").is_not_null(),
             pl.format("Every measure of this head is also that of entry {} in the book; is it one head entered twice?",
                       pl.col("other_no").fill_null("(no number)")), stated=number),
        Rule("number-reused", ("entry_no",),
             pl.col("same_number").is_not_null() & pl.col("entry_id").is_null() & pl.col("same_head").is_null(),
             pl.format("The number {} is also that of another head in the book.", number), stated=number),
    ]  # fmt: skip
    found = apply(rules, frame)
    return found.join(audited.findings, on=["id", "code"], how="anti")  # said already, of a row of this run


def _first_other(frame: pl.DataFrame, known: pl.DataFrame, key: str) -> pl.DataFrame:
    """For each row the first head with the same key that is not the row's own entry."""
    pairs = frame.select("id", key, "entry_id").join(known, on=key, maintain_order="left_right")
    others = pairs.filter(pl.col("other").ne_missing(pl.col("entry_id"))).unique(
        "id", keep="first", maintain_order=True
    )
    return frame.select("id").join(others.drop(key, "entry_id"), on="id", how="left", maintain_order="left")


# The batch -------------------------------------------------------------------------------------------------------


def verdicts(placed: Placed) -> pl.Series:
    """Each row's verdict: "unchanged", "held" (an error, a question, no score, an error of the whole file), "revised" or "new"."""
    whole_file = placed.audited.findings.filter(pl.col("id").is_null() & (pl.col("severity") == "error"))
    held_ids = placed.audited.findings.filter(pl.col("severity").is_in(HOLDS)).drop_nulls("id")["id"].unique()
    frame = placed.audited.entries.select("id").with_columns(
        placed.unchanged.alias("unchanged"),
        placed.matches["entry_id"].is_not_null().alias("known"),
        scored(placed.audited),
    )
    return frame.select(
        pl.when("unchanged")
        .then(pl.lit("unchanged"))
        .when(pl.col("id").is_in(held_ids.implode()) | ~pl.col("scored") | bool(whole_file.height))
        .then(pl.lit("held"))
        .when("known")
        .then(pl.lit("revised"))
        .otherwise(pl.lit("new"))
        .alias("verdict")
    ).to_series()


def make_batch(tables: Sequence[Placed]) -> Batch:
    """All tables of a run as one batch."""
    received, numbers, revisions, measurements, findings, explanations = [], [], [], [], [], []
    rows_before = revisions_before = new_before = 0
    for file, placed in enumerate(tables):
        verdict = verdicts(placed)
        new = placed.matches["entry_id"].is_null()
        nth_new = new.cast(pl.Int64).cum_sum() + new_before
        entry = placed.matches.select(pl.coalesce("entry_id", pl.lit(0))).to_series()
        entry = (
            pl.DataFrame({"e": entry, "n": nth_new, "new": new})
            .select(pl.when("new").then(-pl.col("n")).otherwise("e").alias("entry"))
            .to_series()
        )
        kept = verdict != "unchanged"
        place_of = kept.cast(pl.UInt32).cum_sum() + revisions_before - 1
        received.append(_received(placed, file, verdict, entry))
        numbers.append(placed.audited.entries["entry_no"].filter(new))
        revisions.append(_revisions(placed, rows_before, verdict, entry).filter(kept))
        measurements += _measurements(placed, kept, place_of)
        findings.append(_findings(placed, file, rows_before, kept, place_of))
        explanations.append(_explanations(placed, kept, place_of))
        rows_before += len(verdict)
        new_before += int(new.sum())
        revisions_before += int(kept.sum())
    return Batch(
        files=tuple(_file(placed) for placed in tables),
        received=pl.concat(received),
        new_entries=pl.concat(numbers),
        revisions=pl.concat(revisions),
        measurements=tuple(measurements),
        findings=pl.concat(findings),
        explanations=pl.concat(explanations),
    )


def _file(placed: Placed) -> ReceivedFile:
    table = placed.audited.table
    fields = tuple(field or "" for field in table.fields)
    return ReceivedFile(Path(table.file).name, table.sheet, table.sha256, table.headings, fields, table.cells.height)


def _typed(frame: pl.DataFrame, schema: pl.Schema) -> pl.DataFrame:
    """Columns of a schema in its order; integers that do not fit are an error, never cut."""
    return frame.select(pl.col(name).cast(dtype) for name, dtype in schema.items())


def _received(placed: Placed, file: int, verdict: pl.Series, entry: pl.Series) -> pl.DataFrame:
    table = placed.audited.table
    frame = pl.DataFrame(
        [
            table.rows.alias("row"),
            join_cells(table.cells).alias("cells"),
            verdict.alias("verdict"),
            entry.alias("entry"),
        ]
    )
    return _typed(frame.with_columns(file=pl.lit(file)), RECEIVED_ROW)


def _revisions(placed: Placed, rows_before: int, verdict: pl.Series, entry: pl.Series) -> pl.DataFrame:
    entries = placed.audited.entries
    frame = entries.select(
        entry,
        (placed.matches["revision_no"].fill_null(0) + 1).alias("revision_no"),
        (pl.col("id") + rows_before).alias("received"),
        placed.changed.fill_null(FIRST_RECEIVED).alias("reason"),
        pl.when(verdict == "held").then(pl.lit("held")).otherwise(pl.lit("accepted")).alias("status"),
        "category", "hunter", "tag_no", "area_written", "area_code", "taken_on", "measured_on", "weapon",
        pl.coalesce("season", "season_stated").alias("season"),
        pl.coalesce("measurer_no", pl.col("text.measurer").str.strip_chars()).alias("measurer"),
        placed.keys,
        # a new entry has its number itself; one that is sent again may have been given another by a correction
        pl.when(placed.matches["entry_id"].is_not_null()).then("entry_no").alias("entry_no"),
        placed.audited.certain.alias("score_certain"),
        "antler_state", "age_half_years",
    )  # fmt: skip
    return _typed(frame.hstack(_figures(placed.audited)), REVISION)


def _figures(audited: AuditedTable) -> pl.DataFrame:
    """Unit, counts and figures of each row of the table; nothing where the category is not known."""
    names = {**{name: name for name in (*COUNTS, *TOTALS)}, **{f"stated.{name}": f"stated_{name}" for name in TOTALS}}
    parts = []
    for sheets in audited.sheets:
        frame = sheets.frame
        columns = [
            (pl.col(source) if source in frame.columns else pl.lit(None, dtype=pl.Int32)).alias(target)
            for source, target in names.items()
        ]
        parts.append(frame.select("id", pl.lit(sheets.category.unit).alias("unit"), *columns))
    if len(parts) == 1 and parts[0].height == audited.entries.height:
        return parts[0].drop("id")
    if not parts:
        return audited.entries.select(pl.lit(None).alias(name) for name in ("unit", *names.values()))
    return audited.entries.select("id").join(pl.concat(parts), on="id", how="left", maintain_order="left").drop("id")


def _measurements(placed: Placed, kept: pl.Series, place_of: pl.Series) -> list[pl.DataFrame]:
    """One frame for each line of each category, rows without anything on that line left out."""
    parts = []
    for sheets in placed.audited.sheets:
        ids = sheets.frame["id"]
        whole = len(ids) == len(kept) and bool(kept.all())
        keep = None if whole else kept.gather(ids)
        revision = place_of if whole else place_of.gather(ids)
        frame = sheets.frame.with_columns(revision.alias("revision"))
        parts += [_line(frame if keep is None else frame.filter(keep), *line) for line in _lines(sheets)]
    return parts


def _lines(sheets: Sheets) -> list[tuple[str, str | None, str | None, str | None, str | None]]:
    """(line, right, left, single, stated difference): the columns a line's measurement comes from."""
    lines: list[tuple[str, str | None, str | None, str | None, str | None]] = []
    for line in sheets.category.lines:
        if line.sides == "pair":
            stated = f"stated.{line.difference}"
            lines.append((line.name, *line.columns, None, stated if stated in sheets.frame.columns else None))  # type: ignore[arg-type]
        elif line.name in sheets.present:
            lines.append((line.name, None, None, line.name, None))
    sides = [f"abnormal_{side}" if f"abnormal_{side}" in sheets.frame.columns else None for side in "rl"]
    lines.append(("abnormal", sides[0], sides[1], "abnormal_total", None))
    return lines


def _line(
    frame: pl.DataFrame, line: str, right: str | None, left: str | None, single: str | None, stated: str | None
) -> pl.DataFrame:
    sources = {"right_units": right, "left_units": left, "single_units": single, "stated_difference": stated}
    columns = [
        (pl.col(source) if source else pl.lit(None, dtype=pl.Int32)).cast(pl.Int32).alias(target)
        for target, source in sources.items()
    ]
    something = pl.any_horizontal(pl.col(source).fill_null(-1) != 0 for source in sources.values() if source)
    rows = frame.filter(something).select("revision", pl.lit(line).alias("line"), *columns)
    return _typed(rows, MEASUREMENT)


def _findings(placed: Placed, file: int, rows_before: int, kept: pl.Series, place_of: pl.Series) -> pl.DataFrame:
    """Findings of the rows that add a revision, and of the file; an unchanged row has had its own."""
    places = pl.DataFrame({"id": placed.audited.entries["id"], "kept": kept, "revision": place_of})
    frame = placed.audited.findings.join(places, on="id", how="left", maintain_order="left")
    frame = frame.filter(pl.col("id").is_null() | pl.col("kept"))
    return _typed(frame.with_columns(file=pl.lit(file), received=(pl.col("id") + rows_before).cast(pl.UInt32)), FINDING)


def _explanations(placed: Placed, kept: pl.Series, place_of: pl.Series) -> pl.DataFrame:
    """Explanations of the rows that add a revision."""
    places = pl.DataFrame({"id": placed.audited.entries["id"], "kept": kept, "revision": place_of})
    frame = placed.audited.explanations.join(places, on="id", how="left", maintain_order="left")
    return _typed(frame.filter("kept"), EXPLANATION)
