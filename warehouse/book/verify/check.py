"""What one check of a book came to."""

from dataclasses import dataclass

from warehouse.plain_text import shown

LONGEST = 600  # characters of a message: names and cells in it are other people's


@dataclass(frozen=True)
class Check:
    """One check: whether it holds, how many things it looked at, and in words what holds, or the first thing that does not."""

    name: str
    holds: bool
    counted: int
    message: str


def judged(name: str, counted: int, sound: str, fault: str | None) -> Check:
    """A check that holds with the words `sound`, or does not because of `fault`."""
    return Check(name, fault is None, counted, shown(sound if fault is None else fault, LONGEST))


def many(count: int, thing: str) -> str:
    """A count in words: "1 event", "2,000 entries"."""
    plural = f"{thing[:-1]}ies" if thing.endswith("y") else f"{thing}s"
    return f"{count:,} {thing if count == 1 else plural}"
