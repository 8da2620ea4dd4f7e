"""The one form of a refusal: the file, what was found, what was expected, what to do next."""

from warehouse.errors import FileRefused
from warehouse.plain_text import shown


def refusal(file: str, found: str, expected: str, next_step: str) -> FileRefused:
    """Compose a FileRefused for `file` (any text; acting characters are shown as codes). Sentences without
    stops.
    """
    return FileRefused(f"{shown(file)}: {found}. Expected {expected}. {next_step}.")
