"""Cells with two readings, or with one that a spreadsheet hid: decided by the sheet's own figures, or asked about."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_

import polars as pl

from loaders.fields import ABNORMAL
from loaders.notation import Readings
from loaders.notation.spellings import DATE, HIDDEN, OPEN
from warehouse.audit.codes import code_of
from warehouse.audit.readings import FIRST, SECOND, UNDECIDED, OpenSheets, choose
from warehouse.audit.rules import FINDINGS, together
from warehouse.categories import Category
from warehouse.eighths import text_expr
from warehouse.scoring import dependencies

UNSURE = (OPEN, DATE, HIDDEN)
UNSCORED = "; the recomputed score does not rest on it."


@dataclass(frozen=True)
class OpenCells:
    """State and readings of the columns in which some cell is unsure; heights are those of the category's sheets.

    Columns are named as in the sheet frame: a measure, `stated.<figure>`, or `abnormal_r`/`abnormal_l`.
    """

    states: pl.DataFrame
    first: pl.DataFrame
    second: pl.DataFrame

    @classmethod
    def of(
        cls,
        readings: Readings,
        lists: dict[str, pl.DataFrame],
        ids: pl.Series | None,
        category: Category,
        stated: Sequence[str],
    ) -> "OpenCells | None":
        """Gather the unsure columns; None where every cell is sure."""
        parts: dict[str, tuple[pl.Series, pl.Series, pl.Series]] = {}
        for column in readings.states.columns:
            name = column if column in category.measures else f"stated.{column}" if column in stated else None
            series = (readings.states[column], readings.first[column], readings.second[column])
            if name is not None:
                parts[name] = series if ids is None else (series[0][ids], series[1][ids], series[2][ids])
        parts |= {field: (frame["state"], frame["first"], frame["second"]) for field, frame in lists.items()}
        unsure = {name: series for name, series in parts.items() if series[0].is_in(UNSURE).any()}
        if not unsure:
            return None
        first, second, third = (
            pl.DataFrame([series[n].alias(name) for name, series in unsure.items()]) for n in range(3)
        )
        return cls(first, second, third)

    def rows(self) -> pl.Series:
        """Places of the sheets that have an unsure cell."""
        flags = self.states.select(pl.any_horizontal(pl.all().is_in(UNSURE))).to_series()
        return flags.arg_true()

    def take(self, rows: pl.Series) -> "OpenCells":
        """The same for some sheets only."""
        return OpenCells(self.states[rows], self.first[rows], self.second[rows])


def decide(
    frame: pl.DataFrame, opened: OpenCells, category: Category, texts: pl.DataFrame
) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The frame with decided cells filled in, and the findings: what was read, or what must be asked."""
    rows = opened.rows()
    cells, sheets = opened.take(rows), frame[rows]
    flags = cells.states.select(pl.all().is_in(UNSURE))
    first, second = _read_as(sheets, cells.first, flags), _read_as(sheets, cells.second, flags)
    verdict = choose(OpenSheets(first, second, _as_measures(flags, sheets)), category)
    chosen = _chosen(sheets, first, second, verdict["choice"])
    filled = frame.with_columns(
        frame[column].clone().scatter(rows, chosen[column]) for column in chosen.columns if column != "id"
    )
    return filled, _findings(sheets["id"], cells, verdict, texts, category)


STATED_TOTAL = "stated.abnormal_total"


def _stands_for_points(sheets: pl.DataFrame) -> pl.Series:
    """Sheets that list no abnormal point: their stated total is what is scored."""
    lists = [pl.col(name).fill_null(1) == 0 for name in ABNORMAL if name in sheets.columns]
    stands = pl.Series([True]).new_from_index(0, sheets.height)
    return sheets.select(pl.all_horizontal(lists)).to_series() if lists else stands


