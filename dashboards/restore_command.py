"""The command `restore`: make a book of a backup, and say what it holds."""

import argparse

from dashboards.backup_command import holds_lines
from dashboards.printing import print_lines
from warehouse.book.backup import is_older, restore
from warehouse.plain_text import shown


def run(asked: argparse.Namespace) -> int:
    """Restore a book; one of an earlier schema needs a person, who upgrades it."""
    manifest = restore(asked.file, asked.book)
    book = shown(str(asked.book))
    print_lines(
        [f"{book}: restored from {shown(str(asked.file))}; it holds what was backed up", *holds_lines(manifest)]
    )
    if is_older(manifest.holds):
        print_lines(
            [f"The book is of an earlier version of Beamledger: bring it up to date with `beamledger upgrade {book}`"]
        )
        return 1
    return 0
