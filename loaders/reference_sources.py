"""Which reference table a file holds: told by its name, else by its headings; a TOML file says it itself."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from loaders.census_counties import separator_of
from loaders.reference_csv import cells_of, fits
from loaders.reference_toml import tables_in
from warehouse.book import reference
from warehouse.errors import ReferenceRefused
from warehouse.plain_text import shown

FILES = {
    "area": "areas.csv",
    "area_alias": "area_aliases.csv",
    "area_district": "districts.csv",
    "area_change": "area_changes.csv",
    "measurer": "measurers.csv",
    "season": "seasons.csv",
    "record_book": "books.csv",
    "minimum": "minimums.csv",
    "effort": "effort.csv",
    "panel_measure": "panel_measures.csv",
}
TABLE_OF = {name: table for table, name in FILES.items()}
_TOML_NAMES = {Path(name).stem for name in FILES.values()}


def files_in(folder: Path) -> dict[str, Path]:
    """The reference tables that a folder holds, by table. Raises ReferenceRefused where two files hold the same."""
    named = [folder / name for name in FILES.values() if (folder / name).is_file()]
    return _each_once([*named, *sorted(path for path in folder.glob("*.toml") if _is_ours(path))])


def _is_ours(path: Path) -> bool:
    """A TOML file beside ours may be anybody's, unless it is named like ours or holds a table of ours."""
    if path.stem in _TOML_NAMES:
        return True
    try:
        return bool(tables_in(path))
    except ReferenceRefused:
        return any(f"[[{table}]]" in path.read_text(encoding="utf-8", errors="replace") for table in reference.TABLES)


def sources(paths: Iterable[Path]) -> dict[str, Path]:
    """The reference tables of files and folders, by table. Raises ReferenceRefused for a file that is none, naming the choices."""
    files: list[Path] = []
    for path in paths:
        found = list(dict.fromkeys(files_in(path).values())) if path.is_dir() else [path]
        if not found:
            raise ReferenceRefused(
                f"{shown(str(path))}: holds none of the reference files ({', '.join(FILES.values())}, or TOML)"
            )
        files += found
    return _each_once(files)


def _each_once(paths: Sequence[Path]) -> dict[str, Path]:
    found: dict[str, Path] = {}
    for path in dict.fromkeys(paths):
        for table in _tables_of(path):
            if table in found:
                raise ReferenceRefused(
                    f"{shown(str(found[table]))} and {shown(str(path))}: both hold the table {table}; give it once"
                )
            found[table] = path
    return found


def _tables_of(path: Path) -> list[str]:
    if path.suffix.lower() == ".toml":
        return tables_in(path)
    if path.name.lower() in TABLE_OF:
        return [TABLE_OF[path.name.lower()]]
    if separator_of(path):
        return ["area"]
    headings = cells_of(path)[0]
    fitting = [table for table in reference.TABLES if fits(table, headings)]
    if len(fitting) != 1:
        raise ReferenceRefused(
            f"{shown(str(path))}: neither its name nor its headings say which table it is; name it as one of: "
            f"{', '.join(FILES.values())}"
        )
    return fitting
