"""Pairs of entries that may be one head: found in blocks, compared in full, decided by a person.

Blocking is SQL (the files beside this one), comparing is `duplicates_measures`, the bounds are `duplicates_bounds`.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib.resources import files

import duckdb
import numpy as np
import polars as pl
from rapidfuzz import fuzz, process

from warehouse.book import duplicates_bounds as bounds
from warehouse.book.duplicates_measures import Ints, compared_lines, measures_of
from warehouse.categories import all_categories
from warehouse.eighths import EIGHTHS

OF_ENTRY = (
    "entry_no", "hunter", "area", "taken_on", "season", "category", "unit", "gross", "net", "measurer", "measured_on",
    "tag_no", "status", "revision_no", "newest_event",
)  # fmt: skip
COLUMNS = (
    "first_id", "second_id", "kinds", "decided", "decided_about", "near",
    *(f"{which}_{name}" for which in ("first", "second") for name in OF_ENTRY),
)  # fmt: skip
PAIR = ("first_id", "second_id")
STANDING = ("accepted", "held")
"""Entries of these states stand in the book; of the others nothing is asked."""

Parameters = dict[str, int | bool | None]


def pairs(
    connection: duckdb.DuckDBPyConnection, entry_id: int | None = None, with_decided: bool = False
) -> pl.DataFrame:
    """Pairs of entries that may be one head, each once, the strongest kind and the nearest first.

    Columns COLUMNS: `kinds` (list of KINDS, the strongest first; empty for a decided pair that nothing else brings up),
    `decided` (null, "one head", "two heads") and the entry it is `decided_about`, `near` (sum of the differences of the
    measures known of both, in units; null for two species), then of both entries what OF_ENTRY names (counted gross and
    net, in units of "unit").
    Only `entry_id`'s pairs where it is given; pairs of two standing entries that nobody has decided about, and with
    `with_decided` those that were decided too, whatever became of their entries.
    """
    found = _near(connection, _candidates(connection, entry_id, with_decided))
    told = _told(connection, found)
    named = told.with_columns(_kinds(told).alias("kinds"))
    decided = named.join(_run(connection, "decisions"), on=PAIR, how="left", maintain_order="left")
    asked = pl.col("decided").is_not_null() if with_decided else pl.lit(False)
    stands = pl.all_horizontal(pl.col(f"{which}_status").is_in(STANDING) for which in ("first", "second"))
    undecided = pl.col("decided").is_null() & stands & (pl.col("kinds").list.len() > 0)
    return _in_order(decided.filter(asked | undecided))


def _candidates(connection: duckdb.DuckDBPyConnection, entry_id: int | None, with_decided: bool) -> pl.DataFrame:
    """`first_id`, `second_id`, `by_key`, `by_tag`, `by_decision`: every pair worth comparing, once."""
    given: Parameters = {"block_most": bounds.BLOCK_MOST}
    blocks: Parameters = {"again_sum": bounds.AGAIN_SUM, "near_sum": bounds.NEAR_SUM}
    with (
        _registered(connection, "compared_line", compared_lines()),
        _kept(connection, "pair_entry", "standing", {"entry_id": entry_id}),
        _kept(connection, "pair_block", "blocks", blocks),
    ):
        near = [
            _run(connection, "in_block", given),
            _run(connection, "on_grid", given | {"near_line": bounds.NEAR_LINE}),
        ]
        named = [_run(connection, "same_key", given), _run(connection, "same_tag", {"tag_most": bounds.TAG_MOST})]
    if with_decided:
        named.append(_run(connection, "decisions").select("first_id", "second_id", kind=pl.lit("decided")))
    special = pl.concat(named)
    if entry_id is not None:
        mine = (pl.col("first_id") == entry_id) | (pl.col("second_id") == entry_id)
        near, special = [part.filter(mine) for part in near], special.filter(mine)
    marks = (("by_key", "same-head"), ("by_tag", "same-tag"), ("by_decision", "decided"))
    marked = special.group_by(PAIR).agg((pl.col("kind") == kind).any().alias(name) for name, kind in marks)
    others = pl.concat(near).unique().join(marked, on=PAIR, how="anti")
    whole = pl.concat([marked, others], how="diagonal").with_columns(pl.col("^by_.*$").fill_null(False))
    return whole.sort(PAIR)


def _near(connection: duckdb.DuckDBPyConnection, found: pl.DataFrame) -> pl.DataFrame:
    """The candidates that may be of a kind, with how near their measures are (schema COMPARED)."""
    ids = pl.concat([found["first_id"], found["second_id"]]).unique().sort()
    with _registered(connection, "wanted", _numbered(ids)):
        sheets = _run(connection, "sheets")
    with _registered(connection, "wanted_sheet", sheets), _registered(connection, "compared_line", compared_lines()):
        measures = measures_of(sheets, _run(connection, "measurements"))
    first, second = (ids.search_sorted(found[name]).to_numpy().astype(np.int64) for name in PAIR)
    within = measures.within(first, second, _line_bound(sheets)[first])
    kept = found.select(pl.col("by_key") | pl.col("by_tag") | pl.col("by_decision")).to_series().to_numpy().copy()
    kept[within] = True
    return found.filter(pl.Series(kept)).hstack(measures.compare(first[kept], second[kept]))


def _line_bound(sheets: pl.DataFrame) -> Ints:
    """How far apart a measure of each sheet may be at most, in its units."""
    unit = {code: category.unit for code, category in all_categories().items()}
    units = sheets["category"].replace_strict(unit, default=EIGHTHS, return_dtype=pl.Int32).fill_null(EIGHTHS)
    bound: Ints = (units * bounds.AGAIN_LINE // EIGHTHS).to_numpy()
    return bound


def _numbered(ids: pl.Series) -> pl.DataFrame:
    return pl.DataFrame({"nth": pl.int_range(len(ids), dtype=pl.Int32, eager=True), "entry_id": ids})


def _told(connection: duckdb.DuckDBPyConnection, found: pl.DataFrame) -> pl.DataFrame:
    """The pairs with what is to be told of both entries: `first_` and `second_` before each column."""
    ids = pl.concat([found["first_id"], found["second_id"]]).unique().sort()
    with _registered(connection, "wanted", _numbered(ids)):
        entries = _run(connection, "entries")
    for which in ("first", "second"):
        side = entries[ids.search_sorted(found[f"{which}_id"])]
        found = found.hstack(side.drop("nth", "entry_id").select(pl.all().name.prefix(f"{which}_")))
    return found


def _kinds(told: pl.DataFrame) -> pl.Series:
    """The kinds of each pair, the strongest first."""
    unit, same = pl.col("first_unit"), {name: pl.col(f"first_{name}") == pl.col(f"second_{name}") for name in OF_ENTRY}
    enough = (pl.col("told") >= bounds.MEASURES_LEAST) & (pl.col("unknown") <= bounds.UNKNOWN_MOST) & same["unit"]
    tight, loose = (
        enough & (pl.col("most") * EIGHTHS <= line * unit) & (pl.col("near") * EIGHTHS <= total * unit)
        for line, total in ((bounds.NEAR_LINE, bounds.NEAR_SUM), (bounds.AGAIN_LINE, bounds.AGAIN_SUM))
    )
    here = same["taken_on"] & (pl.col("first_place") == pl.col("second_place")) & (pl.col("first_place") != "")
    again = here & same["category"] & loose & (~same["measured_on"] | ~same["measurer"])
    frame = told.with_columns(again.fill_null(False).alias("again"))
    frame = frame.with_columns(_one_hunter(frame, frame["again"]).alias("one_hunter"))
    tests = {
        "same-head": pl.col("by_key") & (pl.col("near") == 0),
        "same-tag": pl.col("by_tag"),
        "measured-again": pl.col("again") & pl.col("one_hunter"),
        "other-category": ~same["category"] & loose & (here | pl.col("by_tag")),
        "near-head": here & same["category"] & tight,
    }
    named = [pl.when(tests[kind]).then(pl.lit(kind)) for kind in bounds.KINDS]
    return frame.select(pl.concat_list(named).list.drop_nulls()).to_series()


def _one_hunter(frame: pl.DataFrame, asked: pl.Series) -> pl.Series:
    """Whether the two hunters' names are alike, for the pairs that are `asked` about; false elsewhere."""
    rows = (asked & (frame["first_name"] != "") & (frame["second_name"] != "")).fill_null(False).arg_true()
    names = [frame[f"{which}_name"].gather(rows).to_list() for which in ("first", "second")]
    alike = np.zeros(frame.height, dtype=np.bool_)
    if len(rows):
        score = process.cpdist(*names, scorer=fuzz.token_sort_ratio, score_cutoff=bounds.NAME_LEAST)
        alike[rows.to_numpy()] = score > 0
    return pl.Series(alike)


