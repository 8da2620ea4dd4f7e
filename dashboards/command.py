"""The `beamledger` command: one thin face. It reads arguments, calls the loaders and the book, prints, and exits.

Exit codes: 0 done and clean, 1 done with findings that need a person, 2 not done.
"""

import argparse
import sys
from collections.abc import Callable, Sequence

from dashboards import commands
from dashboards.arguments import make_parser
from warehouse.errors import BeamledgerError
from warehouse.plain_text import shown

DONE, ASKED, NOT_DONE = 0, 1, 2

COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "init": commands.init,
    "load": commands.load,
    "check": commands.check,
    "findings": commands.findings,
    "entries": commands.entries,
    "demo": commands.demo,
    "serve": commands.serve,
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code. A refusal is one sentence on stderr, never a trace."""
    asked = make_parser().parse_args(arguments)
    try:
        return COMMANDS[asked.command](asked)
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
