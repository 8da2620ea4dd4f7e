"""The check command, apart from those that need a book: it must start fast, so nothing here may import DuckDB."""

import argparse
import sys

from dashboards import report_words as words
from dashboards.asked import mapping_of, today
from dashboards.printing import print_lines
from dashboards.progress import Progress
from dashboards.sheet_lines import check_lines
from loaders.check import Settings, check_files


def check(asked: argparse.Namespace) -> int:
    """Audit files without a book."""
    mapping = mapping_of(asked)
    with Progress(asked.json) as progress:
        checked = check_files(
            asked.files, Settings(today(), mapping=mapping, named=frozenset(mapping), tell=progress.tell)
        )
    if asked.json:
        print_lines(line for audited in checked.tables for line in check_lines(audited))
    else:
        print_lines(words.check_report(checked))
    for note in words.file_notes(checked):
        print(note, file=sys.stderr if asked.json else sys.stdout)
    return int(words.needs_person(audited.findings for audited in checked.tables))
