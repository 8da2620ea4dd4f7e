"""What a filter may offer: only values that the book holds."""

from dataclasses import dataclass
from pathlib import Path

import polars as pl

from warehouse.book.database import reading
from warehouse.book.named_query import frame


@dataclass(frozen=True)
class Choices:
    """Values in order; `areas` maps area code to name, `measurers` maps the measurer's number (or name) to a label."""

    seasons: tuple[str, ...]
    districts: tuple[str, ...]
    categories: tuple[str, ...]
    weapon_classes: tuple[str, ...]
    books: tuple[str, ...]
    codes: tuple[str, ...]
    areas: dict[str, str]
    measurers: dict[str, str]


def read_choices(path: Path) -> Choices:
    """The filter values of the book at `path`. Raises as `warehouse.book.database.reading` does."""
    with reading(path) as connection:
        plain = frame(connection, "choices_plain")
        areas = frame(connection, "choices_areas")
        measurers = frame(connection, "choices_measurers")
    return Choices(
        seasons=_of_kind(plain, "season"),
        districts=_of_kind(plain, "district"),
        categories=_of_kind(plain, "category"),
        weapon_classes=_of_kind(plain, "weapon_class"),
        books=_of_kind(plain, "book"),
        codes=_of_kind(plain, "code"),
        areas=_distinct_labels(areas),
        measurers=_distinct_labels(measurers),
    )


def _of_kind(plain: pl.DataFrame, kind: str) -> tuple[str, ...]:
    return tuple(plain.filter(pl.col("kind") == kind)["value"].to_list())


def _distinct_labels(options: pl.DataFrame) -> dict[str, str]:
    """Two states may have an area of one name: those carry their code, so that each label means one value."""
    label = (
        pl.when(pl.col("label").is_duplicated()).then(pl.format("{} ({})", "label", "value")).otherwise(pl.col("label"))
    )
    named = options.with_columns(label=label)
    return dict(zip(named["value"].to_list(), named["label"].to_list(), strict=True))
