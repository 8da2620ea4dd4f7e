"""The frame that the sheet rules look at: one row a sheet, all of one category.

id                    UInt32, place of the sheet in its file's table
<measure>             Int32 units; null: not known (blank, unreadable, undecided). A point nobody grew is 0
abnormal_total        Int32 units, recomputed from the abnormal points listed
<figure>              Int32 units, recomputed (see `scoring`)
stated.<figure>       Int32 units as the sheet states it; null: not stated, or not readable
blank.<measure>       Boolean, for points and needed measures: nothing was written in the cell
count.r, count.l      Int16 normal points with a length; null where one of them is not known
points_r, points_l    Int16 as stated
least.abnormal_r, _l  Int32 units, the shortest abnormal point listed; null for none
abnormal_count_r, _l  Int16 abnormal points listed; abnormal_single_r, _l: one number, which may be a sum
"""

from dataclasses import dataclass

import polars as pl

from warehouse.categories import Category

SIDE_NAMES = {"r": "right", "l": "left"}


def points_found(side: str) -> pl.Expr:
    """The points of a side: normal points with a length, the beam tip, abnormal points listed; null where not known."""
    return pl.col(f"count.{side}") + 1 + pl.col(f"abnormal_count_{side}")


@dataclass(frozen=True)
class Sheets:
    """Sheets of one category as the frame above, the fields their file has at all, and its cells as received.

    `texts` has one row for every row of the file (not of the frame): `text.<field>`, found by id.
    """

    category: Category
    frame: pl.DataFrame
    present: frozenset[str]
    texts: pl.DataFrame