def _as_measures(flags: pl.DataFrame, sheets: pl.DataFrame) -> pl.DataFrame:
    """Flags under the columns that scoring knows: an unsure list, or total without a list, makes the total unsure."""
    lists = [name for name in flags.columns if name in ABNORMAL]
    unsure = [flags[name] for name in lists]
    if STATED_TOTAL in flags.columns:
        unsure.append(flags[STATED_TOTAL] & _stands_for_points(sheets))
    return flags.drop(lists).with_columns(reduce(or_, unsure).alias("abnormal_total")) if unsure else flags


def _read_as(sheets: pl.DataFrame, values: pl.DataFrame, flags: pl.DataFrame) -> pl.DataFrame:
    """The sheets with every unsure cell in one reading."""
    lists = [name for name in values.columns if name in ABNORMAL]
    changed = [
        _where(flags[name], values[name], sheets[name]).alias(name) for name in values.columns if name not in lists
    ]
    read = sheets.with_columns(changed)
    if STATED_TOTAL in flags.columns:
        unsure = flags[STATED_TOTAL] & _stands_for_points(sheets)
        read = read.with_columns(_where(unsure, values[STATED_TOTAL], read["abnormal_total"]).alias("abnormal_total"))
    return read.with_columns(_abnormal_read_as(read, values, flags, lists)) if lists else read


def _where(flag: pl.Series, new: pl.Series, old: pl.Series) -> pl.Series:
    parts = pl.DataFrame([flag.alias("flag"), new.alias("new"), old.alias("old")])
    return parts.select(pl.when("flag").then("new").otherwise("old")).to_series()


def _abnormal_read_as(
    sheets: pl.DataFrame, values: pl.DataFrame, flags: pl.DataFrame, lists: Sequence[str]
) -> pl.Series:
    """Both lists' sums in one reading; a list that is sure has the same sum in either, a blank one nothing."""
    total = pl.sum_horizontal(pl.col(f"new.{name}").fill_null(0) for name in lists)
    unknown = pl.any_horizontal(pl.col(f"new.{name}").is_null() & pl.col(f"flag.{name}") for name in lists)
    unsure = pl.any_horizontal(pl.col(f"flag.{name}") for name in lists)
    frame = pl.DataFrame(
        [sheets["abnormal_total"].alias("old")]
        + [values[name].alias(f"new.{name}") for name in lists]
        + [flags[name].alias(f"flag.{name}") for name in lists]
    )
    read = pl.when(~unknown).then(total)
    return frame.select(pl.when(unsure).then(read).otherwise("old").cast(pl.Int32).alias("abnormal_total")).to_series()


def _chosen(sheets: pl.DataFrame, first: pl.DataFrame, second: pl.DataFrame, choice: pl.Series) -> pl.DataFrame:
    """Each sheet in its chosen reading; undecided ones stay unknown."""
    changed = [column for column in first.columns if not first[column].equals(sheets[column], null_equal=True)]
    changed += [
        column for column in second.columns if column not in changed and not second[column].equals(sheets[column])
    ]
    columns = []
    for column in changed:
        parts = pl.DataFrame({"c": choice, "one": first[column], "two": second[column], "old": sheets[column]})
        pick = pl.when(pl.col("c") == FIRST).then("one").when(pl.col("c") == SECOND).then("two").otherwise("old")
        columns.append(parts.select(pick.alias(column)).to_series())
    return sheets.select("id").with_columns(columns)


# Words -----------------------------------------------------------------------------------------------------------


def _findings(
    ids: pl.Series, cells: OpenCells, verdict: pl.DataFrame, texts: pl.DataFrame, category: Category
) -> pl.DataFrame:
    long = _long(ids, cells, texts).join(verdict.with_columns(id=ids), on="id", maintain_order="left")
    first, second = text_expr(pl.col("first"), category.unit), text_expr(pl.col("second"), category.unit)
    taken = pl.when(pl.col("choice") == FIRST).then(first).otherwise(second)
    scored = [*dependencies(category)["net"], *ABNORMAL]
    long = long.with_columns(
        scored=pl.col("name").is_in(scored),
        taken=taken,
        both=pl.when(first == second)
        .then(first)
        .otherwise(pl.concat_str([first, second], separator=" or ", ignore_nulls=True)),
        way=pl.when(pl.col("choice") == FIRST)
        .then(pl.lit("digits after the mark count eighths"))
        .otherwise(pl.lit("as decimals")),
    )
    decided = pl.col("choice") != UNDECIDED
    is_open = pl.col("state") == OPEN
    return together(
        [
            _per_sheet(long.filter(is_open & decided), "reading-chosen", "taken", _chosen_words()),
            _per_sheet(long.filter(is_open & ~decided), "two-readings", "both", _asked_words()),
            _per_sheet(long.filter(pl.col("state") == DATE), "date-cell", "both", _date_words(decided)),
            _per_sheet(long.filter(pl.col("state") == HIDDEN), "hidden-fraction", "both", _hidden_words(decided)),
        ]
    )


