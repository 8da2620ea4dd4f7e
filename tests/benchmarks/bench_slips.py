"""How well the diagnosis names slips that are known, how often it is sure of a wrong score, and how fast it is.

    python -m tests.benchmarks.bench_slips                        every kind of fault, 2,000 sheets each
    python -m tests.benchmarks.bench_slips --kind copied --category elk-typical --notation eighths
    python -m tests.benchmarks.bench_slips --exhaustive           copied and carried: every cell, by every offset
    python -m tests.benchmarks.bench_slips --clean                false alarms on 100,000 right sheets
    python -m tests.benchmarks.bench_slips --speed                100,000 wrong sheets, seconds and memory

Every sheet is written as text to a CSV file, among right ones (`--among`), for what a file's other sheets tell of
its notation counts too, and goes through the whole audit. Shares are per cent of the wrong sheets.

  found      an error or a question is told of the sheet
  list       the cells at fault, and no others, are one of its explanations; `length` is how many it has on average
  first      they are the likeliest explanation, alone, with the right net; `+tied` or as likely as the first
  top 3      they are among the first three
  score      the net of the first explanation (without one, the recomputed net) is the true one
  certain    the score is called certain
  WRONG      sheets whose score is called certain and is not the true one
  harmless   sheets left out of all others: their figures agree all the same (an inside spread beyond the cap)
"""

import argparse
import tempfile
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import polars as pl

from tests.benchmarks.slip_kinds import ERASED, ONE_CELL, TWO, Faulty, Kind, exhaustive, harmless
from tests.benchmarks.slip_marks import Marks, audited, found_on, marks_of, recomputed_nets, verdicts
from tests.benchmarks.slip_methods import METHODS, MOVED
from tests.benchmarks.slip_sheets import CATEGORIES, right_sheets
from tests.benchmarks.slip_speed import speed
from tests.benchmarks.slip_text import NOTATIONS

KINDS = (*ONE_CELL, *METHODS, *MOVED, *ERASED, *TWO)
EACH_SHEET_STANDS_FOR = 100  # sheets asked for, for one that is tried with every cell and offset
CLEAN_SHEETS = SPEED_SHEETS = 100_000
TITLES = ("found", "list", "length", "first", "+tied", "top 3", "score", "certain", "WRONG", "harmless")
WIDTHS = {"length": 6, "WRONG": 6, "harmless": 8}
COLUMNS = " ".join(f"{title:>{WIDTHS.get(title, 7)}}" for title in TITLES)


def faulty_sheets(kind: Kind, category: str, number: int, seed: int) -> Faulty:
    """So many sheets of one kind of fault; right sheets that it cannot befall are passed over."""
    rng = np.random.default_rng([seed, CATEGORIES.index(category), *kind.name.encode()])
    made: list[Faulty] = []
    while sum(len(one.net) for one in made) < number:
        found = kind.make(right_sheets(category, max(4 * number, 1000), rng), rng)
        made.append(found.take(found.kept))
    sheets = made[0].sheets
    for one in made[1:]:
        sheets = sheets.joined(one.sheets)
    wrong, net, kept = (np.concatenate([getattr(one, name) for one in made]) for name in ("wrong", "net", "kept"))
    return Faulty(sheets, wrong, net, kept).take(np.arange(number))


