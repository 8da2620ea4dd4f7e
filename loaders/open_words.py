"""Findings about cells with two readings, or with one that a spreadsheet hid: how each was read, how sure, and why."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import polars as pl

from loaders.fields import ABNORMAL
from loaders.habit_evidence import Evidence
from loaders.notation.spellings import DATE, HIDDEN, OPEN
from loaders.open_cells import STATED_TOTAL, Blocks, OpenCells, Reading, stands_for_points
from warehouse.audit.codes import code_of
from warehouse.audit.reading_choice import GIVEN, HABIT, Choice
from warehouse.audit.readings import FIRST, UNDECIDED, Flags
from warehouse.audit.rules import FINDINGS, together
from warehouse.categories import Category
from warehouse.eighths import text_expr
from warehouse.scoring import dependencies

UNSCORED = "; the recomputed score does not rest on it."
ONE_REASON = ("id", "reading", "basis", "narrow")  # what the cells of one `reading-chosen` share


@dataclass(frozen=True)
class Unsure:
    """Sheets with unsure cells, and what was concluded about them."""

    sheets: pl.DataFrame
    cells: OpenCells
    blocks: Blocks
    choice: Choice
    known: Evidence
    reading: Reading


def open_findings(unsure: Unsure, texts: pl.DataFrame, category: Category) -> pl.DataFrame:
    """Findings about every unsure cell of these sheets: `reading-chosen`, `two-readings`, `date-cell` and
    `hidden-fraction`, in the sheets' order within each."""
    long = _worded(_long(unsure, texts), category)
    is_open, decided = pl.col("state") == OPEN, pl.col("reading") != UNDECIDED
    return together(
        [
            _per_sheet(long.filter(is_open & decided), "reading-chosen", "taken", _chosen_words(), ONE_REASON),
            _per_sheet(long.filter(is_open & ~decided), "two-readings", "both", _asked_words()),
            _per_sheet(long.filter(pl.col("state") == DATE), "date-cell", "both", _date_words()),
            _per_sheet(long.filter(pl.col("state") == HIDDEN), "hidden-fraction", "both", _hidden_words()),
        ]
    )


def _long(unsure: Unsure, texts: pl.DataFrame) -> pl.DataFrame:
    """One row for each unsure cell: where it is, what it may be, and how and why its block was read; in sheet order."""
    sheets, cells, choice = unsure.sheets, unsure.cells, unsure.choice
    whole_sheet = pl.DataFrame(
        {
            "id": sheets["id"],
            "confirmed": choice.confirmed,
            "touched": choice.tally.touched,
            "agree": choice.agreeing,
            "stands": stands_for_points(sheets),
        }
    )
    reasons = [_reason(choice, unsure.known, place) for place in range(len(unsure.blocks.names))]
    single = _no_reason(sheets.height)
    parts = []
    for order, name in enumerate(cells.states.columns):
        field = name.removeprefix("stated.")
        cell = whole_sheet.with_columns(
            cells.states[name].alias("state"),
            cells.first[name].alias("first"),
            cells.second[name].alias("second"),
            texts[f"text.{field}"].gather(sheets["id"]).alias("text"),
            pl.lit(name).alias("name"),
            pl.lit(field).alias("cell"),
            pl.lit(order).alias("order"),
        )
        parts.append(cell.hstack(single).filter(cells.states[name].is_in([DATE, HIDDEN])))
        parts += [cell.hstack(reason).filter(flags) for flags, reason in _settled(name, unsure, reasons)]
    return pl.concat(parts).sort("id", "order").rechunk()


def _settled(name: str, unsure: Unsure, reasons: Sequence[pl.DataFrame]) -> Iterator[tuple[pl.Series, pl.DataFrame]]:
    """The open cells of a column block by block, with how each was read and why."""
    for place, columns in enumerate(unsure.blocks.cells):
        if name in columns:
            left_open = unsure.reading.leaves_open(name, unsure.cells, place).alias("left_open")
            reading = pl.when(left_open).then(pl.lit(UNDECIDED, pl.UInt8)).otherwise("reading").alias("reading")
            yield columns[name], reasons[place].with_columns(reading)


def _reason(choice: Choice, known: Evidence, place: int) -> pl.DataFrame:
    """How one block of each sheet was read, and why; `other`: what would agree, were all blocks alike read otherwise."""
    by_habit = choice.basis[:, place] == HABIT
    narrow = known.narrow & (choice.basis == HABIT)
    return pl.DataFrame(
        {
            "reading": choice.reading[:, place],
            "basis": choice.basis[:, place],
            "narrow": narrow[:, place],
            "alike": np.where(by_habit, known.alike[:, place], 0),
            "unlike": np.where(by_habit, known.unlike[:, place], 0),
            "other": choice.otherwise(_same_reason(choice, narrow, place)),
        }
    )


def _same_reason(choice: Choice, narrow: Flags, place: int) -> Flags:
    same: Flags = choice.tally.has.copy()
    for facts in (choice.reading, choice.basis, narrow):
        same &= facts == facts[:, place, None]
    return same


def _no_reason(height: int) -> pl.DataFrame:
    nothing = np.zeros(height, dtype=np.int64)
    return pl.DataFrame(
        {
            "reading": nothing.astype(np.uint8),
            "basis": nothing.astype(np.uint8),
            "narrow": nothing.astype(np.bool_),
            "alike": nothing,
            "unlike": nothing,
            "other": nothing.astype(np.int16),
        }
    )


