"""A book of heads that all qualify for a record book, so that there is something to decide about and to publish."""

from datetime import datetime
from pathlib import Path

from loaders.reference_files import write_reference
from tests.book_builder import file_of, heads, load, new_book
from warehouse.book import database
from warehouse.book.reference import Told

HEADS = 20
REFERENCE = {
    "season": "season,starts_on,ends_on\n2025-26,2025-07-01,2026-06-30\n",
    "minimum": (
        "book,category,weapon_class,minimum,first_season,last_season\n"
        "Quillmark Record,whitetail-typical,any,1 0/8,2025-26,\n"
    ),
}


def qualifying_book(folder: Path) -> Path:
    """A book of 20 accepted heads, numbered 0 to 19, in a folder that is made."""
    folder.mkdir(exist_ok=True)
    book, paths = new_book(folder), {table: folder / f"{table}.csv" for table in REFERENCE}
    for table, path in paths.items():
        path.write_text(REFERENCE[table])
    with database.writing(book) as connection:
        write_reference(connection, paths, Told("tester", "the book was made", datetime(2026, 2, 1)))
    load(book, file_of(folder / "heads.csv", heads(0, HEADS - 1)))
    for path in folder.glob("*.csv"):
        path.unlink()
    return book
