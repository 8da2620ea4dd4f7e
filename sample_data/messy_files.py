"""The messy files beside the workbook and the forms: lists with habits of their own, and their faults."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Callable
from pathlib import Path

from sample_data import club_night, messy_readme, one_sheet_forms, region, scale_list
from sample_data.eighths_text import written
from sample_data.figures import BLANK
from sample_data.messy_findings import MessyFindings, add_file_findings
from sample_data.messy_heads import Head, numbered, pool
from sample_data.season_files import COLUMN_ORDER

Write = Callable[[int], str]
POINT_EIGHTHS = "point_eighths.csv"
PARISH = "parish_list.csv"
PARISH_HEADINGS = (
    {"No": "entry_no", "Category": "category", "Hunter": "hunter", "Parish": "area", "State": "state"}
    | {"Taken on": "taken_on", "Weapon": "weapon", "Measured on": "measured_on", "Measurer": "measurer"}
    | {"Inside spread": "inside_spread", "Beam R": "beam_r", "Beam L": "beam_l"}
    | {f"G{i} {s}": f"g{i}_{s.lower()}" for i in range(1, 7) for s in "RL"}
    | {f"H{i} {s}": f"h{i}_{s.lower()}" for i in range(1, 5) for s in "RL"}
    | {"Abnormal R": "abnormal_r", "Abnormal L": "abnormal_l", "Spread credit": "spread_credit"}
    | {"Right total": "right_total", "Left total": "left_total", "Gross": "gross", "Net": "net"}
)


def eighths(length: int) -> str:
    """`8 5/8`."""
    return written(length, "fraction")


def decimal_comma(length: int) -> str:
    """`8,625`; whole inches stay `8` and halves take the sign, so that no comma looks like thousands."""
    inches, rest = divmod(length, 8)
    if rest == 0:
        return str(inches)
    return f"{inches or ''}½" if rest == 4 else f"{inches},{rest * 125:03d}"


def point_eighths(length: int) -> str:
    """`8.5` for 8 5/8."""
    return f"{length // 8}.{length % 8}"


def tenths(length: int) -> str:
    """`8.6` for 8 5/8: the decimal rounded to one place, half up; 2/8 is `.3` and 6/8 `.8`."""
    return f"{length // 8}.{(length % 8 * 20 + 8) // 16}"


def has_two_readings(text: str) -> bool:
    """Whether a length of a list ends in a lone digit that may count eighths or be a rounded decimal.

    3 to 6 are other eighths either way (.3 is 3/8 or 2/8, .6 is 6/8 or 5/8); 8 and 9 are decimals, but stand
    among eighths. A rounded decimal of 1/8 is .1, of 2/8 .2 or .3, and none is .7: those and .0 are sure.
    """
    return any(re.fullmatch(r"\d+\.[345689]", part) for part in text.split(";"))


def cells(head: Head, write: Write) -> dict[str, str]:
    """All fields of COLUMN_ORDER as text, lengths written by `write`."""
    out = dict(head.attributes) | {k: str(v) for k, v in head.points.items()}
    out |= {k: "" if v < 0 else write(v) for k, v in (head.lines | head.stated).items()}
    out |= {f"abnormal_{s}": ";".join(write(v) for v in head.abnormal[s]) for s in "rl"}
    return {name: out[name] for name in COLUMN_ORDER}


def _save(path: Path, rows: list[list[str]], encoding: str = "utf-8", delimiter: str = ",", end: str = "\n") -> None:
    with path.open("w", encoding=encoding, newline="") as file:
        csv.writer(file, delimiter=delimiter, lineterminator=end).writerows(rows)


def write_parish_list(folder: Path, heads: list[Head], found: MessyFindings) -> None:
    """Semicolons, cp1252, decimal commas, CR LF; one net wrong, one head measured too soon."""
    parishes = [a[0] for a in region.AREAS if a[1] == "parish"]
    for i, head in enumerate(heads):
        head.attributes["area"] = parishes[i % len(parishes)]
    given, surname = heads[1].attributes["hunter"].split()
    heads[1].attributes["hunter"] = f"{given} “Lanky” {surname}"
    heads[3].stated["net"] += 8
    heads[5].attributes["measured_on"] = f"{heads[5].attributes['taken_on'][:8]}28"
    heads[5].attributes["taken_on"] = f"{heads[5].attributes['taken_on'][:8]}03"
    texts = [cells(head, decimal_comma) for head in heads]
    rows = [list(PARISH_HEADINGS), *([t[name] for name in PARISH_HEADINGS.values()] for t in texts)]
    _save(folder / PARISH, rows, "cp1252", ";", "\r\n")
    found.add(PARISH, 5, heads[3].entry_no, "net")
    found.add(PARISH, 7, heads[5].entry_no, "dried-short")


def _undecided(head: Head) -> None:
    """Only .0 and .5 in the lines, and no figure that would tell 4/8 from 5/8."""

    def dot_zero_or_five(v: int) -> int:
        return v if v < 0 else v - v % 8 + (5 if v % 8 >= 4 else 0)

    head.lines = {k: dot_zero_or_five(v) for k, v in head.lines.items()}
    head.abnormal = {s: [dot_zero_or_five(v) for v in points] for s, points in head.abnormal.items()}
    head.stated = dict.fromkeys(head.stated, BLANK)


def _in_halves(head: Head) -> None:
    """All lines in half inches: written with .0 and .5, and the figures tell that .5 is a half."""
    head.lines = {k: v if v < 0 else v - v % 4 for k, v in head.lines.items()}
    head.abnormal = {s: [v - v % 4 for v in points] for s, points in head.abnormal.items()}
    head.restate()


def write_point_eighths(folder: Path, heads: list[Head], found: MessyFindings) -> None:
    """8.5 is 8 5/8 on all sheets but three: two mean 8 4/8 (their figures say so), one decides nothing."""
    _in_halves(heads[3])
    _undecided(heads[6])
    rows = [list(COLUMN_ORDER)]
    for i, head in enumerate(heads):
        text = cells(head, tenths if i in (3, 8) else point_eighths)
        rows.append(list(text.values()))
        both_ways = [name for name, t in text.items() if has_two_readings(t)]
        code = "two-readings" if i == 6 else "reading-chosen"
        found.add(POINT_EIGHTHS, i + 2, head.entry_no, code, ";".join(both_ways))
    _save(folder / POINT_EIGHTHS, rows)


def write_county(folder: Path, heads: list[Head]) -> tuple[str, ...]:
    """county.jsonl, faultless, empty cells left out; and the same bytes once more under another name.

    Returns the fields that occur in some line.
    """
    lines = [{k: t for k, t in cells(head, eighths).items() if t} for head in heads]
    text = "".join(json.dumps(line, ensure_ascii=False) + "\n" for line in lines)
    for name in ("county.jsonl", "county_sent_again.jsonl"):
        (folder / name).write_bytes(text.encode("utf-8"))
    return tuple(name for name in COLUMN_ORDER if any(name in line for line in lines))


def write_misshapen(folder: Path, heads: list[Head], found: MessyFindings) -> None:
    """twice_headed.csv has a heading twice; overlong_row.csv has a remark beyond the headings in row 3."""
    first, second = heads[: len(heads) // 2], heads[len(heads) // 2 :]
    twice = [
        [*COLUMN_ORDER, "tag_no"],
        *([*cells(h, eighths).values(), h.attributes["tag_no"]] for h in first),
    ]
    _save(folder / "twice_headed.csv", twice)
    overlong = [list(COLUMN_ORDER), *(list(cells(h, eighths).values()) for h in second)]
    overlong[2].append("see the back of the sheet")
    _save(folder / "overlong_row.csv", overlong)
    found.add("overlong_row.csv", 3, second[1].entry_no, "extra-cells", "")


def write(folder: Path) -> MessyFindings:
    """All messy files into the folder; returns what a correct audit reports for them."""
    folder.mkdir(parents=True, exist_ok=True)
    found = MessyFindings()
    heads = pool()
    for_the_club = [head for head in heads if club_night.suits(head)][:11]
    rest = iter([head for head in heads if all(head is not h for h in for_the_club)])

    def take(n: int, prefix: str) -> list[Head]:
        return numbered([next(rest) for _ in range(n)], prefix)

    club_night.write(folder, numbered(for_the_club, "CN"), found)
    write_parish_list(folder, take(9, "PL"), found)
    forms = one_sheet_forms.write(folder, take(2, "OS"), found)
    by_points = take(8, "PE")
    county = write_county(folder, take(5, "CJ"))
    write_misshapen(folder, take(8, "MS"), found)
    scale_list.write(folder, take(5, "SL"), found)
    write_point_eighths(folder, numbered([*by_points, *take(1, "PE")], "PE"), found)
    columns: dict[tuple[str, str | None], tuple[str, ...]] = {
        (club_night.FILE, sheet): names for sheet, names in club_night.fields().items()
    }
    columns[(PARISH, None)] = tuple(PARISH_HEADINGS.values())
    columns[(scale_list.FILE, scale_list.SHEET)] = tuple(scale_list.HEADINGS.values())
    columns[("county.jsonl", None)] = county
    columns |= forms
    add_file_findings(found, columns)
    messy_readme.write(folder, found)
    return found
