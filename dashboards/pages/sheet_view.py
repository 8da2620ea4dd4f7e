"""One sheet laid out: lines with both differences, totals stated beside recomputed, findings, the row as received.

A cell that a finding names carries a sign as well as a colour. Everything of the sender's goes through `st.text`,
`st.dataframe` or `words.plain`.
"""

import polars as pl
import streamlit as st

from dashboards.words import (
    CODES, SEVERITIES, SIGNS, STATUSES, TOTALS, category_words, code_words, counted, field_words, plain,
)  # fmt: skip
from warehouse.book.reading import Sheet, SheetFinding, SheetLine

NOTHING = "–"
TINTS = {"error": "red", "question": "orange"}
Marks = dict[str, str]


def draw(sheet: Sheet) -> None:
    """Draw the whole sheet."""
    marks = sheet.marks
    st.subheader(f"Sheet {plain(sheet.entry_no or 'without a number')} – {STATUSES[sheet.status].lower()}")
    _facts(sheet)
    left, right = st.columns([3, 2], gap="medium")
    with left:
        st.markdown("**Lines**, inches")
        st.table(_lines(sheet, marks), border="horizontal", hide_index=True, alt="Lines of the sheet")
    with right:
        st.markdown("**Spreads**, inches")
        st.table(_spreads(sheet, marks), border="horizontal", hide_index=True, alt="Spreads")
        st.markdown("**Totals**, inches")
        st.table(
            _totals(sheet, marks), border="horizontal", hide_index=True, alt="Totals, stated and recomputed"
        )
    _legend(sheet)
    _findings(sheet)
    _received(sheet)


def _facts(sheet: Sheet) -> None:
    counts = " + ".join("–" if count is None else str(count) for count in sheet.points)
    facts = {
        "Hunter": sheet.hunter,
        "Category": category_words(sheet.category),
        "Area": ", ".join(part for part in (sheet.area, sheet.district) if part),
        "Taken": f"{sheet.taken_on or 'no date'} ({sheet.season or 'season not known'})",
        "Weapon": sheet.weapon,
        "Measured": str(sheet.measured_on) if sheet.measured_on else None,
        "Measurer": sheet.measurer,
        "Tag": sheet.tag_no,
        "Points, right + left": counts if any(sheet.points) else None,
    }
    with st.grid(columns=5, min_column_width=150, gap="small") as grid:
        for label, value in facts.items():
            with grid.cell():
                st.caption(label)
                st.text(value or NOTHING)


def _lines(sheet: Sheet, marks: Marks) -> pl.DataFrame:
    pairs = [line for line in sheet.lines if line.sides == "pair"]
    return pl.DataFrame(
        {
            "Line": [line.label for line in pairs],
            "Right": [_cell(line.right, marks.get(f"{line.name}_r")) for line in pairs],
            "Left": [_cell(line.left, marks.get(f"{line.name}_l")) for line in pairs],
            "Difference stated": [
                _cell(line.stated_difference, marks.get(f"{line.name}_diff")) for line in pairs
            ],
            "recomputed": [_recomputed(line) for line in pairs],
        }
    )


def _recomputed(line: SheetLine) -> str:
    if line.kind == "abnormal":
        return NOTHING
    return line.recomputed_difference or "not known"


def _spreads(sheet: Sheet, marks: Marks) -> pl.DataFrame:
    singles = [line for line in sheet.lines if line.sides == "single"]
    return pl.DataFrame(
        {
            "Line": [line.label for line in singles],
            "Measured": [_cell(line.right, marks.get(line.name)) for line in singles],
        }
    )


def _totals(sheet: Sheet, marks: Marks) -> pl.DataFrame:
    return pl.DataFrame(
        {
            "Total": [TOTALS[total.name] for total in sheet.totals],
            "Stated": [_cell(total.stated, marks.get(total.name)) for total in sheet.totals],
            "Recomputed": [total.recomputed or "not known" for total in sheet.totals],
        }
    )


def _cell(text: str | None, severity: str | None) -> str:
    if severity not in TINTS:
        return plain(text) if text else NOTHING
    return f":{TINTS[severity]}-background[{SIGNS[severity]} {plain(text) if text else 'blank'}]"


def _legend(sheet: Sheet) -> None:
    st.caption(
        f"{SIGNS['error']} an error names this cell, \\{SIGNS['question']} a question names it. “Not known” rests on a "
        "measure that is missing or cannot be read. Text in quotation marks is as received."
    )
    if not sheet.lines:
        st.caption("No line of this sheet could be read.")


def _findings(sheet: Sheet) -> None:
    st.markdown(f"**{counted(len(sheet.findings), 'finding')}**")
    for found in sheet.findings:
        st.markdown(_sentence(found))
    if not sheet.findings:
        st.text("The audit found nothing on this sheet.")


def _sentence(found: SheetFinding) -> str:
    sign = f"{SIGNS[found.severity]} {SEVERITIES[found.severity]}".replace("?", r"\?")
    badge = f":{TINTS[found.severity]}-background[{sign}]" if found.severity in TINTS else sign
    named = f" Cells: {plain(', '.join(map(field_words, found.cells)))}." if found.cells else ""
    title = code_words(found.code) if found.code in CODES else f"{code_words(found.code)} does not add up"
    return f"{badge} **{plain(title)}.** {plain(found.message)}{named}"


def _received(sheet: Sheet) -> None:
    st.markdown("**The row as received**")
    place = [sheet.file or "file not known"]
    if sheet.file_sheet:
        place.append(f"sheet {sheet.file_sheet}")
    st.text(
        f"{', '.join(place)}, row {sheet.row}; loaded {sheet.loaded_at} UTC by {sheet.loaded_by}. Revision {sheet.revision_no}."
    )
    received = pl.DataFrame(
        {
            "Heading": [heading for heading, _, _ in sheet.received],
            "As received": [text for _, text, _ in sheet.received],
            "Read as": [field_words(field) if field else NOTHING for _, _, field in sheet.received],
        }
    )
    st.dataframe(
        received,
        hide_index=True,
        height=min(38 + 35 * max(received.height, 1), 420),
        alt="The row as received",
    )
