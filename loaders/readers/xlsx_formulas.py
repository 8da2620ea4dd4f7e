"""The text of a formula, needed only where a workbook stores no value for it."""

from loaders.readers.safe_xml import Attributes


class Formulas:
    """Remembers shared formulas: one cell writes the formula, the others only refer to its number."""

    def __init__(self) -> None:
        self._shared: dict[str, tuple[str, str]] = {}

    def remember(self, formula: str, attributes: Attributes, cell: str) -> str:
        """Keep a shared formula where it is written out; gives the number a sharing cell refers to, else ''."""
        number = attributes.get("si", "") if attributes.get("t") == "shared" else ""
        if number and formula:
            self._shared[number] = formula, cell
        return number

    def text(self, formula: str, shared: str, cell: str) -> str:
        """The formula of `cell` (such as B5) with `=` in front; a shared one is moved to the cell it stands
        in.
        """
        if formula or not shared:
            return f"={formula}"
        origin, first = self._shared.get(shared, ("", ""))
        return _moved(origin, first, cell) if origin and first and cell else f"={origin}"


def _moved(formula: str, first: str, cell: str) -> str:
    # Imported only here: the library takes longer to load than a small workbook to read.
    from openpyxl.formula.tokenizer import TokenizerError
    from openpyxl.formula.translate import Translator, TranslatorError

    try:
        return str(Translator(f"={formula}", origin=first).translate_formula(cell))
    except (TokenizerError, TranslatorError, ValueError, IndexError):
        return f"={formula}"
