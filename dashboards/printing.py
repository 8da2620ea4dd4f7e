"""Lines to stdout, flushed at the end, so that a broken pipe shows while it can still be answered."""

import sys
from collections.abc import Iterable


def print_lines(lines: Iterable[str]) -> None:
    """Print each line as it stands."""
    for line in lines:
        sys.stdout.write(line + "\n")
    sys.stdout.flush()
