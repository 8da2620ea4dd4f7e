"""The text of an XLSX cell from its type, style and stored value (ECMA-376 Part 1, 18.3.1.4 and 18.18.11)."""

import re

from loaders.readers.cell_text import stored_number_text
from loaders.readers.number_formats import NumberFormat
from loaders.readers.xlsx_parts import Workbook, unescaped

_GENERAL = NumberFormat()
_MIDNIGHT = re.compile(r"T00:00(?::00(?:\.0+)?)?Z?$")


class CellTexts:
    """Turns stored values into text, each distinct one once: score sheets repeat the same few hundred
    lengths.
    """

    def __init__(self, workbook: Workbook) -> None:
        self._book = workbook
        self.known: dict[tuple[str, str, str], str] = {}

    def text(self, style: str, kind: str, value: str) -> str:
        """The text of a value of type `kind` (the attribute `t`, '' for a number) under style number `style`.

        Raises ValueError when the value refers to a text or a style that the workbook does not have.
        """
        key = style, kind, value
        known = self.known.get(key)
        if known is None:
            known = self.known[key] = self._work_out(style, kind, value)
        return known

    def _work_out(self, style: str, kind: str, value: str) -> str:
        if kind == "s":
            return self._shared(int(value))
        if kind in ("str", "inlineStr"):
            return unescaped(value)
        if kind == "b":
            return {"1": "TRUE", "0": "FALSE"}.get(value, value.upper())
        if kind in ("", "n"):
            return stored_number_text(value, self._form(style), self._book.from_1904)
        return f"{_MIDNIGHT.sub('', value)} [{self._form(style).code}]" if kind == "d" else value

    def _shared(self, index: int) -> str:
        texts = self._book.texts
        if not 0 <= index < len(texts):
            raise ValueError(f"a cell refers to text {index} of {len(texts)}")
        return texts[index]

    def _form(self, style: str) -> NumberFormat:
        index, formats = int(style or "0"), self._book.formats
        if formats and not 0 <= index < len(formats):
            raise ValueError(f"a cell refers to style {index} of {len(formats)}")
        return formats[index] if formats else _GENERAL
