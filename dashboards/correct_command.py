"""The command `correct`: find the entry, make the correction, say how the sheet then stands."""

import argparse

from dashboards.arguments import NOTICE
from dashboards.asked import today
from dashboards.printing import print_lines
from dashboards.which_entry import entry_id
from loaders.corrections import Author, Corrected, Target, accept_explanation, correct_cells
from warehouse.audit.codes import HOLDS
from warehouse.errors import CorrectionRefused
from warehouse.plain_text import shown


def correct(asked: argparse.Namespace) -> int:
    """Correct one entry of a book."""
    target = Target(asked.book, entry_id(asked.book, asked.entry, asked.wait), wait=asked.wait)
    author = Author(asked.by, asked.why)
    if asked.accept is not None:
        done = accept_explanation(target, asked.accept - 1 if asked.accept else None, author, today())
    else:
        done = correct_cells(target, cells_named(asked.cell), author, today())
    print_lines(report(asked.entry, done))
    return int(done.is_held)


def cells_named(asked: list[str]) -> dict[str, str]:
    """FIELD=TEXT arguments as field -> text. Raises CorrectionRefused."""
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


def report(number: str, done: Corrected) -> list[str]:
    """How the entry stands after a correction, in lines."""
    state = "held: a person must look again" if done.is_held else done.status
    asked = done.findings.filter(done.findings["severity"].is_in(HOLDS))
    lines = [f"entry {shown(number)}: revision {done.revision_no} written; the entry is {state}"]
    lines += [
        f"    {field}: {shown(before or '(blank)')} -> {shown(now or '(blank)')}"
        for field, (before, now) in done.cells.items()
    ]
    lines += [f"    net: {done.net or 'not known'}"]
    lines += [f"    {severity:<8} {shown(message)}" for severity, message in asked.select("severity", "message").rows()]
    return [*lines, NOTICE]
