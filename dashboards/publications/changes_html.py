"""The last chapters: what changed since the edition before, and what was wrong in it."""

import re
from collections.abc import Iterator
from html import escape

import polars as pl

from dashboards.publications.html_table import UNKNOWN, Column, table
from dashboards.publications.printed_text import plain
from dashboards.words import category_words, counted
from warehouse.book.editions import Edition
from warehouse.plain_text import shown

CHANGE = (
    Column("entry_no", "Entry", "short"), Column("kind", "Change", "short"), Column("place_was", "Was", "place was"),
    Column("place_is", "Is", "place is"), Column("hunter", "Hunter", "name"), Column("what", "In a sentence", "words"),
)  # fmt: skip
MOVED_PLACES = 25  # a head that only moved is told of down to this place; one that comes moves all below it
KINDS = ("new", "corrected", "withdrawn", "moved")


def changes_title(edition: Edition) -> str:
    """The chapter's title, as HTML text."""
    return f"Changes since edition {escape(shown(edition.before))}" if edition.before else "Changes"


def changes_section(edition: Edition, key: str) -> str:
    """Every difference from the edition before in the lists of all time, list by list; `key` is the chapter's id."""
    opening = f'<section>\n<h2 id="{key}">{changes_title(edition)}</h2>\n'
    if edition.before is None:
        return f"{opening}<p>This is the first edition; there is none to hold it against.</p>\n</section>\n"
    if not edition.changes.height:
        return f"{opening}<p>No list of all time differs from the edition before.</p>\n</section>\n"
    parts = "".join(_of_lists(edition.changes, key))
    return (
        f"{opening}<p>Held against the lists of all time: {count_words(edition)}.</p>\n{_unbroken(parts)}</section>\n"
    )


def count_words(edition: Edition) -> str:
    """How many lines are new, corrected, withdrawn and moved: "2 new, 0 corrected, 0 withdrawn, 1 moved"."""
    counts = dict(edition.changes["kind"].value_counts().iter_rows())
    return ", ".join(f"{counts.get(kind, 0):,} {kind}" for kind in KINDS)


def errata_section(edition: Edition, key: str) -> str:
    """What to put right in the edition before, a sentence each; `key` is the chapter's id."""
    opening = f'<section>\n<h2 id="{key}">Errata</h2>\n'
    if edition.before is None or not edition.errata.height:
        return f"{opening}<p>No line of an edition before is known to be wrong.</p>\n</section>\n"
    before = escape(shown(edition.before))
    items = _unbroken("\n".join(f"<li>{escape(sentence)}</li>" for sentence in erratum_sentences(edition)))
    many = counted(edition.errata.height, "line")
    return (
        f"{opening}<p>Of edition {before}, {many} of the lists of all time no longer hold.</p>\n"
        f'<ol class="errata">\n{items}\n</ol>\n</section>\n'
    )


def erratum_sentences(edition: Edition) -> list[str]:
    """Where each wrong line stands, whose it is, and what became of it; plain text."""
    where = pl.format(
        "{}, {}, place {}, entry {}, {}: {}", "book", "category", "place_was", "entry_no", "hunter", "what"
    )
    return _worded(edition.errata).select(where)["book"].to_list()


def _unbroken(html: str) -> str:
    """HTML whose lengths stay on one line: "150 0/8" must not end a line behind 150."""
    return re.sub(r"(?<=\d) (?=\d{1,2}/(?:8|16)\b)", "&nbsp;", html)


def _of_lists(changes: pl.DataFrame, key: str) -> Iterator[str]:
    """A heading and a table for each category of each book."""
    for n, part in enumerate(changes.partition_by("book", "category", maintain_order=True), 1):
        book, category = shown(part["book"][0]), shown(category_words(part["category"][0]))
        yield f"<h3>{escape(book)}: {escape(category)}</h3>\n"
        told = part.filter((pl.col("kind") != "moved") | (pl.min_horizontal("place_was", "place_is") <= MOVED_PLACES))
        caption = f"{counted(told.height, 'change')} in {book}, {category}"
        yield table(_worded(told), CHANGE, caption, f"{key}-{n}", "told")
        if told.height < part.height:
            yield (
                f"<p>{counted(part.height - told.height, 'more head')} below place {MOVED_PLACES} moved, for heads came and went "
                "above; changes.csv lists each.</p>\n"
            )


def _worded(changes: pl.DataFrame) -> pl.DataFrame:
    """Every column as text that is harmless to print, a dash for what is not known."""
    named = changes.with_columns(pl.col("category").map_elements(category_words, return_dtype=pl.String))
    texts = plain(named.with_columns(pl.col("place_was", "place_is").cast(pl.String)))
    return texts.with_columns(pl.all().fill_null(UNKNOWN))
