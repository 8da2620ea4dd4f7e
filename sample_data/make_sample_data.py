"""Make the invented region anew, always the same bytes: `python -m sample_data.make_sample_data [FOLDER]`."""

from __future__ import annotations

import sys
from pathlib import Path

import polars as pl

from sample_data import effort, messy_files, panel_session, people, region, season_files

HERE = Path(__file__).resolve().parent


def write_reference(folder: Path) -> None:
    """The reference tables as CSV into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    region.areas().write_csv(folder / "areas.csv")
    region.area_aliases().write_csv(folder / "area_aliases.csv")
    region.seasons().write_csv(folder / "seasons.csv")
    region.record_books().write_csv(folder / "books.csv")
    region.minimums().write_csv(folder / "minimums.csv")
    effort.effort().write_csv(folder / "effort.csv")
    region.clubs().write_csv(folder / "clubs.csv")
    people.measurers().write_csv(folder / "measurers.csv")
    panel_session.panel_measures().write_csv(folder / "panel_measures.csv")


def make_all(folder: Path) -> None:
    """Everything into the folder: reference/, sheets/, messy/ and expected_findings.csv."""
    write_reference(folder / "reference")
    frame, found = season_files.make()
    season_files.write(folder / "sheets", frame)
    order = ["file", "sheet", "row", "code", "cells"]
    messy = messy_files.write(folder / "messy").table()
    pl.concat([found, messy]).sort(order, nulls_last=False).write_csv(folder / "expected_findings.csv")


if __name__ == "__main__":
    make_all(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE)