def run_kind(kind: Kind, chosen: argparse.Namespace, folder: Path) -> Marks:
    """The marks of one kind over the categories asked for."""
    total = Marks()
    categories = [category for category in kind.categories if chosen.category in ("all", category)]
    for category in categories:
        number = max(chosen.sheets // len(categories), 1)
        if chosen.exhaustive:
            rng = np.random.default_rng([chosen.seed, *kind.name.encode()])
            faulty = exhaustive(kind, right_sheets(category, max(number // EACH_SHEET_STANDS_FOR, 1), rng), rng)
        else:
            faulty = faulty_sheets(kind, category, number, chosen.seed)
        no_harm = harmless(faulty)
        faulty = faulty.take(~no_harm)
        total += Marks(harmless=int(no_harm.sum()))
        if not len(faulty.net):  # so few sheets that none has such a cell
            continue
        others = np.random.default_rng([chosen.seed, 1, CATEGORIES.index(category)])
        right = right_sheets(category, chosen.among * len(faulty.net), others)
        table, seconds = audited(faulty.sheets.joined(right), chosen.notation, folder)
        frame = verdicts(faulty, table)
        _show(kind, category, frame, table.explanations, chosen.show)
        total += marks_of(frame, seconds)
    return total


def _show(kind: Kind, category: str, frame: pl.DataFrame, explanations: pl.DataFrame, most: int) -> None:
    """Some sheets whose score is certain and wrong, in words."""
    for row in frame.filter("certain_wrong").head(most).iter_rows(named=True):
        why = explanations.filter(id=row["id"])["why"].head(2).to_list()
        print(f"    {kind.name}, {category}, row {row['id'] + 2}: at fault {row['truth']}; true net {row['true_net']}, "
              f"given {row['given']}; told: {' | '.join(why) or 'nothing'}")  # fmt: skip


def table_row(name: str, marks: Marks) -> str:
    """One line of the table."""

    def share(count: int) -> str:
        return f"{100 * count / marks.sheets:7.2f}"

    parts = [share(count) for count in (marks.detected, marks.listed)]
    parts.append(f"{marks.told / marks.sheets:6.2f}")
    counts = (marks.first, marks.first_or_tied, marks.in_first_few, marks.restored, marks.certain)
    parts += [share(count) for count in counts]
    return f"{name:<46} {marks.sheets:>7,} {' '.join(parts)} {marks.certain_wrong:>6,} {marks.harmless:>8,}"


def _kinds(chosen: argparse.Namespace) -> Iterator[Kind]:
    for kind in KINDS:
        befalls = chosen.category == "all" or chosen.category in kind.categories
        if chosen.kind in kind.name and befalls and (kind.cells or not chosen.exhaustive):
            yield kind


def run_kinds(chosen: argparse.Namespace, folder: Path) -> None:
    """The table of marks."""
    print(f"{'fault':<46} {'sheets':>7} {COLUMNS}")
    families: dict[str, Marks] = {}
    for kind in _kinds(chosen):
        marks = run_kind(kind, chosen, folder)
        if not marks.sheets:
            continue
        families[kind.family] = families.get(kind.family, Marks()) + marks
        print(table_row(kind.name, marks), flush=True)
    for family, marks in families.items():
        print(table_row(f"all {family}", marks))
    every = sum(families.values(), Marks())
    rate = every.sheets / every.seconds
    print(
        f"{every.sheets:,} wrong sheets, each among {chosen.among} right ones, "
        f"audited in {every.seconds:.1f} s: {rate:,.0f} wrong sheets/s"
    )


def run_clean(chosen: argparse.Namespace, folder: Path) -> None:
    """False alarms on right sheets, and nets read wrong, for each notation and category."""
    categories = CATEGORIES if chosen.category == "all" else (chosen.category,)
    number = (chosen.sheets or chosen.clean) // (len(NOTATIONS) * len(categories))
    print(f"{'right sheets':<32} {'sheets':>8} {'alarms':>7} {'explained':>9} {'uncertain':>9} {'misread':>8}")
    for notation in NOTATIONS:
        for category in categories:
            rng = np.random.default_rng([chosen.seed, CATEGORIES.index(category), *notation.encode()])
            sheets = right_sheets(category, number, rng)
            table, _ = audited(sheets, notation, folder)
            alarms, explained = len(found_on(table, repeats=True)), table.explanations["id"].n_unique()
            uncertain = table.certain.len() - int(table.certain.sum())
            misread = int((recomputed_nets(table) != pl.Series(sheets.of("net"))).fill_null(True).sum())
            counts = f"{alarms:>7,} {explained:>9,} {uncertain:>9,} {misread:>8,}"
            print(f"{notation:<9} {category:<22} {number:>8,} {counts}", flush=True)


def main() -> None:
    """Run what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument(
        "--sheets", type=int, default=0, help="sheets of each kind (2,000), in all with --clean or --speed"
    )
    parser.add_argument("--category", choices=("all", *CATEGORIES), default="all")
    parser.add_argument("--notation", choices=tuple(NOTATIONS), default="blank")
    parser.add_argument("--kind", "--only", default="", help="only kinds of fault with this in their name")
    parser.add_argument("--among", type=int, default=4, help="right sheets in the file for each wrong one (4)")
    parser.add_argument("--seed", type=int, default=20261125)
    parser.add_argument("--show", type=int, default=0, help="so many certain and wrong sheets of each kind, in words")
    parser.add_argument("--clean", type=int, nargs="?", const=CLEAN_SHEETS, default=0, help="so many right sheets")
    for flag in ("exhaustive", "speed"):
        parser.add_argument(f"--{flag}", action="store_true")
    chosen = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        if chosen.clean:
            run_clean(chosen, Path(name))
        elif chosen.speed:
            speed(chosen.sheets or SPEED_SHEETS, chosen.category, chosen.notation, chosen.seed, Path(name))
        else:
            chosen.sheets = chosen.sheets or 2_000
            run_kinds(chosen, Path(name))


if __name__ == "__main__":
    main()
