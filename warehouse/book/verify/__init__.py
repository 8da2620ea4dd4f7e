"""Prove that a book is whole: its log, what the log says was written, its rows and their counts, its statuses.

That its scores are right is proved by the loaders (`loaders.recompute`), from the rows as received (`received.py`).
"""

from warehouse.book.verify.check import Check
from warehouse.book.verify.store import check_book

__all__ = ["Check", "check_book"]
