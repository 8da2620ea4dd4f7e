"""What the arguments leave to be worked out: the heading mapping, the day, the name of who asks."""

import argparse
import getpass
from collections.abc import Sequence
from datetime import UTC, date, datetime

from loaders.headings import check_mapping
from warehouse.errors import MappingRefused, NotInBook
from warehouse.plain_text import shown


def mapping_of(asked: argparse.Namespace) -> dict[str, str]:
    """Heading -> field of every --map. Raises MappingRefused."""
    mapping: dict[str, str] = {}
    for pair in asked.map:
        heading, mark, field = pair.rpartition("=")
        if not mark or not heading.strip():
            raise MappingRefused(f"--map {shown(pair)!r}: expected HEADING=FIELD, like --map 'R Beam=beam_r'")
        mapping[heading.strip()] = field.strip()
    check_mapping(mapping, "--map")
    return mapping


def today() -> date:
    """The day in UTC, so that a run gives the same in every time zone."""
    return datetime.now(UTC).date()


def login() -> str:
    """The login name of who runs the command."""
    try:
        return getpass.getuser()
    except (KeyError, OSError):  # no login name on this machine: the ledger still needs an author
        return "unknown"


def one_of(option: str, asked: str | None, known: Sequence[str]) -> str | None:
    """What was asked for, None for nothing. Raises NotInBook, naming what there is, where it is not known."""
    if asked is None or asked in known:
        return asked
    alike = [name for name in known if name.casefold() == asked.strip().casefold()]
    if len(alike) != 1:
        there = ", ".join(map(shown, known)) or "none"
        raise NotInBook(f"{option} '{shown(asked)}': not in the book; expected one of: {there}")
    return alike[0]
