"""Explanations as rows of the schema EXPLANATIONS: their cells, their values, and a sentence a hunter would understand."""

import numpy as np
import polars as pl

from warehouse.audit.codes import FIGURE_TITLES
from warehouse.audit.sheets import SIDE_NAMES
from warehouse.categories import Category
from warehouse.checks import ABNORMAL
from warehouse.diagnosis.candidates import NO_SLIP
from warehouse.diagnosis.explanations import EXPLANATIONS
from warehouse.diagnosis.grid import Grid
from warehouse.diagnosis.manners import manners
from warehouse.diagnosis.ranking import Costed
from warehouse.diagnosis.search import Found
from warehouse.eighths import text_expr


def cell_words(category: Category) -> dict[str, str]:
    """Each cell of a sheet in words, as they stand within a sentence."""
    words = {name: f"the {title[0].lower()}{title[1:]}" for name, title in FIGURE_TITLES.items()}
    for line in category.lines:
        label = line.label.removesuffix(" circumference").removesuffix(" (brow)")
        label = label if label[:2] in {"G" + label[1:2], "H" + label[1:2]} else f"the {label[0].lower()}{label[1:]}"
        if line.sides == "single":
            words[line.name] = label
            continue
        words |= {cell: _sided(label, SIDE_NAMES[cell[-1]]) for cell in line.columns}
        words[line.difference] = f"the difference of {label}"
    return words | {cell: f"the abnormal points of the {SIDE_NAMES[cell[-1]]} side together" for cell in ABNORMAL}


def _sided(label: str, side: str) -> str:
    """ "G2 right", but "the right main beam": "the main beam left" reads as one that somebody left."""
    return f"the {side} {label.removeprefix('the ')}" if label.startswith("the ") else f"{label} {side}"


def as_explanations(grid: Grid, found: Found, costed: Costed, ranked: pl.DataFrame, ids: pl.Series) -> pl.DataFrame:
    """The explanations of `ranked` (see `in_order`) in its order. `ids`: the sheet of each column of the grid."""
    if not ranked.height:
        return pl.DataFrame(schema=EXPLANATIONS)
    cells = _wrong_cells(grid, found, ranked)
    frame = ranked.with_columns(id=ids.gather(ranked["sheet"]).cast(pl.UInt32), place=pl.col("place").cast(pl.UInt16))
    listed = cells.group_by("row", maintain_order=True).agg(
        pl.col("kind").filter(pl.col("is_first")).str.join(" and "), pl.col("cell").alias("cells"), "stated", "proposed"
    )
    follow = (
        _following(grid, found, ranked)
        .group_by("row", maintain_order=True)
        .agg(pl.col("cell").alias("follows"), pl.col("proposed").alias("follows_proposed"))
    )
    why = _sentences(cells, found, costed, grid.layout.category)
    for part in (listed, follow, why):
        frame = frame.join(part, on="row", how="left", maintain_order="left")
    unit = grid.layout.category.unit
    ending = pl.when(pl.col("net").is_null()).then(pl.lit(".")).otherwise(
        pl.format("; every figure then agrees, and the net is {}.", text_expr(pl.col("net"), unit))
    )  # fmt: skip
    frame = frame.with_columns(pl.col("follows", "follows_proposed").fill_null([]), why=pl.col("why") + ending)
    return frame.select(pl.col(name).cast(dtype) for name, dtype in EXPLANATIONS.items())


def _wrong_cells(grid: Grid, found: Found, ranked: pl.DataFrame) -> pl.DataFrame:
    """One row for each cell of each slip that its slip changes: row, nth slip, kind, cell, stated, proposed."""
    rows = ranked["row"].to_numpy()
    widest = max(len(slip.cells) for slip in found.known)
    padded = np.full((len(found.known) + 1, widest), NO_SLIP)
    for place, slip in enumerate(found.known):
        padded[place, : len(slip.cells)] = sorted(slip.cells)
    parts = []
    for nth in range(2):
        chosen = found.slips[rows, nth]
        places, within = np.nonzero(padded[chosen] != NO_SLIP)
        cell, row = padded[chosen[places], within], rows[places]
        sheet = found.sheet[row]
        before, after = grid.values[cell, sheet], found.after[cell, row]
        kinds = pl.Series([slip.kind for slip in found.known])
        part = pl.DataFrame({"row": row, "place": cell, "before": before, "proposed": after, "slip": chosen[places]})
        part = part.with_columns(nth=pl.lit(nth), kind=kinds.gather(part["slip"]))
        parts.append(part.filter((pl.col("before") != pl.col("proposed")) | (pl.col("kind") == "unread")))
    names = pl.Series(grid.layout.cells)
    # a point of nothing is one that is not written
    points = [
        grid.layout.place[name] for name in (*_points(grid.layout.category), *ABNORMAL) if name in grid.layout.place
    ]
    frame = pl.concat(parts).sort("row", "nth", "place").rechunk()
    return frame.with_columns(
        cell=names.gather(frame["place"]),
        stated=pl.when((pl.col("kind") != "unread") & ~(pl.col("place").is_in(points) & (pl.col("before") == 0))).then(
            "before"
        ),
        is_first=pl.int_range(pl.len()).over("row", "nth") == 0,
    )


