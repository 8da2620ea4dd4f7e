"""Pairs of entries that may be one head; with `?pair=12-34` in the address, both sheets side by side and the decision."""

import re
import shlex
from typing import Any

import polars as pl
import streamlit as st

from dashboards import filters, open_book, pick_row, tables
from dashboards.duplicates_words import DECIDED, KINDS, alike_words, kind_words
from dashboards.frame_of_page import empty_book
from dashboards.views import duplicates_form, duplicates_sheets
from dashboards.views.duplicates_form import Seen
from dashboards.views.duplicates_sheets import name
from dashboards.words import counted, plain
from warehouse.book.length_text import length_text
from warehouse.plain_text import shown

PAIR = "pair"
MOST_ROWS = 2000
COLUMNS = {
    "What is alike": st.column_config.TextColumn("What is alike", width=230),
    **{label: st.column_config.TextColumn(label, width=140) for label in ("First hunter", "Second hunter")},
}


def main() -> None:
    """Draw the list of pairs, or the pair that the address names."""
    asked = st.query_params.get(PAIR)
    st.title("One head or two?")
    if open_book.overview().is_empty:
        empty_book()
        return
    duplicates_form.told()
    filters.complain({"alike": KINDS})
    with st.expander("Filters", expanded=asked is None):
        kinds = filters.several("What is alike", "alike", KINDS)
    waiting = open_book.duplicate_pairs().undecided
    passing = waiting.filter(pl.col("kinds").list.set_intersection(list(kinds)).list.len() > 0) if kinds else waiting
    if asked is None:
        _list(passing, waiting.height)
    else:
        _one_pair(asked, passing)


# The list ---------------------------------------------------------------------------------------------------------


def _list(passing: pl.DataFrame, waiting: int) -> None:
    if not waiting:
        st.success("No two entries of this book look like one head, or all of them were decided about.")
        return
    st.text(f"{counted(passing.height, 'pair')} of {waiting:,} undecided, those most alike first.")
    if passing.is_empty():
        st.info("No pair passes this filter. Take it away to see more.")
        return
    listed = passing.head(MOST_ROWS)
    if listed.height < passing.height:
        st.caption(f"The first {listed.height:,} are listed; decide about them to see the others.")
    _choose_by_name(listed)
    listing = _worded(listed)
    place = pick_row.ticked("pairs", listing, COLUMNS, "Pairs of entries that may be one head, with what is alike")
    if place is not None:
        _go(_addresses(listed)[place])
        st.rerun()
    tables.download(listing, "one_head_or_two")


def _worded(pairs: pl.DataFrame) -> pl.DataFrame:
    return pairs.select(
        pl.col("first_entry_no").alias("First entry"),
        pl.col("second_entry_no").alias("Second entry"),
        pl.col("first_hunter").alias("First hunter"),
        pl.col("second_hunter").alias("Second hunter"),
        pl.col("kinds").list.first().replace_strict(KINDS, default=kind_words(None)).alias("What is alike"),
        _apart(pairs).alias("Apart, inches"),
        pl.col("first_area").alias("First area"),
        pl.col("first_season").alias("First season"),
    )


def _apart(pairs: pl.DataFrame) -> pl.Series:
    return pairs.select("near", unit="first_unit").select(length_text("near")).to_series()


def _choose_by_name(pairs: pl.DataFrame) -> None:
    columns = ("first_id", "first_entry_no", "second_id", "second_entry_no", "first_hunter")
    names = {
        f"{one}-{other}": f"{name(one, one_no)} and {name(other, other_no)}, {hunter or 'no name'}"
        for one, one_no, other, other_no, hunter in pairs.select(columns).iter_rows()
    }
    chosen = pick_row.named("Look at a pair", names)
    if chosen is not None:
        _go(chosen)
        st.rerun()


def _addresses(pairs: pl.DataFrame) -> list[str]:
    return [f"{first}-{second}" for first, second in pairs.select("first_id", "second_id").iter_rows()]


def _go(address: str | None) -> None:
    if address is None:
        st.query_params.pop(PAIR, None)
    else:
        st.query_params[PAIR] = address


# One pair ---------------------------------------------------------------------------------------------------------


def _one_pair(asked: str, passing: pl.DataFrame) -> None:
    ids = _ids(asked)
    before, after = _neighbours(f"{ids[0]}-{ids[1]}" if ids else "", _addresses(passing))
    _steps(before, after)
    first, second = (open_book.sheet(entry_id) for entry_id in ids) if ids else (None, None)
    if ids is None or first is None or second is None:
        st.warning(
            plain(f"The address asks for the pair “{asked}”, which this book does not have. Go back to the list.")
        )
        return
    rows = open_book.duplicate_pairs().pair(*ids).to_dicts()
    pair: dict[str, Any] = rows[0] if rows else {}
    st.subheader(plain(f"{name(first.entry_id, first.entry_no)} and {name(second.entry_id, second.entry_no)}"))
    _what_is_alike(pair)
    duplicates_sheets.draw(first, second)
    if pair.get("decided"):
        st.info(f"{DECIDED[pair['decided']]}. A decision is undone with the command:")
        book = shlex.quote(shown(open_book.book_path().name))
        st.code(f"beamledger decide --book {book} ={pair['decided_about']} undo --by NAME --why TEXT", language=None)
        return
    seen = [
        Seen.of(sheet, pair.get(f"{which}_newest_event")) for which, sheet in (("first", first), ("second", second))
    ]
    duplicates_form.draw(seen[0], seen[1], PAIR, after or before)


def _ids(asked: str) -> tuple[int, int] | None:
    """The two entries that the address names, the lower first; None where it names none."""
    named = re.fullmatch(r"([0-9]{1,18})-([0-9]{1,18})", asked)
    if named is None or int(named[1]) == int(named[2]):
        return None
    low, high = sorted((int(named[1]), int(named[2])))
    return low, high


def _what_is_alike(pair: dict[str, Any]) -> None:
    if not pair:
        st.text("Nothing brings these two up by itself: no tag, no equal measures, no date and area with near ones.")
        return
    words = alike_words(pair["kinds"], pair["near"], pair["first_unit"])
    st.markdown("\n".join(f"- {plain(each[0].upper() + each[1:])}" for each in words))


def _neighbours(address: str, order: list[str]) -> tuple[str | None, str | None]:
    """The pairs before and after this one, None at an end or where it is not in the list."""
    if address not in order:
        return (None, None)
    place = order.index(address)
    return (order[place - 1] if place else None, order[place + 1] if place + 1 < len(order) else None)


def _steps(before: str | None, after: str | None) -> None:
    with st.container(horizontal=True):
        st.button("Back to the list", on_click=_go, args=(None,), icon=":material/arrow_back:")
        for label, address in (("Previous pair", before), ("Next pair", after)):
            st.button(label, on_click=_go, args=(address,), disabled=address is None)


main()
