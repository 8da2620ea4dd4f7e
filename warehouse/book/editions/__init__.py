"""Printed editions: a published state of the book, frozen once and written out again with the same bytes for ever."""

from warehouse.book.editions.freezing import freeze
from warehouse.book.editions.frozen import Edition, edition_number, events_since, read_edition
from warehouse.book.editions.news import changes_since_newest

__all__ = ["Edition", "changes_since_newest", "edition_number", "events_since", "freeze", "read_edition"]
