"""The command `backup`: write a backup of a book, and say what it holds."""

import argparse
from collections.abc import Iterator
from pathlib import Path

from dashboards.printing import print_lines
from warehouse.book.backup import back_up
from warehouse.book.backup_file import BOOK, Manifest
from warehouse.plain_text import shown


def run(asked: argparse.Namespace) -> int:
    """Back up a book."""
    written = back_up(asked.book, asked.file, asked.wait)
    print_lines(
        [f"{shown(str(asked.book))}: backed up to {shown(str(asked.file))}, and read back", *holds_lines(written)]
    )
    print_lines(
        [f"  backup      {_size(asked.file)} bytes; keep it on another disk, and the head where nobody can change it"]
    )
    return 0


def holds_lines(manifest: Manifest) -> Iterator[str]:
    """What a backup holds, one line a figure."""
    holds = manifest.holds
    yield f"  entries     {holds.counts.get('entry', 0)}, of {holds.counts.get('load', 0)} loads"
    yield f"  book hash   {holds.book_hash}"
    yield f"  head        {holds.head} (event {holds.events})"
    yield f"  made        {manifest.made_at:%Y-%m-%d %H:%M:%S} UTC by {shown(manifest.program)}, schema {holds.schema_name}"
    yield f"  book        {manifest.files[BOOK].bytes} bytes"


def _size(path: Path) -> int:
    return path.stat().st_size
