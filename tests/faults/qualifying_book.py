"""A book of heads that all qualify for a record book, so that there is something to decide about and to publish."""

from pathlib import Path

from tests.book_builder import file_of, heads, load, new_book
from warehouse.book import database

HEADS = 20


def qualifying_book(folder: Path) -> Path:
    """A book of 20 accepted heads, numbered 0 to 19, in a folder that is made."""
    folder.mkdir(exist_ok=True)
    book = new_book(folder)
    with database.writing(book) as connection:
        connection.execute(
            """
            INSERT INTO season VALUES ('2025-26', DATE '2025-07-01', DATE '2026-06-30');
            INSERT INTO record_book VALUES
                ('Quillmark Record', '2000-01', NULL, 'net', 'shared', [], true, 60, [], [], [], [], NULL, NULL);
            INSERT INTO minimum (book, category, weapon_class, minimum_units, first_season) VALUES
                ('Quillmark Record', 'whitetail-typical', 'any', 8, '2000-01');
            """
        )
    load(book, file_of(folder / "heads.csv", heads(0, HEADS - 1)))
    (folder / "heads.csv").unlink()
    return book
