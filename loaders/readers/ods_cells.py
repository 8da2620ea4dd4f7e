"""The text of one ODS cell from its attributes and paragraphs (OpenDocument 1.3, 9.1.4 and 19.385)."""

import re

from loaders.readers.cell_text import stored_number_text, with_format
from loaders.readers.number_formats import FRACTION, PLAIN, ZEROS, NumberFormat
from loaders.readers.safe_xml import Attributes

_NUMBERS = ("float", "percentage", "currency")
_CLOCK = re.compile(r"PT(\d+)H(\d+)M(\d+)(?:[.,](\d*))?S")
_REFERENCE = re.compile(r"\[\.?([^\[\]]*)\]")
_MIDNIGHT = re.compile(r"T00:00:00(?:\.0+)?$")
# Signs that stand for kept white space until runs of plain white space are joined to one blank.
BLANK, TAB, BREAK = "\x00", "\x01", "\x02"


def cell_text(cell: Attributes, paragraphs: list[str], form: NumberFormat) -> str | None:
    """The text of a cell: `cell` its attributes without prefixes, `paragraphs` its text; None when it is
    empty.
    """
    shown_text = "\n".join(_spaced(part) for part in paragraphs)
    kind = cell.get("value-type", "")
    if cell.get("calcext-type") == "error":
        return shown_text or "#ERROR"
    if kind in _NUMBERS and "value" in cell:
        return stored_number_text(cell["value"], form if form.kind in (FRACTION, ZEROS) else NumberFormat(), False)
    if kind == "date" and "date-value" in cell:
        return _bracketed(_MIDNIGHT.sub("", cell["date-value"]), form)
    if kind == "time" and "time-value" in cell:
        return _bracketed(_clock(cell["time-value"]), form)
    if kind == "boolean" and "boolean-value" in cell:
        return cell["boolean-value"].upper()
    text = shown_text or cell.get("string-value", "")
    if not text and not kind and cell.get("formula"):
        return f"{_formula(cell['formula'])} [no stored value]"
    return text or None


def _bracketed(text: str, form: NumberFormat) -> str:
    return f"{text} [General]" if form.kind == PLAIN or not form.code else with_format(text, form)


def _clock(duration: str) -> str:
    found = _CLOCK.fullmatch(duration)
    if found is None or int(found[1]) > 23:
        return duration
    part = (found[4] or "").rstrip("0")
    return f"{int(found[1]):02}:{int(found[2]):02}:{int(found[3]):02}{'.' + part if part else ''}"


def _formula(text: str) -> str:
    bare = text if text.startswith("=") else text.partition(":")[2] or text
    return _REFERENCE.sub(lambda found: found[1].replace(":.", ":"), bare)


def _spaced(part: str) -> str:
    joined = re.sub(r"[ \t\r\n]+", " ", part)
    return joined.replace(BLANK, " ").replace(TAB, "\t").replace(BREAK, "\n")
