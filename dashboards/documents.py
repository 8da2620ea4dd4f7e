"""The tables that the README prints, made from the code that rules by them: `python -m dashboards.documents`."""

import re
from itertools import groupby
from pathlib import Path

from warehouse.audit.codes import CODES
from warehouse.glossary import TERMS, Term

README = Path(__file__).parent.parent / "README.md"


def code_table() -> str:
    """Every finding code with its severity, meaning and what to do."""
    rows = [f"| `{name}` | {code.severity} | {code.title} | {code.what_to_do} |" for name, code in CODES.items()]
    return "\n".join(["| code | severity | what it is | what to do |", "| --- | --- | --- | --- |", *rows])


def field_table() -> str:
    """Every field of a wide row, by group."""
    rows = [_field_row(group, list(terms)) for group, terms in groupby(TERMS, key=lambda term: term.group)]
    return "\n".join(["| group | fields |", "| --- | --- |", *rows])


def _field_row(group: str, terms: list[Term]) -> str:
    said = "; ".join(f"{_names(term.fields)}: {term.meaning}" for term in terms)
    return f"| {group} | {said} |"


def _names(fields: tuple[str, ...]) -> str:
    """Two names in full, more as a range."""
    shown = fields if len(fields) <= 2 else (*fields[:2], "…", fields[-1])
    return " ".join(name if name == "…" else f"`{name}`" for name in shown)


TABLES = {"codes": code_table, "fields": field_table}


def with_tables(text: str) -> str:
    """The README's text with each table put between its marks anew."""
    for name, make in TABLES.items():
        marks = rf"<!-- {name} -->\n(.*?)<!-- /{name} -->"
        head, _, tail = re.split(marks, text, maxsplit=1, flags=re.DOTALL)
        text = f"{head}<!-- {name} -->\n{make()}\n<!-- /{name} -->{tail}"
    return text


if __name__ == "__main__":
    README.write_text(with_tables(README.read_text(encoding="utf-8")), encoding="utf-8")
