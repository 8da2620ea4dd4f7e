"""The `beamledger` command: one thin face. It reads arguments, calls the loaders and the book, prints, and exits.

Exit codes: 0 done and clean, 1 done with findings that need a person, 2 not done.
"""

import argparse
import importlib
import io
import sys
from collections.abc import Callable, Sequence

from dashboards import book_arguments
from dashboards.arguments import make_parser
from warehouse.errors import BeamledgerError
from warehouse.plain_text import shown

DONE, ASKED, NOT_DONE = 0, 1, 2


def run(asked: argparse.Namespace) -> int:
    """Run the command that was asked for; only what it needs is imported, for DuckDB costs `check` a third of its time."""
    if asked.command == "check":
        from dashboards.check_command import check

        return check(asked)
    if asked.command in book_arguments.COMMANDS:
        module = importlib.import_module(f"dashboards.{asked.command}_command")
        return int(module.run(asked))
    from dashboards import commands
    from dashboards.correct_command import correct

    chosen: dict[str, Callable[[argparse.Namespace], int]] = {
        "init": commands.init,
        "load": commands.load,
        "findings": commands.findings,
        "entries": commands.entries,
        "correct": correct,
        "upgrade": commands.upgrade_book,
        "demo": commands.demo,
        "serve": commands.serve,
    }
    return chosen[asked.command](asked)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code. A refusal is one sentence on stderr, never a trace."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # names have accents, and JSON is UTF-8, whatever the locale
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    asked = make_parser().parse_args(arguments)
    try:
        return run(asked)
    except BeamledgerError as refusal:
        print(f"beamledger: {refusal}", file=sys.stderr)
    except BrokenPipeError:
        # the reader of our output (head, less) has had enough; nothing more can be said to it
        sys.stderr.close()
    except KeyboardInterrupt:
        print("beamledger: stopped; nothing was written that was not reported", file=sys.stderr)
    except MemoryError as refusal:
        print(f"beamledger: not enough memory for this file: {shown(str(refusal))}", file=sys.stderr)
    return NOT_DONE


if __name__ == "__main__":
    raise SystemExit(main())
