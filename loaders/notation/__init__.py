"""Text of a length -> whole units, every reading kept; never a guess without a finding.

`spellings` reads distinct texts, `decimals` knows the readings of the digits behind a decimal mark, `cells` reads
whole columns and `lists` the lists of abnormal points; `habits` tells what a spelling says about its writer.
"""

from loaders.notation.cells import Readings, read_columns
from loaders.notation.lists import read_lists
from loaders.notation.spellings import Reading, read_text, spell

__all__ = ["Reading", "Readings", "read_columns", "read_lists", "read_text", "spell"]
