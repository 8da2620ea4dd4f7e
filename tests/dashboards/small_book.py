"""A book of ten heads, put in row by row, whose every figure is worked out by hand below.

All heads are one head with another inside spread. In eighths: main beams 192 and 188, G1 40 and 36, G2 80 and 76,
G3 72 and 72, H1 to H4 32 on both sides. So right total 512, left total 500, differences 4 + 4 + 4 = 12, and
gross = spread + 1012, net = gross - 12.
"""

from pathlib import Path
from typing import Any

import duckdb

from warehouse.book.database import create, writing

HOSTILE_IMAGE = "<img src=x onerror=\"document.title='taken over'\">"
HOSTILE_LINK = "[prize](https://hostile.invalid/prize) ![x](https://hostile.invalid/x.png)"
LINES = {
    "beam": (192, 188, 4),
    "g1": (40, 36, 4),
    "g2": (80, 76, 4),
    "g3": (72, 72, 0),
    "h1": (32, 32, 0),
    "h2": (32, 32, 0),
    "h3": (32, 32, 0),
    "h4": (32, 32, 0),
}
HEADINGS = ["No", "Hunter", "County", "G2 R", "G2 L", "G2 diff", "H1 R", "Net", "Remarks"]
FIELDS = ["entry_no", "hunter", "area", "g2_r", "g2_l", "g2_diff", "h1_r", "net", ""]
# entry_id, hunter, area code, area as written, season, weapon, inside spread, status
HEADS = (
    (1, "Tarn Holtquarry", "07001", "Abberlow", "2022-23", "rifle", 144, "accepted"),
    (2, "Bettany Inglebrand", "07001", "Abberlow", "2022-23", "bow", 144, "accepted"),
    (3, "Marn Osselby", "07001", "Abberlow", "2023-24", "rifle", 140, "accepted"),
    (4, "Rhosa Drumlock", "07037", "Saint Orvane", "2023-24", "bow", 160, "accepted"),
    (5, HOSTILE_IMAGE, "07037", "Saint Orvane", "2023-24", "shotgun", 152, "accepted"),
    (6, HOSTILE_LINK, "07037", "Saint Orvane", "2023-24", "crossbow", 120, "accepted"),
    (7, "Corwin Vale", "07001", "Abberlow", "2023-24", "rifle", 144, "held"),
    (8, "Wystan Carrow", "07037", "Saint Orvane", "2022-23", "bow", 144, "held"),
    (9, HOSTILE_IMAGE, "07001", "Abberlow", "2023-24", "rifle", 136, "held"),
    (10, HOSTILE_LINK, None, HOSTILE_IMAGE, "2023-24", None, 136, "held"),
)
# entry_id (None: the file as a whole), code, severity, cells, stated, expected, message
FINDINGS = (
    (
        None,
        "column-unmatched",
        "question",
        ["Remarks"],
        None,
        None,
        "The column “Remarks” is no field of ours.",
    ),
    (
        7,
        "g2_diff",
        "error",
        ["g2_diff"],
        "6/8",
        "4/8",
        "G2 difference: the sheet says 6/8, the sides give 4/8.",
    ),
    (
        7,
        "net",
        "error",
        ["net"],
        "142 6/8",
        "143 0/8",
        "Net: the sheet says 142 6/8, the lines give 143 0/8.",
    ),
    (8, "unreadable", "error", ["h1_r"], "4 l/8", None, "H1 right: “4 l/8” is no length in eighths."),
    (9, "blank-point", "question", ["g2_l"], "", None, f"G2 left is blank on the sheet of {HOSTILE_IMAGE}."),
    (9, "area-code-repaired", "note", ["area"], "7001", "07001", "Area: 7001 was read as 07001 (Abberlow)."),
    (
        10,
        "area-unknown",
        "error",
        ["area"],
        HOSTILE_IMAGE,
        None,
        f"Area {HOSTILE_LINK} :red[x] `y` is not known.",
    ),
    (10, "weapon-unknown", "error", ["weapon"], "sling", None, "Weapon: “sling” is not one of the weapons."),
)


