"""The command `verify`: prove that a book is whole and every score in it right, and say what does not hold."""

import argparse
import json
from collections.abc import Iterator

from dashboards.arguments import NOTICE
from dashboards.printing import print_lines
from dashboards.progress import Progress
from loaders.verify import Verified, verify
from warehouse.plain_text import shown


def run(asked: argparse.Namespace) -> int:
    """Verify a book; 1 where something does not hold."""
    with Progress(asked.json) as progress:
        verified = verify(asked.book, asked.wait, progress.tell)
    print_lines(_json_lines(verified) if asked.json else _report(verified, str(asked.book)))
    return int(not verified.is_sound)


def _report(verified: Verified, book: str) -> Iterator[str]:
    for check in verified.checks:
        yield f"{check.name}: {'' if check.holds else 'DOES NOT HOLD: '}{check.message}"
    failed = sum(not check.holds for check in verified.checks)
    if failed:
        yield (
            f"NOT SOUND: {failed} of {len(verified.checks)} checks do not hold; the book was not touched. Keep it as it is, and "
            f"restore your last backup beside it with `beamledger restore BACKUP NEWBOOK`; verify that, then load, decide "
            f"and correct again what came after it (`beamledger entries --book {shown(book)}` lists what this book holds)"
        )
    else:
        yield (
            f"sound: {verified.rows:,} rows, {verified.entries:,} entries; the log ends with event {verified.event_no}, "
            f"head {verified.head}"
        )
        yield "Keep the head where nobody can change it: whoever has it can tell whether the log was written anew."
    yield NOTICE


def _json_lines(verified: Verified) -> Iterator[str]:
    for check in verified.checks:
        yield json.dumps(
            {"check": check.name, "holds": check.holds, "counted": check.counted, "message": check.message},
            ensure_ascii=False,
        )
    yield json.dumps({
        "summary": True, "sound": verified.is_sound, "events": verified.event_no, "head": verified.head,
        "rows": verified.rows, "entries": verified.entries,
    })  # fmt: skip
