"""One cell of a laid-out sheet: its text, and a sign and a tint where a finding or an explanation names it."""

from dataclasses import dataclass

from dashboards.words import SIGNS, plain
from warehouse.book.reading import Sheet

NOTHING = "–"
LONGEST_LENGTH = 11  # signs of "200 15/16" in quotation marks
TINTS = {"error": "red", "question": "orange"}
SUSPECT_TINT, SUSPECT_SIGN = "violet", "◆"


@dataclass(frozen=True)
class Marks:
    """Which fields are named: by findings (field -> "error" or "question"), and as wrong by the likeliest explanations."""

    findings: dict[str, str]
    suspects: frozenset[str]

    @classmethod
    def of(cls, sheet: Sheet) -> "Marks":
        """The marks of a sheet."""
        return cls(sheet.marks, sheet.suspects)

    def cell(self, text: str | None, *fields: str) -> str:
        """`text` (None: nothing there) as Markdown, marked where one of `fields` is named, by the worst that names it."""
        named = [self.findings[field] for field in fields if field in self.findings]
        worst = min(named, default=None)  # "error" sorts before "question"
        is_suspect = not self.suspects.isdisjoint(fields)
        if worst is None and not is_suspect:
            return plain(text) if text else NOTHING
        signs = (SUSPECT_SIGN if is_suspect else "") + (SIGNS[worst] if worst else "")
        tint = SUSPECT_TINT if is_suspect or worst is None else TINTS[worst]
        return f":{tint}-background[{signs} {plain(text) if text else 'blank'}]"

    def length(self, text: str | None, *fields: str) -> str:
        """A cell with a length, which stays on one line: 24 4/8 broken after 24 reads as two measures."""
        cell = self.cell(text, *fields)
        is_short = text is not None and len(text) <= LONGEST_LENGTH
        return cell.replace(" ", "\u00a0") if is_short else cell
