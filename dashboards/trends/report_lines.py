"""Lines of a report for a terminal: a heading with sentences under it, figures and their signs kept together."""

import textwrap
from collections.abc import Iterator, Sequence

WIDTH = 100
TIED = "\u00a0"


def section(heading: str, sentences: Sequence[str]) -> Iterator[str]:
    """A heading and its sentences; nothing where there is none."""
    if not sentences:
        return
    yield f"\n{heading}"
    for sentence in sentences:
        kept = sentence.replace(" %", f"{TIED}%")  # a figure and its sign stay on one line
        for line in textwrap.wrap(kept, WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False):
            yield line.replace(TIED, " ")
