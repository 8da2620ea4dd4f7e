"""Two sheets side by side (under each other on a phone): the cells in which they differ carry a sign and a tint."""

import polars as pl
import streamlit as st

from dashboards.views.sheet_cells import NOTHING
from dashboards.words import STATUSES, TOTALS, category_words, plain
from warehouse.book.reading import Sheet, SheetLine

SIGN, TINT = "≠", "orange"
LEGEND = f"{SIGN} the two sheets differ in this cell. Text in quotation marks is as received."
COUNTED = ("gross", "deductions", "net")


def draw(first: Sheet, second: Sheet) -> None:
    """Draw both sheets, row beside row."""
    lines = _lines(first, second)
    for column, sheet, other in zip(st.columns(2, gap="medium"), (first, second), (second, first), strict=True):
        with column:
            st.markdown(f"**{title(sheet)}**")
            _facts(sheet, other)
            _table(_pairs(lines, sheet, other), f"Lines of entry {sheet.entry_id}, inches")
            _table(_singles(lines, sheet, other), f"Spreads and totals of entry {sheet.entry_id}, inches")
    st.caption(LEGEND)


def title(sheet: Sheet) -> str:
    """What an entry is called on this page, as Markdown."""
    status = STATUSES.get(sheet.status, sheet.status).lower()
    return f"{plain(name(sheet.entry_id, sheet.entry_no))} – {status}"


def name(entry_id: int, entry_no: str | None) -> str:
    """An entry's number, and its ID, for two entries of a pair may have one number."""
    return f"{entry_no or 'no number'} (={entry_id})"


def _facts(sheet: Sheet, other: Sheet) -> None:
    beside = _told(other)
    with st.grid(columns=3, min_column_width=100, gap="small"):
        for label, value in _told(sheet).items():
            st.markdown(f":small[{label}]  \n{_cell(value, beside[label])}")


def _told(sheet: Sheet) -> dict[str, str | None]:
    points = [NOTHING if count is None else str(count) for count in sheet.points]
    return {
        "Hunter": sheet.hunter,
        "Area": ", ".join(part for part in (sheet.area, sheet.district) if part) or None,
        "Taken": f"{sheet.taken_on or 'no date'} ({sheet.season or 'no season'})",
        "Category": category_words(sheet.category),
        "Tag": sheet.tag_no,
        "Weapon": sheet.weapon,
        "Measured": str(sheet.measured_on) if sheet.measured_on else None,
        "Measurer": sheet.measurer,
        "Points, right + left": " + ".join(points),
    }


def _lines(first: Sheet, second: Sheet) -> list[SheetLine]:
    """The lines of both sheets, each once: a point that only one of them has stands on both sides."""
    return list({line.name: line for line in (*first.lines, *second.lines)}.values())


def _pairs(lines: list[SheetLine], sheet: Sheet, other: Sheet) -> pl.DataFrame:
    names = [line for line in lines if line.sides == "pair"]
    mine, beside = _by_name(sheet), _by_name(other)
    return pl.DataFrame(
        {"Line": [line.label.removesuffix(" circumference") for line in names]}
        | {
            side.capitalize(): [_length(_side(mine, line, side), _side(beside, line, side)) for line in names]
            for side in ("right", "left")
        }
    )


def _singles(lines: list[SheetLine], sheet: Sheet, other: Sheet) -> pl.DataFrame:
    names = [line for line in lines if line.sides == "single"]
    mine, beside = _by_name(sheet), _by_name(other)
    measured = [_length(_side(mine, line, "right"), _side(beside, line, "right")) for line in names]
    return pl.DataFrame(
        {
            "Spread or total": [
                *(line.label for line in names),
                *(f"{TOTALS[total]}, recomputed" for total in COUNTED),
            ],
            "Inches": [*measured, *(_length(_total(sheet, total), _total(other, total)) for total in COUNTED)],
        }
    )


def _by_name(sheet: Sheet) -> dict[str, SheetLine]:
    return {line.name: line for line in sheet.lines}


def _side(lines: dict[str, SheetLine], line: SheetLine, side: str) -> str | None:
    there = lines.get(line.name)
    text = (there.right if side == "right" else there.left) if there else None
    return None if text == "0" else text  # a point that nobody grew: blank on one sheet, 0 on another, is no difference


def _total(sheet: Sheet, total: str) -> str | None:
    return next((each.recomputed for each in sheet.totals if each.name == total), None)


def _cell(text: str | None, beside: str | None) -> str:
    """`text` as Markdown, marked where the other sheet says something else."""
    said = plain(text) if text else NOTHING
    return said if text == beside else f":{TINT}-background[{SIGN} {said}]"


def _length(text: str | None, beside: str | None) -> str:
    """A length stays on one line: 24 4/8 broken after 24 reads as two measures."""
    return _cell(text, beside).replace(" ", "\u00a0")


def _table(shown: pl.DataFrame, words: str) -> None:
    st.table(shown, border="horizontal", hide_index=True, alt=words)
