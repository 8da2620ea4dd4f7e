"""What a correct audit reports for the messy files: the sheets' findings, and apart from them the files'."""

from __future__ import annotations

from dataclasses import dataclass, field

import polars as pl

from sample_data.findings import CELLS, COLUMNS, severity
from sample_data.season_files import COLUMN_ORDER

Found = tuple[str, str | None, int | None, str | None, str, str | None, str]


@dataclass
class MessyFindings:
    """Findings in the order of planting, as rows of findings.COLUMNS."""

    rows: list[Found] = field(default_factory=list)

    def add(
        self,
        file: str,
        row: int | None,
        entry_no: str | None,
        code: str,
        cells: str | None = None,
        sheet: str | None = None,
    ) -> None:
        """One finding; the cells are those the code always names unless they are given."""
        named = CELLS.get(code, code) if cells is None else cells
        self.rows.append((file, sheet, row, entry_no, code, named or None, severity(code)))

    def table(self) -> pl.DataFrame:
        """As a table with findings.COLUMNS."""
        kinds = {name: pl.Int64 if name == "row" else pl.String for name in COLUMNS}
        return pl.DataFrame(self.rows, schema=kinds, orient="row")


def add_file_findings(found: MessyFindings, columns: dict[tuple[str, str | None], tuple[str, ...]]) -> None:
    """The findings of whole files (no row), kept in this one place.

    `columns` gives the fields each table has, by file and workbook sheet; missing ones are noted once.
    """
    for (file, sheet), names in columns.items():
        missing = ";".join(name for name in COLUMN_ORDER if name not in names)
        if missing:
            found.add(file, None, None, "column-missing", missing, sheet)
    found.add("club_night.xlsx", None, None, "title-rows", "", "Night 1")
    found.add("club_night.xlsx", None, None, "merged-filled", "", "Night 1")
    found.add("club_night.xlsx", None, None, "rows-blank", "", "Night 1")
    found.add("club_night.xlsx", None, None, "column-unmatched", "Landowner", "Night 2")
    found.add("parish_list.csv", None, None, "encoding-guessed", "")
    found.add("twice_headed.csv", None, None, "column-twice", "tag_no")
    found.add("county_sent_again.jsonl", None, None, "file-twice", "")
