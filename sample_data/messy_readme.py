"""The README beside the messy files: what each file is like, and the table of what is known to be wrong."""

from __future__ import annotations

from pathlib import Path

from sample_data.messy_findings import Found, MessyFindings

HEAD = """\
# Messy files

Written by `sample_data/make_sample_data.py` to look made by hand; all people, places and heads are invented.

- `club_night.xlsx`: Night 1 has two title rows, a heading over two rows with merged cells, a column and
  a row left blank, lengths as numbers with a fraction format, differences of 3/8 and 2/8 that the
  spreadsheet took for dates, and a beam of 0.4 over the inch whose format shows 3/8. Night 2 has other
  headings, lengths as text, and a column that is no field.
- `parish_list.csv`: semicolons, cp1252, CR LF, decimal commas and the sign for one half.
- `one_sheet_form.xlsx`, `one_sheet_form.csv`: one sheet a file; label beside value, then a table of the
  lines, then totals. The sheet is reported under row 1, where the form begins. The workbook has no rows for
  points that are not there; the CSV has them, left blank, and so lacks no field of theirs.
- `point_eighths.csv`: `8.5` means 8 5/8; on PE-04 and PE-09 it means 8 4/8 (the figures say so), and PE-09
  is in rounded decimals (`.3` is 2/8, `.9` is 7/8); PE-07 has no figures to say it. The cells listed are
  those with a lone `.3`, `.4`, `.5`, `.6`, `.8` or `.9`; the other digits have one reading.
- `scale_list.ods`: county codes as numbers, which lost their zero; lengths as a scale prints them,
  `8.500`.
- `county.jsonl`, `county_sent_again.jsonl`: one JSON object a line, empty cells left out; the same
  bytes twice. A field that occurs in no line is one the file has no column for.
- `twice_headed.csv`: the heading `tag_no` twice, so that neither column counts.
- `overlong_row.csv`: a row with a remark beyond the last heading.

## Known errors

The same rows stand in `expected_findings.csv`. A row is counted as a person counts; blank means the file.

| file | sheet | row | number | code | cells | severity |
| --- | --- | --- | --- | --- | --- | --- |
"""


def _line(found: Found) -> str:
    return "| " + " | ".join("" if part is None else str(part) for part in found) + " |\n"


def write(folder: Path, found: MessyFindings) -> None:
    """README.md into the folder."""
    rows = sorted(found.rows, key=lambda f: (f[0], f[1] or "", f[2] or 0, f[4], f[5] or ""))
    (folder / "README.md").write_bytes((HEAD + "".join(map(_line, rows))).encode("utf-8"))
