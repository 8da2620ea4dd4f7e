"""How alike two entries must be to be shown to a person as perhaps one head: every bound, in one place.

All of them are common practice, no source: two trained people measure a dry rack the same to an eighth or two on each
line, and a head that dries on, or is measured green the second time, moves by a little more. They only decide what is
asked about; a person decides what it is.
"""

NEAR_LINE = 2
"""near-head: no beam, point, circumference (horn, skull) differs by more than this, in eighths of an inch."""
NEAR_SUM = 16
"""near-head: the differences of all scored and credited measures add up to no more than this, in eighths."""
AGAIN_LINE = 4
"""measured-again and other-category: the same for a head that was measured on another day or by another rule."""
AGAIN_SUM = 32
MEASURES_LEAST = 6
"""So many measures above nothing must be known on both sheets: two lengths alike are no likeness."""
UNKNOWN_MOST = 4
"""Of the measures of a sheet, so many may be unknown on one of the two; the others are compared."""
NAME_LEAST = 85
"""Hunters count as one from this similarity of their plain names on, of 100, in whatever order the words stand."""
BLOCK_MOST = 200
"""Entries of one date and area that are compared each with each; a larger block is split (duplicate pairs' query)."""
TAG_MOST = 20
"""A tag number that more entries of one season carry is a placeholder, and tells nothing."""

KINDS = ("same-head", "same-tag", "measured-again", "other-category", "near-head")
"""The kinds of pair, the strongest first."""
