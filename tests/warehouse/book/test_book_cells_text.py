import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from warehouse.book.cells_text import join_cells, split_cells

SIGNS = st.sampled_from(["\x1f", "\x1e", '"', ",", "\n", "\x00", "[", "é", "½", " "])
CELL = st.none() | st.text(SIGNS | st.characters(exclude_categories=["Cs"]), max_size=6)


def frame(rows: list[list[str | None]], width: int) -> pl.DataFrame:
    return pl.DataFrame(rows, schema={f"c{n}": pl.String for n in range(width)}, orient="row")


@given(st.integers(1, 5).flatmap(lambda width: st.lists(st.lists(CELL, min_size=width, max_size=width), max_size=6)))
def test_every_cell_comes_back(rows: list[list[str | None]]) -> None:
    width = len(rows[0]) if rows else 3
    back = split_cells(join_cells(frame(rows, width)), width)
    assert back.rows() == [tuple(cell or None for cell in row) for row in rows]  # an empty cell has no text


@pytest.mark.parametrize(
    ("row", "kept"),
    [
        (["a", "b"], "a\x1fb"),
        ([None, ""], "\x1f"),
        (['say "x"', " y "], 'say "x"\x1f y '),
        (["a\x1fb", "c"], '\x1e["a\\u001fb", "c"]'),
        (["\x1ea", None], '\x1e["\\u001ea", ""]'),
        (["a", "b\x1e"], "a\x1fb\x1e"),
    ],
)
def test_how_a_row_is_kept(row: list[str | None], kept: str) -> None:
    assert join_cells(frame([row], 2)).to_list() == [kept]


def test_rows_kept_both_ways_stand_side_by_side() -> None:
    rows: list[list[str | None]] = [["a", "b"], ["\x1f", None], ["c", "d"], [None, "\x1e\x1f"]]
    assert split_cells(join_cells(frame(rows, 2)), 2).rows() == [tuple(row) for row in rows]
