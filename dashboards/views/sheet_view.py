"""One sheet laid out: lines with both differences, totals stated beside recomputed, findings, the row as received.

A cell that a finding names carries a sign as well as a colour. Everything of the sender's goes through `st.text`,
`st.dataframe` or `words.plain`.
"""

import re
from collections.abc import Sequence

import polars as pl
import streamlit as st

from dashboards.views import decision_view, explanation_view, history_view, standing_view
from dashboards.views.sheet_cells import NOTHING, SUSPECT_SIGN, TINTS, Marks
from dashboards.words import (
    SEVERITIES,
    SIGNS,
    STATUSES,
    TOTALS,
    age_words,
    category_words,
    code_words,
    counted,
    field_words,
    plain,
    what_to_do,
)
from warehouse.book.reading import Sheet, SheetFinding, SheetLine

NOT_KNOWN = "not known"


def draw(sheet: Sheet) -> None:
    """Draw the whole sheet."""
    marks = Marks.of(sheet)
    number = plain(sheet.entry_no or "without a number")
    st.subheader(f"Sheet {number} – {STATUSES[sheet.status].lower()}")
    decision_view.draw_outcome(sheet)
    _facts(sheet, marks)
    explanation_view.draw(sheet)
    standing_view.draw(sheet)
    left, right = st.columns([3, 2], gap="medium")
    with left:
        st.markdown("**Lines**, inches")
        _table(_lines(sheet, marks), "Lines of the sheet, with the difference stated and recomputed")
    with right:
        st.markdown("**Spreads**, inches")
        _table(_spreads(sheet, marks), "Spreads of the sheet")
        st.markdown("**Totals**, inches")
        _table(_totals(sheet, marks), "Totals of the sheet, stated and recomputed")
    st.caption(
        f"{SUSPECT_SIGN} a likeliest explanation calls this cell wrong; {SIGNS['error']} an error names this cell; "
        f"\\{SIGNS['question']} a question names it. “{NOT_KNOWN.capitalize()}” "
        "rests on a measure that is missing or cannot be read. Text in quotation marks is as received."
    )
    _findings(sheet.findings)
    if sheet.status == "accepted" and any(found.severity != "note" for found in sheet.findings):
        st.caption("A person has accepted the entry although this was found; the log below says who, and why.")
    decision_view.draw(sheet)
    history_view.draw(sheet.history)
    _received(sheet)


def _facts(sheet: Sheet, marks: Marks) -> None:
    facts: tuple[tuple[str, str | None, tuple[str, ...]], ...] = (
        ("Hunter", sheet.hunter, ("hunter", "entry_no")),
        ("Category", category_words(sheet.category), ("category",)),
        ("Area", ", ".join(part for part in (sheet.area, sheet.district) if part), ("area", "state", "district")),
        ("Taken", f"{sheet.taken_on or 'no date'} ({sheet.season or 'no season'})", ("taken_on", "season")),
        ("Weapon", _weapon(sheet), ("weapon", "antler_state")),
        ("Age", age_words(sheet.age_half_years), ("age",)),
        ("Measured", str(sheet.measured_on) if sheet.measured_on else None, ("measured_on",)),
        ("Measurer", sheet.measurer, ("measurer",)),
        ("Tag", sheet.tag_no, ("tag_no",)),
        ("Points, right + left", _points(sheet), ("points_r", "points_l")),
    )
    with st.grid(columns=5, min_column_width=140, gap="small"):
        for label, value, fields in facts:
            st.markdown(f":small[{label}]  \n{marks.cell(value, *fields)}")


def _weapon(sheet: Sheet) -> str | None:
    return sheet.weapon if sheet.antler_state == "hard" else f"{sheet.weapon or 'not known'}, in {sheet.antler_state}"


def _points(sheet: Sheet) -> str | None:
    if all(count is None for count in sheet.points):
        return None
    return " + ".join(NOTHING if count is None else str(count) for count in sheet.points)


def _table(shown: pl.DataFrame, words: str) -> None:
    st.table(shown, border="horizontal", hide_index=True, alt=words)


def _lines(sheet: Sheet, marks: Marks) -> pl.DataFrame:
    pairs = [line for line in sheet.lines if line.sides == "pair"]
    return pl.DataFrame(
        {
            "Line": [line.label.removesuffix(" circumference") for line in pairs],
            "Right": [marks.length(line.right, f"{line.name}_r") for line in pairs],
            "Left": [marks.length(line.left, f"{line.name}_l") for line in pairs],
            "Diff. stated": [marks.length(line.stated_difference, f"{line.name}_diff") for line in pairs],
            "Diff. recomputed": [_recomputed(line, marks) for line in pairs],
        }
    )


def _recomputed(line: SheetLine, marks: Marks) -> str:
    if line.kind == "abnormal":
        return NOTHING
    return marks.length(line.recomputed_difference or NOT_KNOWN)


def _spreads(sheet: Sheet, marks: Marks) -> pl.DataFrame:
    singles = [line for line in sheet.lines if line.sides == "single"]
    return pl.DataFrame(
        {
            "Line": [line.label for line in singles],
            "Measured": [marks.length(line.right, line.name) for line in singles],
        }
    )


def _totals(sheet: Sheet, marks: Marks) -> pl.DataFrame:
    return pl.DataFrame(
        {
            "Total": [TOTALS[total.name] for total in sheet.totals],
            "Stated": [marks.length(total.stated, total.name) for total in sheet.totals],
            "Recomputed": [marks.length(total.recomputed or NOT_KNOWN) for total in sheet.totals],
        }
    )


def _findings(findings: Sequence[SheetFinding]) -> None:
    st.markdown(f"**{counted(len(findings), 'finding')}**" if findings else "The audit found nothing on this sheet.")
    for found in findings:
        st.markdown(_sentence(found))


def _sentence(found: SheetFinding) -> str:
    sign = plain(f"{SIGNS[found.severity]} {SEVERITIES[found.severity]}")
    badge = f":{TINTS[found.severity]}-background[{sign}]" if found.severity in TINTS else sign
    cells = f"Cells: {'; '.join(map(field_words, found.cells))}. " if found.cells else ""
    small = plain(f"{cells}{what_to_do(found.code)}")
    return f"{badge} **{plain(code_words(found.code))}.** {plain(found.message)}" + (
        f"  \n:small[{small}]" if small else ""
    )


def _base_name(file: str | None) -> str:
    """A file may have been named with its folders, which are nobody's business here."""
    return re.split(r"[/\\]", file)[-1] if file else "file not known"


def _received(sheet: Sheet) -> None:
    st.markdown("**The row as received**")
    place = ", ".join(
        part for part in (_base_name(sheet.file), sheet.file_sheet and f"sheet {sheet.file_sheet}") if part
    )
    st.text(
        f"{place}, row {sheet.row}; loaded {sheet.loaded_at} UTC by {sheet.loaded_by}. Revision {sheet.revision_no}."
    )
    received = pl.DataFrame(
        {
            "Heading": [heading for heading, _, _ in sheet.received],
            "As received": [text for _, text, _ in sheet.received],
            "Read as": [field_words(field) if field else NOTHING for _, _, field in sheet.received],
        }
    )
    height = min(38 + 35 * max(received.height, 1), 420)
    st.dataframe(received, hide_index=True, height=height, alt="The row as received, heading beside text")
