"""The queue of held sheets; with `?entry=ID` in the address, one of them laid out."""

from collections.abc import Mapping

import streamlit as st

from dashboards import filters, open_book, pick_row, tables
from dashboards.frame_of_page import empty_book
from dashboards.views import sheet_view
from dashboards.words import SEVERITIES, code_words, counted, plain
from warehouse.book.reading import Choices, HeldSheets, QueueSettings

ENTRY = "entry"
LONGEST_ID = 18  # digits; a longer number is no entry's and would not fit the book's BIGINT


def main() -> None:
    """Draw the filters, then the queue or the sheet that the address names."""
    asked = st.query_params.get(ENTRY)
    st.title("Audit queue")
    if open_book.overview().is_empty:
        empty_book()
        return
    options = _options(open_book.choices())
    filters.complain(options)
    with st.expander("Filters", expanded=asked is None):
        queue = open_book.held_sheets(_settings(options))
    if asked is None:
        _queue(queue)
    else:
        _one_sheet(asked, queue)


def _options(choices: Choices) -> dict[str, Mapping[str, str]]:
    return {
        "severity": {key: SEVERITIES[key] for key in ("error", "question")},
        "code": {code: code_words(code) for code in choices.codes},
        "area": choices.areas,
        "measurer": choices.measurers,
        "season": filters.same(choices.seasons[::-1]),
    }


def _settings(options: Mapping[str, Mapping[str, str]]) -> QueueSettings:
    with st.grid(columns=3, min_column_width=138, gap="small"):
        return QueueSettings(
            severities=filters.several("Severity", "severity", options["severity"]),
            codes=filters.several("Finding", "code", options["code"]),
            areas=filters.several("Area", "area", options["area"]),
            measurers=filters.several("Measurer", "measurer", options["measurer"]),
            seasons=filters.several("Season", "season", options["season"]),
        )


def _queue(queue: HeldSheets) -> None:
    if queue.held == 0:
        st.success("No sheet is held. Every entry of this book is accepted.")
        return
    st.text(f"{counted(queue.matching, 'held sheet')} of {queue.held:,}, errors before questions.")
    if queue.matching == 0:
        st.info("No held sheet passes these filters. Take one away to see more.")
        return
    if queue.matching > queue.rows.height:
        st.caption(f"The first {queue.rows.height:,} are listed; narrow the filters to see the others.")
    _choose_by_name(queue)
    shown, columns = tables.queue(queue.rows)
    place = pick_row.ticked("queue", shown, columns, "Held sheets with the worst finding of each")
    if place is not None:
        _open(int(queue.rows["entry_id"][place]))


def _choose_by_name(queue: HeldSheets) -> None:
    rows = queue.rows
    names = {
        entry: f"{number or 'no number'}, {hunter or 'no name'}: {code_words(code)}"
        for entry, number, hunter, code in rows.select("entry_id", "entry_no", "hunter", "code").iter_rows()
    }
    chosen = pick_row.named("Open a sheet", names)
    if chosen is not None:
        _open(chosen)


def _open(entry_id: int) -> None:
    st.query_params[ENTRY] = str(entry_id)
    st.rerun()


def _close() -> None:
    st.query_params.pop(ENTRY, None)


def _one_sheet(asked: str, queue: HeldSheets) -> None:
    entry_id = int(asked) if asked.isascii() and asked.isdigit() and len(asked) <= LONGEST_ID else None
    _steps(queue.neighbours(entry_id) if entry_id is not None else (None, None))
    sheet = open_book.sheet(entry_id) if entry_id is not None else None
    if sheet is None:
        st.warning(plain(f"The address asks for entry “{asked}”, which this book does not have. Go back to the queue."))
        return
    sheet_view.draw(sheet)


def _steps(neighbours: tuple[int | None, int | None]) -> None:
    before, after = neighbours
    with st.container(horizontal=True):
        st.button("Back to the queue", on_click=_close, icon=":material/arrow_back:")
        for label, entry_id in (("Previous sheet", before), ("Next sheet", after)):
            st.button(label, on_click=_step, args=(entry_id,), disabled=entry_id is None)


def _step(entry_id: int) -> None:
    st.query_params[ENTRY] = str(entry_id)


main()
