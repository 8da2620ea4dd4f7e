"""Readers: every accepted file becomes a grid of text, exactly as received. Start at `read`."""

from pathlib import Path

from loaders.readers.archive_checks import Archive
from loaders.readers.delimited import read_delimited
from loaders.readers.grid import Grid, Notice
from loaders.readers.jsonl import read_jsonl
from loaders.readers.kinds import LINES, PARQUET, ZIP, kind_of
from loaders.readers.ods import read_ods
from loaders.readers.parquet import read_parquet
from loaders.readers.source import Source, open_source
from loaders.readers.xlsx import read_xlsx

__all__ = ["Grid", "Notice", "read"]


def read(path: Path, shown_as: str | None = None) -> list[Grid]:
    """Read one file into its grids: one for a table, one for each sheet with content of a workbook.

    The content decides how it is read, the name only between kinds of plain text. `shown_as` is the name that
    Grid.file and messages carry (default: the path as given). Raises errors.FileRefused when the file is
    missing, empty, too large, damaged, hostile, of another kind, or changes while it is read; all or nothing.
    """
    source = open_source(path, str(path) if shown_as is None else shown_as)
    grids = [grid for grid in _grids(source) if grid.rows.height]
    source.check_unchanged()
    if not grids:
        raise source.refused(
            "no cell holds anything", "a heading row and score sheets", "Ask the sender for the file again"
        )
    return grids


def _grids(source: Source) -> list[Grid]:
    kind = kind_of(source)
    if kind == ZIP:
        return _workbook(source)
    if kind == PARQUET:
        return [read_parquet(source)]
    return [read_jsonl(source) if kind == LINES else read_delimited(source)]


def _workbook(source: Source) -> list[Grid]:
    archive = Archive(source)
    if "content.xml" in archive.names:
        return read_ods(archive)
    if "[Content_Types].xml" in archive.names and any(name.startswith("xl/") for name in archive.names):
        return read_xlsx(archive)
    raise source.refused(
        "the content is a ZIP archive, but no XLSX or ODS workbook",
        "a workbook",
        "Unpack it and load the files inside, or save the document as XLSX or CSV",
    )