def _in_order(found: pl.DataFrame) -> pl.DataFrame:
    """Strongest kind first (pairs without one last), then the nearest."""
    rank = (
        pl.col("kinds")
        .list.first()
        .replace_strict(list(bounds.KINDS), list(range(len(bounds.KINDS))), default=None, return_dtype=pl.Int8)
    )
    ordered = found.with_columns(rank.alias("rank")).sort("rank", "near", "first_id", "second_id", nulls_last=True)
    return ordered.select(COLUMNS)


# Running the files beside this one --------------------------------------------------------------------------------


@cache
def _text_of(name: str) -> str:
    return files("warehouse.book").joinpath(f"duplicates_{name}.sql").read_text(encoding="utf-8")


def _run(connection: duckdb.DuckDBPyConnection, name: str, given: Parameters | None = None) -> pl.DataFrame:
    fetched: pl.DataFrame = connection.sql(_text_of(name), params=given or {}).pl()
    return fetched


@contextmanager
def _registered(connection: duckdb.DuckDBPyConnection, name: str, frame: pl.DataFrame) -> Iterator[None]:
    connection.register(name, frame)
    try:
        yield
    finally:
        connection.unregister(name)


@contextmanager
def _kept(connection: duckdb.DuckDBPyConnection, table: str, name: str, given: Parameters) -> Iterator[None]:
    """The rows of a query as a table that is no part of the book: what several queries ask is worked out once, and each
    of them is planned with its true size.
    """
    connection.execute(f"CREATE TEMP TABLE {table} AS {_text_of(name)}", given)
    try:
        yield
    finally:
        connection.execute(f"DROP TABLE temp.{table}")
