"""Which entry a person means who gives a number on the command line."""

from pathlib import Path

from warehouse.book import corrections, database
from warehouse.errors import EntryNotFound
from warehouse.plain_text import shown


def entry_id(book: Path, text: str, wait: float = database.WAIT_SECONDS) -> int:
    """The ID of the entry with this number, or of the ID itself, written "=217".

    Raises EntryNotFound where no entry has the number, or several have it (each is named).
    """
    if text.startswith("=") and text[1:].isascii() and text[1:].isdigit():
        return int(text[1:])
    with database.reading(book, wait) as connection:
        found = corrections.entries_numbered(connection, text)
    if not found:
        hint = f"; for the entry with the ID {text} write ={text}" if text.isascii() and text.isdigit() else ""
        raise EntryNotFound(f"no entry of the book has the number '{shown(text)}'{hint}")
    if len(found) > 1:
        which = "; ".join(
            f"={entry} ({shown(hunter or 'no name')}, {season or 'no season'})" for entry, hunter, season in found
        )
        raise EntryNotFound(
            f"{len(found)} entries have the number '{shown(text)}': name one of them by its ID: {which}"
        )
    return found[0][0]