def small_book(path: Path) -> Path:
    """Make the book at `path`: 10 heads (6 accepted, 4 held), 8 findings, one load of one file."""
    create(path)
    with writing(path) as connection:
        _references(connection)
        connection.execute("INSERT INTO load VALUES (1, TIMESTAMP '2026-03-01 18:30:00', 'Secretary', '0.1')")
        file = [1, 1, "club_2023.csv", None, "a" * 64, HEADINGS, FIELDS, len(HEADS)]
        connection.execute("INSERT INTO received_file VALUES (?, ?, ?, ?, ?, ?, ?, ?)", file)
        for head in HEADS:
            _head(connection, *head)
        for finding in FINDINGS:
            row = finding[0]
            connection.execute("INSERT INTO finding VALUES (1, ?, ?, ?, ?, ?, ?, ?, ?)", [row, row, *finding[1:]])
    return path


def _references(connection: duckdb.DuckDBPyConnection) -> None:
    connection.execute(
        """
        INSERT INTO area VALUES ('07001', 'Abberlow', 'county', 'QM', 'North Fells', 'Highfell'),
                                ('07037', 'Saint Orvane', 'parish', 'QM', 'Saltwick', 'Lowwater');
        INSERT INTO measurer VALUES ('M-001', 'Marda Quernlock', DATE '2001-03-10', NULL);
        INSERT INTO season VALUES ('2022-23', DATE '2022-07-01', DATE '2023-06-30'),
                                  ('2023-24', DATE '2023-07-01', DATE '2024-06-30');
        INSERT INTO minimum VALUES
            ('Quillmark Record', 'whitetail-typical', 'any', 1144, '2022-23', '2022-23'),
            ('Quillmark Record', 'whitetail-typical', 'any', 1152, '2023-24', NULL),
            ('Bowstave Register', 'whitetail-typical', 'bow', 1000, '2022-23', NULL);
        """
    )


def _head(
    connection: duckdb.DuckDBPyConnection,
    number: int,
    hunter: str,
    area_code: str | None,
    area_written: str,
    season: str,
    weapon: str | None,
    inside: int,
    status: str,
) -> None:
    unreadable = number == 8  # its H1 cannot be read, so no total that rests on H1 is known
    cells = [
        f"2023-{number:03d}",
        hunter,
        area_written,
        "10",
        "9 4/8",
        "4/8",
        "4 l/8" if unreadable else "4",
        "",
        "",
    ]
    verdict = "held" if status == "held" else "new"
    row = [number, 1, number + 1, "\x1f".join(cells), verdict, number]
    connection.execute("INSERT INTO received_row VALUES (?, ?, ?, ?, ?, ?)", row)
    connection.execute("INSERT INTO entry VALUES (?, ?)", [number, cells[0]])
    totals: dict[str, int | None] = {
        "spread_credit": inside, "right_total": 512, "left_total": 500, "diff_total": 12, "abnormal_total": 0,
        "deductions": 12, "gross": inside + 1012, "net": inside + 1000,
    }  # fmt: skip
    stated = dict(totals)
    if unreadable:
        totals |= dict.fromkeys(("right_total", "diff_total", "deductions", "gross", "net"))
    if number == 7:
        stated |= {"net": 1142}
    revision: dict[str, Any] = {
        "revision_id": number, "entry_id": number, "revision_no": 1, "row_id": number,
        "made_at": "2026-03-01 18:30:00", "author": "Secretary", "reason": "received", "status": status,
        "category": "whitetail-typical", "unit": 8, "hunter": hunter, "area_written": area_written,
        "area_code": area_code, "taken_on": "2022-11-05" if season == "2022-23" else "2023-11-05",
        "season": season, "weapon": weapon, "measured_on": "2024-02-10", "measurer": "M-001",
    }  # fmt: skip
    revision |= totals | {f"stated_{name}": value for name, value in stated.items()}
    columns, places = ", ".join(revision), ", ".join("?" * len(revision))
    connection.execute(f"INSERT INTO entry_revision ({columns}) VALUES ({places})", list(revision.values()))
    _measurements(connection, number, inside)


def _measurements(connection: duckdb.DuckDBPyConnection, number: int, inside: int) -> None:
    rows: list[list[Any]] = [[number, "inside_spread", None, None, inside, None]]
    for line, (right, left, difference) in LINES.items():
        rows.append([number, line, right, left, None, difference])
        if number == 7 and line == "g2":
            rows[-1][5] = 6
        if number == 8 and line == "h1":
            rows[-1][2] = None
        if number == 9 and line == "g2":
            rows[-1][3] = None
    connection.executemany("INSERT INTO measurement VALUES (?, ?, ?, ?, ?, ?)", rows)
