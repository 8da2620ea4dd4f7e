"""The number formats of an ODS workbook, written in the form spreadsheets show them (OpenDocument 1.3,
16.29).
"""

from dataclasses import dataclass, field

from loaders.readers.number_formats import DATE, FRACTION, PLAIN, TIME, ZEROS, NumberFormat
from loaders.readers.safe_xml import Attributes, LocalNames

_MAX_DIGITS = 20
_KINDS = {"date-style": DATE, "time-style": TIME, "number-style": PLAIN}
# Element, then its short and its long code.
_PARTS = {
    "day": ("d", "dd"),
    "month": ("m", "mm"),
    "year": ("yy", "yyyy"),
    "hours": ("h", "hh"),
    "minutes": ("m", "mm"),
    "seconds": ("s", "ss"),
    "day-of-week": ("ddd", "dddd"),
    "am-pm": ("AM/PM", "AM/PM"),
}


@dataclass
class OdsStyles:
    """Collects data styles and cell styles from `styles.xml` and `content.xml`; `format_of` resolves a cell
    style.
    """

    formats: dict[str, NumberFormat] = field(default_factory=dict)
    cells: dict[str, tuple[str, str]] = field(default_factory=dict)
    _name: str = ""
    _kind: str = ""
    _code: str = ""
    _literal: bool = False

    def start(self, local: str, attributes: Attributes, names: LocalNames) -> None:
        """Take in the start of one element; others than styles are passed over."""
        if local in _KINDS:
            given = _local(attributes, names)
            self._name, self._kind, self._code = given.get("name", ""), _KINDS[local], ""
        elif local == "style":
            given = _local(attributes, names)
            if given.get("family") == "table-cell":
                self.cells[given.get("name", "")] = (
                    given.get("data-style-name", ""),
                    given.get("parent-style-name", ""),
                )
        elif self._name:
            self._part(local, _local(attributes, names))

    def end(self, local: str) -> None:
        """Take in the end of one element."""
        self._literal = False
        if local in _KINDS and self._name:
            self.formats[self._name] = NumberFormat(self._kind, self._code)
            self._name = ""

    def text(self, part: str) -> None:
        """Literal text of a date format, such as the stops between day and month."""
        if self._literal and self._name:
            self._code += part

    def _part(self, local: str, given: Attributes) -> None:
        if local == "fraction":
            below = given.get("denominator-value") or "?" * _digits(given, "min-denominator-digits")
            whole = "# " if "min-integer-digits" in given else ""
            self._kind, self._code = (
                FRACTION,
                f"{whole}{'?' * _digits(given, 'min-numerator-digits')}/{below}",
            )
        elif local == "number" and self._kind == PLAIN and _digits(given, "min-integer-digits") > 1:
            self._kind, self._code = ZEROS, "0" * _digits(given, "min-integer-digits")
        elif local == "month" and given.get("textual") == "true":
            self._code += "mmmm" if given.get("style") == "long" else "mmm"
        elif local in _PARTS:
            self._code += _PARTS[local][given.get("style") == "long"]
        self._literal = local == "text"

    def format_of(self, style: str) -> NumberFormat:
        """The number format of a cell style, through its parents; plain when there is none."""
        seen: set[str] = set()
        while style and style not in seen:
            seen.add(style)
            data_style, parent = self.cells.get(style, ("", ""))
            if data_style in self.formats:
                return self.formats[data_style]
            style = parent
        return NumberFormat()


def _local(attributes: Attributes, names: LocalNames) -> Attributes:
    return {names[key]: value for key, value in attributes.items()}


def _digits(given: Attributes, key: str) -> int:
    text = given.get(key, "1")
    return min(max(int(text), 1), _MAX_DIGITS) if text.isascii() and text.isdigit() else 1
