"""Named queries of the book, for the pages and the command. Each `.sql` file states its grain; each function opens
the book, asks, and closes it again, and gives a frozen object of figures and Polars frames.
"""

from warehouse.book.reading.choices import Choices, read_choices
from warehouse.book.reading.held_sheets import HeldSheets, QueueSettings, read_held_sheets
from warehouse.book.reading.minimum_counts import MinimumCounts, MinimumSettings, read_minimum_counts
from warehouse.book.reading.overview import Figures, Overview, read_overview
from warehouse.book.reading.ranked import News, Ranked, read_news, read_ranked
from warehouse.book.reading.sheet import Sheet, SheetFinding, read_sheet
from warehouse.book.reading.sheet_decisions import SheetEvent, SheetStanding
from warehouse.book.reading.sheet_layout import SheetLine, SheetTotal
from warehouse.book.reading.sheet_reasons import SheetExplanation, SheetRevision
from warehouse.book.reading.stamp import book_stamp
from warehouse.book.reading.standings import Standings, StandingSettings, read_standings

__all__ = [
    "Choices",
    "Figures",
    "HeldSheets",
    "MinimumCounts",
    "MinimumSettings",
    "News",
    "Overview",
    "QueueSettings",
    "Ranked",
    "Sheet",
    "SheetEvent",
    "SheetExplanation",
    "SheetFinding",
    "SheetLine",
    "SheetRevision",
    "SheetStanding",
    "SheetTotal",
    "StandingSettings",
    "Standings",
    "book_stamp",
    "read_choices",
    "read_held_sheets",
    "read_minimum_counts",
    "read_news",
    "read_overview",
    "read_ranked",
    "read_sheet",
    "read_standings",
]
