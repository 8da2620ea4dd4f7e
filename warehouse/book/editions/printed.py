"""The only fields of an entry that may be published: every format is made of these, and of nothing else.

The tag number, the measurer, the dates, the place as it was written and the sheet's own lines stay in the book.
"""

ALLOWED = (
    "place", "tied", "net", "gross", "hunter", "area", "district", "season", "weapon", "antler_state", "entry_no",
)  # fmt: skip
"""In the order in which they are printed. Lengths are whole 1/`unit` inch; `weapon` is the weapon's label."""

RANKED = ("place", "tied")
FIGURES = tuple(name for name in ALLOWED if name not in RANKED)
"""What an entry itself says; its place and its ties rest on the others too."""

WORDS = {
    "net": "net", "gross": "gross", "hunter": "hunter", "area": "area", "district": "district", "season": "season",
    "weapon": "weapon", "antler_state": "antlers", "entry_no": "entry number",
}  # fmt: skip
"""What a figure is called in a sentence."""

ALL_TIME = "all-time"
"""The span of the list of every season; any other span is a season."""