def _points(category: Category) -> list[str]:
    return [column for line in category.of_kind("point") for column in line.columns]


def _following(grid: Grid, found: Found, ranked: pl.DataFrame) -> pl.DataFrame:
    """The stated figures beside the wrong cells that change: row, cell, proposed."""
    rows = ranked["row"].to_numpy()
    changed = (grid.values[:, found.sheet[rows]] != found.after[:, rows]) & grid.known[:, found.sheet[rows]]
    named = np.zeros_like(changed)
    for nth in range(2):
        for place in np.unique(found.slips[rows, nth]).tolist():
            if place != NO_SLIP:
                columns = np.flatnonzero(found.slips[rows, nth] == place)
                named[np.array(found.known[place].cells)[:, None], columns[None, :]] = True
    place, column = np.nonzero((changed & ~named).T)[::-1]
    names = pl.Series(grid.layout.cells)
    frame = pl.DataFrame({"row": rows[column], "place": place, "proposed": found.after[place, rows[column]]})
    return frame.with_columns(cell=names.gather(frame["place"]))


def _sentences(cells: pl.DataFrame, found: Found, costed: Costed, category: Category) -> pl.DataFrame:
    """What happened, for each explanation, without its full stop."""
    words = cell_words(category)
    said = [manner.words for manner in manners(category.abnormal)]
    frame = cells.with_columns(
        label=pl.col("cell").replace_strict(words, default=pl.col("cell")),
        says=text_expr(pl.col("before"), category.unit),
        should=text_expr(pl.col("proposed"), category.unit),
    )
    slips = frame.group_by("row", "nth", maintain_order=True).agg(
        pl.col("kind", "label", "says", "should").first(),
        pl.col("stated").first(),
        pl.col("label").last().alias("last"),
        pl.col("should").last().alias("last_should"),
    )
    manner = costed.manner[slips["row"].to_numpy(), slips["nth"].to_numpy()]
    names = pl.Series("manner", [*said, None], dtype=pl.String).gather(pl.Series(manner % (len(said) + 1)))
    return (
        slips.with_columns(names)
        .with_columns(sentence=_sentence())
        .group_by("row", maintain_order=True)
        .agg(pl.col("sentence").str.join("; and "))
        .select("row", why=pl.col("sentence").str.slice(0, 1).str.to_uppercase() + pl.col("sentence").str.slice(1))
    )


def _sentence() -> pl.Expr:
    label, says, should, last = (pl.col(name) for name in ("label", "says", "should", "last"))
    was = pl.when(label.str.contains("^the (deductions|abnormal points)")).then(pl.lit("were")).otherwise(pl.lit("was"))
    are = pl.when(was == "were").then(pl.lit("are")).otherwise(pl.lit("is"))
    it = pl.when(was == "were").then(pl.lit("them")).otherwise(pl.lit("it"))
    comes = pl.when(was == "were").then(pl.lit("they come")).otherwise(pl.lit("it comes"))
    manner = pl.when(pl.col("manner").is_null()).then(pl.lit("")).otherwise(pl.format(" ({})", pl.col("manner")))
    return (
        pl.when(pl.col("kind") == "carried")
        .then(pl.format("{} {} worked out wrong{}: {} to {}, not {}", label, was, manner, comes, should, says))
        .when(pl.col("kind") == "copied")
        .then(
            pl.when(pl.col("stated").is_null())
            .then(pl.format("{} {} not on the sheet and should be {}", label, are, should))
            .otherwise(pl.format("{} {} written {} and should be {}", label, was, says, should))
        )
        .when(pl.col("kind") == "unread")
        .then(pl.format("{} {} not known, and the other figures make {} {}", label, are, it, should))
        .when(pl.col("kind") == "shifted")
        .then(pl.format("the points from {} to {} were written one row off", label, last))
        .otherwise(
            pl.format(
                "{} and {} were {}: they should be {} and {}",
                label,
                last,
                pl.col("kind"),
                should,
                pl.col("last_should"),
            )
        )
    )
