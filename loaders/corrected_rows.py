"""The rows of a file as they read after each correction of them, as tables, to be scored like any other."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import polars as pl

from loaders.tables import Table
from warehouse.book.verify.stored import Stored


@dataclass(frozen=True)
class CorrectedRows:
    """Rows with as many corrections, which need the same columns beside those of the file; `revisions` in their order."""

    table: Table
    revisions: pl.DataFrame


def as_corrected(table: Table, stored: Stored) -> Iterator[CorrectedRows]:
    """The rows with their first correction, with their second, and so on; cells not corrected are as received.

    Rows that need other columns are apart, for a column that is there and a column that is not are not the same.
    """
    later = stored.revisions.filter(pl.col("corrections") > 0)
    for (corrections,), revisions in later.group_by(["corrections"], maintain_order=True):
        so_far = stored.corrected.filter(pl.col("corrections") <= corrections)
        cells = so_far.unique(["row_id", "field"], keep="last", maintain_order=True)
        added = cells.filter(~pl.col("field").is_in(list(table.present))).sort("field")
        kinds = added.group_by("row_id").agg(pl.col("field").str.join(";").alias("added"))
        of_kind = revisions.join(kinds, on="row_id", how="left", maintain_order="left").with_columns(
            pl.col("added").fill_null("")
        )
        for (names,), rows in of_kind.group_by(["added"], maintain_order=True):
            more = tuple(filter(None, str(names).split(";")))
            yield CorrectedRows(_table(table, stored.rows["row_id"], rows, cells, more), rows.drop("added"))


def _table(table: Table, row_ids: pl.Series, rows: pl.DataFrame, cells: pl.DataFrame, added: tuple[str, ...]) -> Table:
    """Some rows of a table with their corrected cells, and with columns for the fields that it does not have."""
    places = _places(row_ids, rows["row_id"])
    frame = table.cells[places]
    columns = {**table.present, **{field: f"c{frame.width + n}" for n, field in enumerate(added)}}
    for field in cells["field"].unique(maintain_order=True):
        if field not in columns:
            continue
        of_field = cells.filter(pl.col("field") == field).select("row_id", "corrected_text")
        text = rows.select("row_id").join(of_field, on="row_id", how="left", maintain_order="left")["corrected_text"]
        frame = _put_right(frame, columns[field], text)
    return replace(
        table, rows=table.rows.gather(places), cells=frame, headings=(*table.headings, *added),
        fields=(*table.fields, *added),
    )  # fmt: skip


def _put_right(frame: pl.DataFrame, column: str, text: pl.Series) -> pl.DataFrame:
    """The cells of a column with the corrected texts, where there are any; '' empties a cell."""
    received = pl.col(column) if column in frame.columns else pl.lit(None, dtype=pl.String)
    corrected = pl.when(pl.col("corrected") != "").then("corrected")
    put = pl.when(pl.col("corrected").is_null()).then(received).otherwise(corrected)
    return frame.with_columns(text.alias("corrected")).with_columns(put.alias(column)).drop("corrected")


def _places(row_ids: pl.Series, wanted: pl.Series) -> pl.Series:
    """Where each wanted row stands among the rows of the file."""
    numbered = row_ids.to_frame("row_id").with_row_index("place")
    return wanted.to_frame("row_id").join(numbered, on="row_id", how="left", maintain_order="left")["place"]


def among_its_file(table: Table, row_ids: pl.Series, rows: CorrectedRows, place: int) -> tuple[Table, pl.Series]:
    """The whole file with the corrected row at `place` in its row's place, and which row that is (Boolean)."""
    row_id = rows.revisions["row_id"][place]
    there = int((row_ids == row_id).arg_true()[0])
    cells = pl.concat(
        [table.cells.head(there), rows.table.cells.slice(place, 1), table.cells.slice(there + 1)], how="diagonal"
    )
    wanted = pl.Series("wanted", [False]).new_from_index(0, len(row_ids)).scatter(there, True)
    return replace(rows.table, rows=table.rows, cells=cells), wanted
