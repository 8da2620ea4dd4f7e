"""A progress line on stderr while files are read and audited; silent where nobody watches a terminal."""

import sys
from types import TracebackType
from typing import Any

from tqdm import tqdm


class Progress:
    """`with Progress(quiet) as progress: progress.tell("reading show.csv")`: what is being done, and for how long."""

    def __init__(self, quiet: bool) -> None:
        self._bar: Any = None
        self._quiet = quiet or not sys.stderr.isatty()

    def __enter__(self) -> "Progress":
        if not self._quiet:
            self._bar = tqdm(total=0, bar_format="{desc} {elapsed}", leave=False, file=sys.stderr)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._bar is not None:
            self._bar.close()

    def tell(self, doing: str, done: int = 0, of: int = 0) -> None:
        """Show what is being done; `done` of `of` files where that is known."""
        if self._bar is not None:
            share = f" [{'#' * (20 * done // of):<20}] {done}/{of}" if of else ""
            self._bar.set_description_str(f"{doing}{share}")