def _worded(long: pl.DataFrame, category: Category) -> pl.DataFrame:
    first, second = text_expr(pl.col("first"), category.unit), text_expr(pl.col("second"), category.unit)
    is_first = pl.col("reading") == FIRST
    taken = pl.when(is_first).then(first).otherwise(second)
    rests = pl.col("name").is_in([*dependencies(category)["net"], *ABNORMAL])
    # a cell that the reading taken cannot be ("8.8" counts no eighths) is asked about alone
    return long.with_columns(
        reading=pl.when(taken.is_not_null()).then("reading").otherwise(pl.lit(UNDECIDED, pl.UInt8)),
        scored=rests | ((pl.col("name") == STATED_TOTAL) & pl.col("stands")),
        taken=taken,
        both=pl.when(first == second)
        .then(first)
        .otherwise(pl.concat_str([first, second], separator=" or ", ignore_nulls=True)),
        way=pl.when(is_first).then(pl.lit("digits after the mark count eighths")).otherwise(pl.lit("as decimals")),
    )


def _per_sheet(
    long: pl.DataFrame, code: str, expected: str, message: pl.Expr, by: Sequence[str] = ("id",)
) -> pl.DataFrame:
    if not long.height:
        return pl.DataFrame(schema=FINDINGS)
    facts = ["basis", "narrow", "confirmed", "touched", "agree", "other", "way"]
    return (
        long.group_by(by, maintain_order=True)
        .agg(
            pl.col("cell").alias("cells"),
            pl.col("text").str.join("; ").alias("stated"),
            pl.col(expected).str.join("; ").alias("expected"),
            pl.col("text").first().alias("example"),
            pl.col(expected).first().alias("example_read"),
            pl.col("cell").first().alias("example_cell"),
            pl.col([fact for fact in facts if fact not in by]).first(),
            pl.col("alike").min(),
            pl.col("unlike").max(),
            pl.col("scored").any(),
            pl.len().alias("many"),
        )
        .select(
            pl.col("id").cast(pl.UInt32),
            code=pl.lit(code),
            severity=pl.lit(code_of(code).severity),
            cells="cells",
            stated="stated",
            expected="expected",
            message=message,
        )
    )


def _others() -> pl.Expr:
    more = pl.col("many") - 1
    return pl.when(more > 0).then(pl.format(" ({} more cells alike)", more)).otherwise(pl.lit(""))


def _chosen_words() -> pl.Expr:
    return pl.concat_str(
        pl.format("{} '{}' was read as {}", pl.col("example_cell"), pl.col("example"), pl.col("example_read")),
        _others(),
        pl.format(", {}: ", pl.col("way")),
        pl.when(pl.col("basis") == HABIT).then(_habit_words()).when(pl.col("basis") == GIVEN).then(_given_words())
        .otherwise(pl.format("so {}.", _agreement())),
    )  # fmt: skip


def _agreement() -> pl.Expr:
    return pl.format(
        "{} of the {} stated figures it touches agree, read the other way {}",
        pl.col("agree"), pl.col("touched"), pl.col("other"),
    )  # fmt: skip


def _habit_words() -> pl.Expr:
    whose = pl.when("narrow").then(pl.lit("this file by this measurer")).otherwise(pl.lit("this file"))
    against = pl.when(pl.col("unlike") == 0).then(pl.lit("none")).otherwise(pl.col("unlike").cast(pl.String))
    unconfirmed = "nothing on the sheet itself confirms it."
    ending = (
        pl.when(pl.col("agree") > pl.col("other"))
        .then(pl.format("so {}.", _agreement()))
        .when(pl.col("touched") == 0)
        .then(pl.lit(f"no stated figure rests on it, so {unconfirmed}"))
        .otherwise(
            pl.format(
                f"{{}} of the {{}} stated figures it touches agree either way, so {unconfirmed}",
                pl.col("agree"),
                pl.col("touched"),
            )
        )
    )
    told = pl.format("{} other sheets of {} are written so, {} otherwise; ", pl.col("alike"), whose, against)
    return pl.concat_str(told, ending)


def _given_words() -> pl.Expr:
    return pl.format("with the sheet's other cells read in the habit of this file, {}.", _agreement())


def _asked_words() -> pl.Expr:
    return pl.concat_str(
        pl.format("{} '{}' may be {}", pl.col("example_cell"), pl.col("example"), pl.col("example_read")),
        _others(),
        pl.lit("; the sheet's own figures do not decide it"),
        pl.when("scored").then(pl.lit(", so the score is not known until a person does.")).otherwise(pl.lit(UNSCORED)),
    )


def _date_words() -> pl.Expr:
    return _proposal("is a date; a spreadsheet makes one of a typed")


def _hidden_words() -> pl.Expr:
    return _proposal("is a number that its fraction format shows as")


def _proposal(what: str) -> pl.Expr:
    single = pl.col("example_read").str.split(" or ").list.first()
    ending = (
        pl.when("confirmed")
        .then(
            pl.lit(
                "; the sheet's own figures agree with that, and the score is computed with it. Is that what the sheet says?"
            )
        )
        .when("scored")
        .then(pl.lit("; nothing on the sheet confirms it, so the score is not known. Is that what the sheet says?"))
        .otherwise(pl.lit("; nothing on the sheet confirms it" + UNSCORED))
    )
    return pl.concat_str(
        pl.format(f"{{}} '{{}}' {what} {{}}", pl.col("example_cell"), pl.col("example"), single), _others(), ending
    )
