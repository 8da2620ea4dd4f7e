"""How likely a slip is, as a cost in halvings: one more is half as likely. Judged, not measured; the reasons stand here.

A step is worked out once, with every carry from eighths to inches by hand, while a copied cell is looked at again: so
a step that is off in a known manner (an inch lost in carrying, a row left out; see `manners`) is the likeliest slip
of all. Without a known manner few amounts speak for a step, and a cell that only got another numerator, the
commonest way to copy wrong, is likelier; one that got other inches and another numerator is not.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from warehouse.diagnosis.grid import Ints
from warehouse.diagnosis.slips import Slip

Costs = npt.NDArray[np.int16]

CARRIED = 8  # less what the manner eases
CREDITED = 15  # the spread credit: nothing is worked out but the cap, so without a manner the inside spread is suspect
FEW_POINTS, LITTLE_TO_ADD = 4, 7  # more, for the total of so few abnormal points: a point written wrong is likelier
COPIED = 6  # one cell of some forty
UNREAD = 0  # known to be unknown
KINDS = {"swapped": 6, "exchanged": 8, "shifted": 7}
FAR_ROWS = 5  # more, for an exchange between rows that are no neighbours
ANOTHER_NUMERATOR, ANOTHER_INCH, ANOTHER_DIGIT, ANYTHING = 1, 3, 4, 7
LEFT_OUT = 5  # a measure or a point that is not on the sheet at all
LONG_FIGURE = 2  # less, for any other change of a total: of three digits and a fraction more can go wrong
SHARED = 2  # more, for one of several cells of a kind that would do as well: none of them stands out
COUNT_MENDED, COUNT_BROKEN = -3, 4  # the points then are as many as stated, or no longer are
# A slip dearer than this is so odd that two common ones, which happen to look like it, are as likely: the score is
# then not certain, even where it is the only explanation.
ODD = 12


def base_costs(slips: Sequence[Slip], cells: Sequence[str]) -> Costs:
    """The cost of each slip before its amount is looked at."""
    return np.array([_base(slip, cells) for slip in slips], dtype=np.int16)


def _base(slip: Slip, cells: Sequence[str]) -> int:
    if slip.kind == "carried":
        return CREDITED if cells[slip.cells[0]] == "spread_credit" else CARRIED
    if slip.kind == "copied":
        return COPIED
    far = slip.kind == "exchanged" and not _are_neighbours(slip, cells)
    return KINDS.get(slip.kind, UNREAD) + (FAR_ROWS if far else 0)


def _are_neighbours(slip: Slip, cells: Sequence[str]) -> bool:
    """Whether the two cells stand one below the other on the sheet: no other row of their column is between."""
    low, high = sorted(slip.cells)
    return not any(cells[between][-2:] == cells[low][-2:] for between in range(low + 1, high))


def copying_costs(wrong: Ints, right: Ints, unit: int, is_figure: bool) -> Costs:
    """The cost of writing `wrong` for `right` (units) in a measure's or a figure's box, beside that of copying at all."""
    inches, parts = wrong // unit, wrong % unit
    true_inches, true_parts = right // unit, right % unit
    digits = [(value // 10, value % 10) for value in (inches, true_inches)]
    one_digit = (digits[0][0] == digits[1][0]) | (digits[0][1] == digits[1][1])
    turned = (digits[0][0] == digits[1][1]) & (digits[0][1] == digits[1][0])
    same_parts = parts == true_parts
    cost = np.full(wrong.shape, ANYTHING - LONG_FIGURE * is_figure, dtype=np.int16)
    cost[same_parts & (one_digit | turned)] = ANOTHER_DIGIT
    cost[same_parts & (np.abs(inches - true_inches) == 1)] = ANOTHER_INCH
    cost[inches == true_inches] = ANOTHER_NUMERATOR
    if not is_figure:
        cost[wrong == 0] = LEFT_OUT
    return cost


def adding_costs(points: Ints) -> Costs:
    """What is added to the cost of an abnormal total worked out wrong, by the number of points listed."""
    return np.where(points <= FEW_POINTS, LITTLE_TO_ADD, 0).astype(np.int16)
