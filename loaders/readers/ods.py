"""Read an ODS workbook: every sheet with content becomes a grid, hidden sheets and rows included."""

from loaders.readers.archive_checks import Archive
from loaders.readers.grid import Grid
from loaders.readers.ods_content import ContentReader

_MANIFEST = "META-INF/manifest.xml"


def read_ods(archive: Archive) -> list[Grid]:
    """Grids of all sheets that hold a cell, in the workbook's order. Raises FileRefused: damaged or over a
    limit.
    """
    if _MANIFEST in archive.names and b"encryption-data" in b"".join(archive.chunks(_MANIFEST)):
        raise archive.source.refused(
            "the workbook is locked with a password",
            "an open workbook",
            "Save it without a password and load that file",
        )
    reader = ContentReader(archive)
    return [grid for rows, merged in reader.sheets if (grid := rows.grid(merged)).rows.height]
