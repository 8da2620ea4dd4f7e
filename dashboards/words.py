"""Every word the pages say for a code of the book, and the one way other people's text gets into a sentence."""

import re

from warehouse.audit.codes import CODES, FIGURE_TITLES, code_of, is_figure, title_of
from warehouse.categories import all_categories
from warehouse.plain_text import shown

CAUTION = (
    "A book’s own rules and local law outrank this program. It recomputes and compares what sheets say; "
    "it decides nothing for a book."
)
SEVERITIES = {"error": "Error", "question": "Question", "note": "Note"}
SIGNS = {"error": "▲", "question": "?", "note": "·"}
WEAPON_CLASSES = {
    "firearm": "Firearm",
    "muzzleloader": "Muzzleloader",
    "bow": "Bow",
    "crossbow": "Crossbow",
    "found": "Found dead",
    "any": "Any weapon",
}
USUAL_CATEGORY = "whitetail-typical"
"""The category that is shown where none is named: white-tailed deer, typical."""
STATUSES = {
    "accepted": "Accepted", "held": "Held", "refused": "Refused", "withdrawn": "Withdrawn", "merged": "Merged",
}  # fmt: skip
TIE_RULES = {
    "shared": "Ties share a place, and the next place is skipped.",
    "gross": "Of equal scores the one with the higher gross goes first; those still equal share a place.",
    "taken": "Of equal scores the head taken earlier goes first; those still equal share a place.",
}
EVENTS = {
    "load": "Received", "correct": "Corrected", "accept": "Accepted", "hold": "Held with a question", "refuse": "Refused",
    "panel": "Panel asked for", "panel-result": "Panel’s score", "withdraw": "Withdrawn", "merge": "Merged",
    "distinct": "Told apart", "undo": "Undone", "reference": "Reference tables", "publish": "Published", "upgrade": "Upgraded",
}  # fmt: skip
CHANGES = {"new": "New", "moved": "Moved", "corrected": "Corrected", "withdrawn": "Withdrawn"}
TOTALS = FIGURE_TITLES
FIELDS = {
    "entry_no": "Entry number", "category": "Category", "hunter": "Hunter", "tag_no": "Tag number",
    "area": "Area", "state": "State", "district": "District", "taken_on": "Date taken", "season": "Season",
    "weapon": "Weapon", "antler_state": "Antler state", "age": "Age", "measured_on": "Date measured", "measurer": "Measurer", "points_r": "Points, right",
    "points_l": "Points, left", "abnormal_r": "Abnormal, right", "abnormal_l": "Abnormal, left", **TOTALS,
}  # fmt: skip
# Markdown acts on these signs; behind a backslash each is only itself (CommonMark 2.4, from memory).
_MARKDOWN = re.compile(r"([!-/:-@\[-`{-~])")
# Some things are made after Markdown is done, when a backslash is used up: icons of :word:, arrows of ->, links of
# https://, www. and addresses with @. There an invisible word joiner keeps the signs apart.
_AFTERWARDS = re.compile(r"(?<=:)(?=[\w:/])|(?<=[<>~-])(?=[=>-])|(?<=www)(?=\.)|(?<=@)", re.IGNORECASE)
WORD_JOINER = "\u2060"


def plain(text: str) -> str:
    """Other people's text for a place that reads Markdown: it comes out letter for letter, on one line, and acts on
    nothing.
    """
    joined = _AFTERWARDS.sub(WORD_JOINER, " ".join(shown(text).split()))
    return _MARKDOWN.sub(r"\\\1", joined)


def code_words(code: str) -> str:
    """What a finding code means, short enough for a chart: `g2_diff` is "G2 difference does not add up"."""
    if code not in CODES and not is_figure(code):
        return code.replace("-", " ")
    return title_of(code)


def what_to_do(code: str) -> str:
    """What the audit's table advises for a code; nothing for a code it does not have."""
    return code_of(code).what_to_do if code in CODES or is_figure(code) else ""


def field_words(field: str) -> str:
    """What a field is called on the pages: `g2_r` is "G2, right"."""
    return FIELDS.get(field) or _line_words().get(field) or field.replace("_", " ").replace("-", " ")


def category_words(code: str | None) -> str:
    """The category's name; the code where there is no such category."""
    category = all_categories().get(code or "")
    return category.name if category else (code or "Not known")


def weapon_words(weapon_class: str | None) -> str:
    """The weapon class as a label."""
    return WEAPON_CLASSES.get(weapon_class or "", weapon_class or "Not known")


def age_words(half_years: int | None) -> str | None:
    """ "4.5 years"; None where nobody aged the buck."""
    return None if half_years is None else f"{half_years / 2:g} year{'' if half_years == 2 else 's'}"


def counted(number: int, one: str, many: str | None = None) -> str:
    """ "1 sheet", "2 sheets", "1,204 sheets"."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def _line_words() -> dict[str, str]:
    found: dict[str, str] = {}
    for category in all_categories().values():
        for line in category.lines:
            found[line.name] = line.label
            found[f"{line.name}_r"], found[f"{line.name}_l"] = f"{line.label}, right", f"{line.label}, left"
            found[line.difference] = f"{line.label.removesuffix(' (brow)')} difference"
    return found
