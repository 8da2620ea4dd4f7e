"""The command `duplicates`: pairs of entries that may be one head, one under the other, and how to decide."""

import argparse
import shlex
from collections.abc import Iterator
from typing import Any

import polars as pl

from dashboards.arguments import NOTICE
from dashboards.duplicates_words import DECIDED, alike_words
from dashboards.printing import print_lines
from dashboards.sheet_lines import json_lines
from dashboards.which_entry import entry_id
from dashboards.words import category_words, counted
from warehouse.book.length_text import length_text
from warehouse.book.reading.duplicate_pairs import read_duplicate_pairs
from warehouse.eighths import EIGHTHS, text_of
from warehouse.plain_text import shown

IN_JSON = (
    "entry_id", "entry_no", "status", "hunter", "area", "taken_on", "season", "category", "tag_no", "measured_on",
    "measurer", "unit", "gross", "net", "gross_text", "net_text",
)  # fmt: skip


def run(asked: argparse.Namespace) -> int:
    """List the pairs; 1 where one of them waits for a person."""
    entry = entry_id(asked.book, asked.entry, asked.wait) if asked.entry else None
    found = read_duplicate_pairs(asked.book, entry, asked.all, asked.wait)
    print_lines(pair_lines(found.rows) if asked.json else report(found.rows, str(asked.book)))
    return int(not found.undecided.is_empty())


def pair_lines(pairs: pl.DataFrame) -> list[str]:
    """One JSON object for each pair."""
    sides = [_side(pairs, which) for which in ("first", "second")]
    line = pl.struct("first", "second", "kinds", "near", "decided")
    return json_lines(pairs.select("kinds", "near", "decided").with_columns(sides), line)


def _side(pairs: pl.DataFrame, which: str) -> pl.Series:
    """What the line says of one of the two entries, as a struct called `which`."""
    names = {f"{which}_{name}": name for name in IN_JSON if f"{which}_{name}" in pairs.columns}
    frame = pairs.rename({f"{which}_id": f"{which}_entry_id"}).select(f"{which}_entry_id", *names)
    frame = frame.rename({name: name.removeprefix(f"{which}_") for name in frame.columns})
    frame = frame.with_columns(length_text("gross"), length_text("net"))
    frame = frame.with_columns(pl.col("taken_on", "measured_on").dt.to_string("%Y-%m-%d"))
    return frame.select(pl.struct(IN_JSON).alias(which)).to_series()


def report(pairs: pl.DataFrame, book: str) -> Iterator[str]:
    """The pairs for people: what is alike, the two entries, how to decide."""
    waiting = pairs["decided"].null_count()
    yield f"{shown(book)}: {counted(waiting, 'pair')} of entries may be one head" + (
        f"; {counted(pairs.height - waiting, 'pair')} decided" if waiting < pairs.height else ""
    )
    for nth, pair in enumerate(pairs.iter_rows(named=True), start=1):
        yield ""
        yield from _block(nth, pair, book)
    if waiting:
        yield ""
        yield "merge: the entry becomes one with the other, which counts; distinct: they are two heads. Look at both sheets first."
    yield NOTICE


def _block(nth: int, pair: dict[str, Any], book: str) -> Iterator[str]:
    yield f"{nth:>3}. {'; '.join(alike_words(pair['kinds'], pair['near'], pair['first_unit']))}"
    yield f"     {_entry(pair, 'first')}"
    yield f"     {_entry(pair, 'second')}"
    yield f"     {DECIDED[pair['decided']]}" if pair["decided"] else f"     {_how(pair, book)}"


def _entry(pair: dict[str, Any], which: str) -> str:
    told = {name.removeprefix(f"{which}_"): value for name, value in pair.items() if name.startswith(f"{which}_")}
    net = "net not known" if told["net"] is None else f"net {text_of(told['net'], told['unit'] or EIGHTHS)}"
    facts = (
        shown(told["entry_no"] or "(no number)", 40), shown(told["hunter"] or "(no name)", 40), shown(told["area"] or "(no area)", 40),
        str(told["taken_on"] or told["season"] or "(no date)"), category_words(told["category"]), net,
        f"measured by {shown(told['measurer'] or '(nobody named)', 40)}", told["status"],
    )  # fmt: skip
    return f"={told['id']}  {', '.join(facts)}"


def _how(pair: dict[str, Any], book: str) -> str:
    """The command that decides, with the entry that would go: the later one, or the held one of the two."""
    goes, stays = pair["second_id"], pair["first_id"]
    if (pair["first_status"], pair["second_status"]) == ("held", "accepted"):
        goes, stays = stays, goes
    command = f"beamledger decide --book {shown(shlex.quote(book))} ={goes}"
    return f"{command} merge --with ={stays} --by NAME --why TEXT   (two heads: distinct in place of merge)"
