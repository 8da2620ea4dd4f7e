"""A grid of text becomes a table: the heading row found, each column given its field, each row its number."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import polars as pl

from loaders.distinct import nulls
from loaders.headings import field_of, line_of, match_headings, side_of
from loaders.readers.grid import Grid, Notice
from loaders.sheet_form import read_form
from warehouse.errors import FileRefused
from warehouse.plain_text import shown

HEADING_SEARCH_ROWS = 40
FEWEST_MATCHES = 3
SURE_MATCHES = 8  # a form never has so many fields in one row


@dataclass(frozen=True)
class Table:
    """Score sheets, one a row, as received.

    `rows` (Int32) are row numbers as a person counts them; `cells` holds the text exactly as received, one String
    column for each heading ("c0" ...); `fields` gives our field for each of them, None where none matched.
    """

    file: str
    sha256: str
    sheet: str | None
    rows: pl.Series
    cells: pl.DataFrame
    headings: tuple[str, ...]
    fields: tuple[str | None, ...]
    notices: tuple[Notice, ...]

    @property
    def present(self) -> dict[str, str]:
        """Field -> column of `cells`."""
        return {field: column for field, column in zip(self.fields, self.cells.columns, strict=True) if field}

    def text(self, field: str) -> pl.Series:
        """The column of a field as text; all null where the file does not have it."""
        column = self.present.get(field)
        if column is None:
            return nulls(field, self.cells.height, pl.String)
        return self.cells[column].alias(field)


def table_of(grid: Grid, saved: Mapping[str, str] | None = None) -> Table:
    """Find the headings of a grid and match them; a one-sheet form becomes a table of one row.

    Raises FileRefused where no row of the file looks like headings and no form can be read from it.
    """
    if grid.headings is not None:
        return _wide(grid, list(grid.headings), grid.rows, (), saved)
    top = grid.rows.head(HEADING_SEARCH_ROWS).drop("row").rows()
    depth, place, headings = _find_headings(top, saved)
    matches = _count(headings, saved)
    form = read_form(grid) if matches < SURE_MATCHES else None
    if form is not None and form.matched > matches:
        return _form_table(grid, form.headings, form.cells, form.row, saved)
    if matches < FEWEST_MATCHES:
        raise FileRefused(_no_headings(grid, top))
    body = grid.rows.slice(place + 1)
    if not body.height:
        raise FileRefused(_only_headings(grid, int(grid.rows["row"][place])))
    above = grid.rows.head(place + 1 - depth)
    told = (_title_rows(above),) if above.height else ()
    return _wide(grid, headings, body, told, saved)


def _find_headings(
    top: Sequence[tuple[str | None, ...]], saved: Mapping[str, str] | None
) -> tuple[int, int, list[str | None]]:
    """Depth (1 or 2 rows), index of the lower heading row and the headings, for the row that matches best."""
    best: tuple[int, int, int, list[str | None]] = (0, 0, 1, [])
    for place, row in enumerate(top):
        tries = [(1, list(row))]
        if place:
            tries.append((2, _joined(top[place - 1], row)))
        for depth, headings in tries:
            matches = _count(headings, saved)
            if matches > best[0]:
                best = (matches, place, depth, headings)
        if best[0] > SURE_MATCHES and best[0] * 2 > len(row):
            break  # no later row can be the headings of a list whose columns most of them name
    return best[2], best[1], best[3]


def _joined(above: Sequence[str | None], below: Sequence[str | None]) -> list[str | None]:
    """Two-row headings: a line over its sides, or a side over its lines ("Main beam" above "R" and "L")."""
    return [_join(upper, lower) for upper, lower in zip(above, below, strict=True)]


def _join(upper: str | None, lower: str | None) -> str | None:
    belongs = (line_of(upper) and side_of(lower)) or (side_of(upper) and line_of(lower))
    if upper and lower and belongs:
        return f"{upper} {lower}"
    return lower or upper


def _count(headings: Sequence[str | None], saved: Mapping[str, str] | None) -> int:
    return len({field for field in (field_of(heading, saved) for heading in headings) if field})


def _wide(
    grid: Grid,
    headings: Sequence[str | None],
    body: pl.DataFrame,
    told: tuple[Notice, ...],
    saved: Mapping[str, str] | None,
) -> Table:
    cells = body.drop("row")
    kept = [
        place
        for place, heading in enumerate(headings)
        if (heading and heading.strip()) or cells.to_series(place).null_count() < cells.height
    ]
    named = tuple(headings[place] or f"(column {place + 1})" for place in kept)
    # cells beyond the last heading have been reported with their row; they are no column of the sender's
    overlong = any(notice.code == "extra-cells" for notice in grid.notices)
    match = match_headings(
        [headings[place] if overlong else name for place, name in zip(kept, named, strict=True)], saved
    )
    return Table(
        file=grid.file,
        sha256=grid.sha256,
        sheet=grid.sheet,
        rows=body["row"],
        cells=cells.select(cells.columns[place] for place in kept),
        headings=named,
        fields=match.fields,
        notices=grid.notices + told + match.notices,
    )


def _form_table(
    grid: Grid, headings: list[str], cells: list[str | None], row: int, saved: Mapping[str, str] | None
) -> Table:
    match = match_headings(headings, saved)
    columns = {f"c{place}": pl.Series([text], dtype=pl.String) for place, text in enumerate(cells)}
    return Table(
        file=grid.file,
        sha256=grid.sha256,
        sheet=grid.sheet,
        rows=pl.Series("row", [row], dtype=pl.Int32),
        cells=pl.DataFrame(columns),
        headings=tuple(headings),
        fields=match.fields,
        # a form has rows of any length: that some are longer than the first says nothing
        notices=tuple(notice for notice in grid.notices if notice.code != "extra-cells") + match.notices,
    )


def _title_rows(above: pl.DataFrame) -> Notice:
    numbers = ", ".join(str(row) for row in above["row"].to_list())
    left_out = f"rows {numbers} above them were" if above.height > 1 else f"row {numbers} above them was"
    return Notice("title-rows", "note", f"The headings do not stand first; {left_out} left out.")


def _only_headings(grid: Grid, row: int) -> str:
    sheet = f", sheet '{shown(grid.sheet, 60)}'" if grid.sheet else ""
    return (
        f"{shown(grid.file)}{sheet}, row {row}: headings, and no row follows them; expected at least one score sheet. "
        "Ask the sender for the file again"
    )


def _no_headings(grid: Grid, top: Sequence[tuple[str | None, ...]]) -> str:
    first = next((row for row in top if any(row)), ())
    seen = ", ".join(f"'{shown(cell, 30)}'" for cell in first if cell)[:200]
    sheet = f", sheet '{shown(grid.sheet, 60)}'" if grid.sheet else ""
    return (
        f"{shown(grid.file)}{sheet}: no row of headings was found in the first {HEADING_SEARCH_ROWS} rows "
        f"(the first row holds {seen or 'nothing'}); expected a row with names such as entry_no, category, beam_r, "
        "beam_l, net, or a one-sheet form with a label beside each value"
    )
