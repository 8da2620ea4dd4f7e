"""An edition as one static page: no script, nothing fetched from elsewhere, made to be printed."""

from collections.abc import Iterator
from html import escape

import polars as pl

from dashboards.publications import changes_html, lists_html
from dashboards.publications.page_style import style
from dashboards.words import CAUTION, category_words
from warehouse.book.editions import Edition
from warehouse.plain_text import shown

_HEAD = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{title}</title>
<style>{style}</style>
</head>
<body>
"""
CHANGES, ERRATA = "changes", "errata"


def rankings(edition: Edition) -> bytes:
    """The whole edition as UTF-8: contents, rules and lists of each record book, changes, errata."""
    parts = [_opening(edition), _contents(edition)]
    parts += [lists_html.book_section(edition, book, f"b{n}") for n, book in enumerate(lists_html.books(edition), 1)]
    parts += [changes_html.changes_section(edition, CHANGES), changes_html.errata_section(edition, ERRATA)]
    return "".join((*parts, "</main>\n</body>\n</html>\n")).encode()


def chain_sentence(edition: Edition) -> str:
    """What the edition can be held against: how long the log was, and its last hash."""
    events = "1 event" if edition.events == 1 else f"{edition.events:,} events"
    return f"This edition rests on {events} of the log; the hash of the last one is {edition.head}."


def _opening(edition: Edition) -> str:
    name = escape(shown(edition.name))
    facts = {
        "Published (UTC)": f"{edition.published_on:%Y-%m-%d}",
        "Newest season": edition.season,
        "Accepted entries": f"{edition.entries:,}",
        "Edition before": edition.before or "none: this is the first",
    }
    listed = "".join(f"<dt>{escape(key)}</dt><dd>{escape(shown(value))}</dd>" for key, value in facts.items())
    return (
        _HEAD.format(title=f"Records book, edition {name}", style=style(edition.name))
        + f'<header><div class="page"><h1>Records book</h1><p>Edition {name}</p></div></header>\n'
        + f'<main class="page">\n<dl class="facts">{listed}</dl>\n'
        + f'<p class="notice">{escape(CAUTION)}</p>\n<p>{escape(chain_sentence(edition))}</p>\n'
    )


def _contents(edition: Edition) -> str:
    books = "".join(_contents_of_book(edition, book, f"b{n}") for n, book in enumerate(lists_html.books(edition), 1))
    return (
        f'<nav aria-labelledby="contents">\n<h2 class="on-this-page" id="contents">Contents</h2>\n<ul>\n{books}'
        f'<li><a href="#{CHANGES}">{changes_html.changes_title(edition)}</a></li>\n'
        f'<li><a href="#{ERRATA}">Errata</a></li>\n</ul>\n</nav>\n'
    )


def _contents_of_book(edition: Edition, book: str, key: str) -> str:
    links = "".join(_links_of_categories(edition.lines.filter(pl.col("book") == book), key))
    return (
        f'<li><a href="#{key}">{escape(shown(book))}</a>\n<ul>\n'
        f'<li><a href="#{key}-rules">Rules and minimums</a></li>\n{links}</ul></li>\n'
    )


def _links_of_categories(lines: pl.DataFrame, key: str) -> Iterator[str]:
    for n, category in enumerate(lists_html.categories(lines), 1):
        yield f'<li><a href="#{key}-c{n}">{escape(shown(category_words(category)))}</a></li>\n'
