"""The command `rank`: places by record book, category, area, district, seasons and weapon."""

import argparse
import json
from collections.abc import Iterator

import polars as pl
from duckdb import DuckDBPyConnection

from dashboards.arguments import NOTICE
from dashboards.asked import one_of
from dashboards.asked_of_book import area_of, category_of, check_season, check_window, weapons_of
from dashboards.printing import print_lines
from dashboards.words import TIE_RULES
from loaders.load import book_names
from warehouse.book import database, rankings, standing
from warehouse.book.length_text import length_text
from warehouse.categories import all_categories
from warehouse.errors import NotInBook
from warehouse.plain_text import shown


def run(asked: argparse.Namespace) -> int:
    """Print a ranking."""
    with database.reading(asked.book, asked.wait) as connection:
        ranked = rankings.rank(connection, _settings(asked, connection))
    print_lines(_json_lines(ranked) if asked.json else _report(ranked))
    return 0


def _settings(asked: argparse.Namespace, connection: DuckDBPyConnection) -> rankings.RankSettings:
    _check_seasons(asked)
    district = one_of("--district", asked.district, rankings.districts(connection))
    category, area = category_of(asked.category), area_of(asked.area, book_names(connection))
    return rankings.RankSettings(
        book=one_of("--in", asked.record_book, standing.books(connection)),
        categories=(category,) if category else (),
        areas=(area,) if area else (),
        districts=(district,) if district else (),
        first_season=asked.season or asked.first_season,
        last_season=asked.season or asked.last_season,
        weapons=weapons_of(asked.weapon),
        score=asked.score,
        places=asked.top,
    )


def _check_seasons(asked: argparse.Namespace) -> None:
    if asked.season:
        check_season(asked.season)
        if asked.first_season or asked.last_season:
            raise NotInBook("--season is one season; it does not go with --from or --to")
    check_window(asked.first_season, asked.last_season)


def _json_lines(ranked: pl.DataFrame) -> Iterator[str]:
    """One object an entry, in list order; lengths are text."""
    lines = _with_texts(ranked).select(
        "place", "tied", "entry_no", "category", "area", "district", "season", "weapon",
        pl.col("gross_text").alias("gross"), pl.col("net_text").alias("net"),
        "entry_id", "book", "hunter", "antler_state", "ranked_by",
    )  # fmt: skip
    return (json.dumps(line, ensure_ascii=False) for line in lines.iter_rows(named=True))


def _with_texts(ranked: pl.DataFrame) -> pl.DataFrame:
    return ranked.with_columns(length_text("gross"), length_text("net"))


def _report(ranked: pl.DataFrame) -> Iterator[str]:
    """Each category's list under its name, and how ties are placed."""
    if not ranked.height:
        yield "no entry is ranked: none is accepted that fits what was asked for"
        return
    for (category,), rows in _with_texts(ranked).group_by("category", maintain_order=True):
        yield f"{all_categories()[str(category)].name}, by {rows['ranked_by'][0]}"
        yield f"  {'place':>5}  {'net':>9} {'gross':>9}  {'entry':<12} {'hunter':<24} {'area':<16} {'season':<8} weapon"
        yield from _lines(rows)
    yield TIE_RULES[ranked["tie_rule"][0]]
    yield NOTICE


def _lines(rows: pl.DataFrame) -> Iterator[str]:
    texts = ("net_text", "gross_text", "entry_no", "hunter", "area", "season", "weapon")
    for place, tied, *told in rows.select("place", "tied", *texts).rows():
        net, gross, number, hunter, area, season, weapon = (shown(str(cell or "-"), 24) for cell in told)
        sign = "=" if tied else " "
        yield f"  {place:>4}{sign}  {net:>9} {gross:>9}  {number:<12} {hunter:<24} {area:<16} {season:<8} {weapon}"
