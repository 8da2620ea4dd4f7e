"""Every check of what a book holds by itself, one after the other."""

import duckdb

from warehouse.book.verify.chain import check_chain
from warehouse.book.verify.check import Check
from warehouse.book.verify.counts import check_balance, check_counts, check_statuses
from warehouse.book.verify.marks import check_marks
from warehouse.book.verify.reference_tables import check_reference
from warehouse.book.verify.written import check_contents
from warehouse.errors import BookDamaged
from warehouse.plain_text import shown

CHECKS = (
    check_chain, check_contents, check_marks, check_counts, check_balance, check_statuses, check_reference,
)  # fmt: skip


def check_book(connection: duckdb.DuckDBPyConnection) -> list[Check]:
    """Check an open book; each check names the first thing that does not hold.

    Raises BookDamaged where a table or a column is not there, or holds what cannot be read.
    """
    try:
        return [check(connection) for check in CHECKS]
    except (duckdb.ProgrammingError, duckdb.DataError) as odd:
        raise BookDamaged(f"the book cannot be checked: {shown(str(odd), 300)}; restore your last backup") from odd
