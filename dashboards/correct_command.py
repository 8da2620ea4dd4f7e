"""The command `correct`: find the entry, make the correction, say how the sheet then stands."""

import argparse

from dashboards.arguments import NOTICE
from dashboards.asked import today
from loaders.corrections import Author, Corrected, Target, accept_explanation, correct_cells
from warehouse.audit.codes import HOLDS
from warehouse.book import corrections, database
from warehouse.errors import CorrectionRefused
from warehouse.plain_text import shown


def correct(asked: argparse.Namespace) -> int:
    """Correct one entry of a book."""
    target = Target(asked.book, _entry_id(asked), wait=asked.wait)
    author = Author(asked.by, asked.why)
    if asked.accept is not None:
        done = accept_explanation(target, asked.accept - 1 if asked.accept else None, author, today())
    else:
        done = correct_cells(target, _cells(asked.cell), author, today())
    for line in _report(asked.entry, done):
        print(line)
    return int(done.is_held)


def _entry_id(asked: argparse.Namespace) -> int:
    if asked.entry.startswith("=") and asked.entry[1:].isascii() and asked.entry[1:].isdigit():
        return int(asked.entry[1:])
    with database.reading(asked.book, asked.wait) as connection:
        found = corrections.entries_numbered(connection, asked.entry)
    if not found:
        raise CorrectionRefused(f"no entry of the book has the number '{shown(asked.entry)}'; nothing was changed")
    if len(found) > 1:
        which = "; ".join(
            f"--entry ={entry} ({shown(hunter or 'no name')}, {season or 'no season'})"
            for entry, hunter, season in found
        )
        raise CorrectionRefused(
            f"{len(found)} entries have the number '{shown(asked.entry)}': say which with {which}; nothing was changed"
        )
    return found[0][0]


def _cells(asked: list[str]) -> dict[str, str]:
    cells: dict[str, str] = {}
    for text in asked:
        field, sign, value = text.partition("=")
        if not sign:
            raise CorrectionRefused(
                f"--cell '{shown(text)}': expected FIELD=TEXT, such as g2_r='9 1/8'; nothing was changed"
            )
        if field.strip() in cells:
            raise CorrectionRefused(f"--cell {shown(field.strip())}: named twice; nothing was changed")
        cells[field.strip()] = value
    return cells


def _report(number: str, done: Corrected) -> list[str]:
    state = "held: a person must look again" if done.is_held else "accepted"
    asked = done.findings.filter(done.findings["severity"].is_in(HOLDS))
    lines = [f"entry {shown(number)}: revision {done.revision_no} written; the entry is {state}"]
    lines += [
        f"    {field}: {shown(before or '(blank)')} -> {shown(now or '(blank)')}"
        for field, (before, now) in done.cells.items()
    ]
    lines += [f"    net: {done.net or 'not known'}"]
    lines += [f"    {severity:<8} {shown(message)}" for severity, message in asked.select("severity", "message").rows()]
    return [*lines, NOTICE]