def _long(ids: pl.Series, cells: OpenCells, texts: pl.DataFrame) -> pl.DataFrame:
    """One row for each unsure cell: id, cell, state, first, second, text as received; in sheet order."""
    parts = []
    for order, name in enumerate(cells.states.columns):
        field = name.removeprefix("stated.")
        part = pl.DataFrame(
            {
                "id": ids,
                "state": cells.states[name],
                "first": cells.first[name],
                "second": cells.second[name],
                "text": texts[f"text.{field}"].gather(ids),
            }
        ).filter(pl.col("state").is_in(UNSURE))
        parts.append(part.with_columns(name=pl.lit(name), cell=pl.lit(field), order=pl.lit(order)))
    return pl.concat(parts).sort("id", "order").rechunk()


def _per_sheet(long: pl.DataFrame, code: str, expected: str, message: pl.Expr) -> pl.DataFrame:
    if not long.height:
        return pl.DataFrame(schema=FINDINGS)
    return (
        long.group_by("id", maintain_order=True)
        .agg(
            pl.col("cell").alias("cells"),
            pl.col("text").str.join("; ").alias("stated"),
            pl.col(expected).str.join("; ").alias("expected"),
            pl.col("text").first().alias("example"),
            pl.col(expected).first().alias("example_read"),
            pl.col("cell").first().alias("example_cell"),
            pl.col("choice", "touched", "agree_first", "agree_second", "way").first(),
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
    agree = pl.when(pl.col("choice") == FIRST).then("agree_first").otherwise("agree_second")
    other = pl.when(pl.col("choice") == FIRST).then("agree_second").otherwise("agree_first")
    return pl.concat_str(
        pl.format("{} '{}' was read as {}", pl.col("example_cell"), pl.col("example"), pl.col("example_read")),
        _others(),
        pl.format(
            ", {}: so {} of the {} stated figures it touches agree, read the other way {}.",
            pl.col("way"), agree, pl.col("touched"), other,
        ),
    )  # fmt: skip


def _asked_words() -> pl.Expr:
    return pl.concat_str(
        pl.format("{} '{}' may be {}", pl.col("example_cell"), pl.col("example"), pl.col("example_read")),
        _others(),
        pl.lit("; the sheet's own figures do not decide it"),
        pl.when("scored").then(pl.lit(", so the score is not known until a person does.")).otherwise(pl.lit(UNSCORED)),
    )


def _date_words(decided: pl.Expr) -> pl.Expr:
    return _proposal("is a date; a spreadsheet makes one of a typed", decided)


def _hidden_words(decided: pl.Expr) -> pl.Expr:
    return _proposal("is a number that its fraction format shows as", decided)


def _proposal(what: str, decided: pl.Expr) -> pl.Expr:
    single = pl.col("example_read").str.split(" or ").list.first()
    ending = (
        pl.when(decided)
        .then(
            pl.lit("; the sheet's own figures agree with that, and the score is computed with it. Was that measured?")
        )
        .when("scored")
        .then(pl.lit("; nothing on the sheet confirms it, so the score is not known. Was that measured?"))
        .otherwise(pl.lit("; nothing on the sheet confirms it" + UNSCORED))
    )
    return pl.concat_str(
        pl.format(f"{{}} '{{}}' {what} {{}}", pl.col("example_cell"), pl.col("example"), single), _others(), ending
    )
