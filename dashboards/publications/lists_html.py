"""The chapter of one record book: its rules and minimums, then category by category its lists."""

from html import escape

import polars as pl

from dashboards.publications.html_table import Column, table
from dashboards.publications.printed_text import lines_as_text, plain
from dashboards.publications.rule_words import ANTLERS, minimums_as_text, rule_sentences
from dashboards.words import category_words, counted
from warehouse.book.editions import Edition
from warehouse.book.editions.printed import ALL_TIME
from warehouse.plain_text import shown

LINE = (
    Column("place", "Place", "place"), Column("net", "Net", "length"), Column("gross", "Gross", "length"),
    Column("hunter", "Hunter", "name"), Column("area", "Area", "area"), Column("district", "District", "area"),
    Column("season", "Season", "short"), Column("weapon", "Weapon"), Column("antler_state", "Antlers"),
    Column("entry_no", "Entry", "short"),
)  # fmt: skip
MINIMUM = (
    Column("category", "Category"), Column("weapon", "Weapon", "short"), Column("antlers", "Antlers", "short"),
    Column("minimum", "Minimum", "length"), Column("score", "Held against", "short"),
    Column("seasons", "Seasons", "short"),
)  # fmt: skip


def books(edition: Edition) -> list[str]:
    """The record books of the edition that list a head or have a minimum, by name."""
    named = pl.concat([edition.lines["book"], edition.minimums["book"]])
    return sorted(named.unique().to_list())


def categories(lines: pl.DataFrame) -> list[str]:
    """The categories of some lines of an edition, in their order."""
    return lines["category"].unique(maintain_order=True).to_list()


def book_section(edition: Edition, book: str, key: str) -> str:
    """The chapter of one record book; `key` is its id on the page."""
    lines = edition.lines.filter(pl.col("book") == book)
    parts = [f'<section>\n<h2 id="{key}">{escape(shown(book))}</h2>\n', _rules(edition, book, key)]
    for n, category in enumerate(categories(lines), 1):
        parts.append(_category(edition, lines.filter(pl.col("category") == category), f"{key}-c{n}"))
    return "".join((*parts, "</section>\n"))


def _rules(edition: Edition, book: str, key: str) -> str:
    minimums = edition.minimums.filter(pl.col("book") == book)
    sentences = "".join(f"<p>{escape(sentence)}</p>\n" for sentence in rule_sentences(minimums))
    quoted = table(plain(minimums_as_text(minimums)), MINIMUM,
                   f"Minimums of {shown(book)}, in inches, with the seasons they are for", f"{key}-minimums")  # fmt: skip
    return f'<h3 id="{key}-rules">Rules and minimums</h3>\n{sentences}{quoted}'


def _category(edition: Edition, lines: pl.DataFrame, key: str) -> str:
    book, name = shown(lines["book"][0]), shown(category_words(lines["category"][0]))
    season = lines.filter(pl.col("span") == edition.season)
    all_time = lines.filter(pl.col("span") == ALL_TIME)
    none = f"<p>No head of season {escape(shown(edition.season))} qualified.</p>\n"
    newest = _list(season, f"{book}. {name}: {counted(season.height, 'head')} of season {shown(edition.season)}",
                   f"{key}-season") if season.height else none  # fmt: skip
    whole = _list(all_time, f"{book}. {name}: {counted(all_time.height, 'head')} of all seasons", f"{key}-all")
    return (
        f'<h3 id="{key}">{escape(name)}</h3>\n<h4>Season {escape(shown(edition.season))}</h4>\n{newest}'
        f"<h4>All time</h4>\n{whole}"
    )


def _list(lines: pl.DataFrame, caption: str, key: str) -> str:
    worded = lines_as_text(lines).with_columns(
        pl.when("tied").then(pl.format("{} =", "place")).otherwise(pl.col("place").cast(pl.String)).alias("place"),
        pl.col("antler_state").replace(ANTLERS),
    )
    return table(worded, LINE, caption, key)
