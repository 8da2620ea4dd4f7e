"""Many damaged books, with figures: `python -m tests.faults.nightly_damage 40` (so many cuts and flips of each file)."""

import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.book_builder import beside
from tests.faults.damage import book_with_log, damaged, good_book, outcome, with_bytes
from tests.faults.soundness import hash_of

SEED = 20251125


def main(times: int) -> None:
    """Print what became of them; an AssertionError where one opened smaller or other than it was."""
    with tempfile.TemporaryDirectory(prefix="damage-") as folder:
        place = Path(folder)
        for made, ending, name in ((good_book, "", "book"), (book_with_log, ".wal", "log")):
            (place / name).mkdir()
            book = made(place / name)
            whole = hash_of(with_bytes(book, place, "none", None))
            data = beside(book, ending).read_bytes()
            found = [outcome(with_bytes(book, place, ending, one), whole) for one in damaged(data, times, times, SEED)]
            for what, part in (("cut short", found[:times]), ("with a flipped bit", found[times:])):
                told = ", ".join(f"{count} {outcome}" for outcome, count in Counter(part).most_common())
                print(f"{times} times the {name} {what}: {told}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
