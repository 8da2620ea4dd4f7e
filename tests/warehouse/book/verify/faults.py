"""Why a check of a book does not hold."""

from collections.abc import Callable

import duckdb

from warehouse.book.verify import Check


def fault(connection: duckdb.DuckDBPyConnection, check: Callable[[duckdb.DuckDBPyConnection], Check]) -> str | None:
    """Why a check does not hold; None where it does."""
    found = check(connection)
    return None if found.holds else found.message
