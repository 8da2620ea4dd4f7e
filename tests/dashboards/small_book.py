"""A book of ten heads, put in row by row, whose every figure is worked out by hand below.

All heads are one head with another inside spread. In eighths: main beams 192 and 188, G1 40 and 36, G2 80 and 76,
G3 72 and 72, H1 to H4 32 on both sides. So right total 512, left total 500, differences 4 + 4 + 4 = 12, and
gross = spread + 1012, net = gross - 12.
"""

from pathlib import Path
from typing import Any, NamedTuple

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


class Head(NamedTuple):
    number: int
    hunter: str
    area_code: str | None
    area_written: str
    season: str
    weapon: str | None
    inside: int
    status: str


HEADS = (
    Head(1, "Tarn Holtquarry", "07001", "Abberlow", "2022-23", "rifle", 144, "accepted"),
    Head(2, "Bettany Inglebrand", "07001", "Abberlow", "2022-23", "bow", 144, "accepted"),
    Head(3, "Marn Osselby", "07001", "Abberlow", "2023-24", "rifle", 140, "accepted"),
    Head(4, "Rhosa Drumlock", "07037", "Saint Orvane", "2023-24", "bow", 160, "accepted"),
    Head(5, HOSTILE_IMAGE, "07037", "Saint Orvane", "2023-24", "shotgun", 152, "accepted"),
    Head(6, HOSTILE_LINK, "07037", "Saint Orvane", "2023-24", "crossbow", 120, "accepted"),
    Head(7, "Corwin Vale", "07001", "Abberlow", "2023-24", "rifle", 144, "held"),
    Head(8, "Wystan Carrow", "07037", "Saint Orvane", "2022-23", "bow", 144, "held"),
    Head(9, HOSTILE_IMAGE, "07001", "Abberlow", "2023-24", "rifle", 136, "held"),
    Head(10, HOSTILE_LINK, None, HOSTILE_IMAGE, "2023-24", None, 136, "held"),
)
# The cells of the received row that differ, by entry: column of FIELDS -> text.
CELLS = {7: {"g2_diff": "6/8", "net": "142 6/8"}, 8: {"h1_r": "4 l/8"}, 9: {"g2_l": ""}}
# The totals nobody can know, by entry: 8 has an H1 that cannot be read, 9 a G2 that may be missing.
UNKNOWN = {
    8: ("right_total", "diff_total", "deductions", "gross", "net"),
    9: ("left_total", "diff_total", "deductions", "gross", "net"),
}
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
        file = [1, 1, "sent/by/mail/club_2023.csv", None, "a" * 64, HEADINGS, FIELDS, len(HEADS)]
        connection.execute("INSERT INTO received_file VALUES (?, ?, ?, ?, ?, ?, ?, ?)", file)
        for head in HEADS:
            _head(connection, head)
        for finding in FINDINGS:
            row = finding[0]
            connection.execute("INSERT INTO finding VALUES (1, ?, ?, ?, ?, ?, ?, ?, ?)", [row, row, *finding[1:]])
    return path


def _references(connection: duckdb.DuckDBPyConnection) -> None:
    connection.execute(
        """
        INSERT INTO area VALUES ('07001', 'Abberlow', 'county', 'QM', 'North Fells', 'Highfell'),
                                ('07037', 'Saint Orvane', 'parish', 'QM', 'Saltwick', 'Lowwater');
        INSERT INTO measurer VALUES ('M-001', 'Marda Quernlock', DATE '2001-03-10', NULL, 'official');
        INSERT INTO season VALUES ('2022-23', DATE '2022-07-01', DATE '2023-06-30'),
                                  ('2023-24', DATE '2023-07-01', DATE '2024-06-30');
        INSERT INTO minimum VALUES
            ('Quillmark Record', 'whitetail-typical', 'any', 1144, '2022-23', '2022-23', 'any'),
            ('Quillmark Record', 'whitetail-typical', 'any', 1152, '2023-24', NULL, 'any'),
            ('Bowstave Register', 'whitetail-typical', 'bow', 1000, '2022-23', NULL, 'any');
        INSERT INTO record_book VALUES
            ('Quillmark Record', '2022-23', NULL, 'net', 'shared', [], true, 60, [], [], [], [], NULL, NULL),
            ('Bowstave Register', '2022-23', NULL, 'net', 'shared', ['bow'], false, 60, [], [], [], [], NULL, NULL);
        """
    )


def _head(connection: duckdb.DuckDBPyConnection, head: Head) -> None:
    number, verdict = head.number, "held" if head.status == "held" else "new"
    cells = {
        "entry_no": f"2023-{number:03d}", "hunter": head.hunter, "area": head.area_written, "g2_r": "10",
        "g2_l": "9 4/8", "g2_diff": "4/8", "h1_r": "4", "net": "", "": "seen",
    } | CELLS.get(number, {})  # fmt: skip
    row = [number, 1, number + 1, "\x1f".join(cells[field] for field in FIELDS), verdict, number]
    connection.execute(
        "INSERT INTO received_row (row_id, file_id, row, cells, verdict, entry_id) VALUES (?, ?, ?, ?, ?, ?)", row
    )
    connection.execute("INSERT INTO entry VALUES (?, ?)", [number, cells["entry_no"]])
    revision = _revision(head) | _totals(head)
    columns, places = ", ".join(revision), ", ".join("?" * len(revision))
    connection.execute(f"INSERT INTO entry_revision ({columns}) VALUES ({places})", list(revision.values()))
    _measurements(connection, number, head.inside)


def _revision(head: Head) -> dict[str, Any]:
    number = head.number
    return {
        "revision_id": number, "entry_id": number, "revision_no": 1, "row_id": number,
        "made_at": "2026-03-01 18:30:00", "author": "Secretary", "reason": "received", "status": head.status,
        "category": "whitetail-typical", "unit": 8, "hunter": head.hunter, "area_written": head.area_written,
        "area_code": head.area_code, "taken_on": f"{head.season[:4]}-11-05", "season": head.season,
        "weapon": head.weapon, "measured_on": "2024-02-10", "measurer": HOSTILE_IMAGE if number == 9 else "M-001",
        "age_half_years": 9 if number == 7 else None,
    }  # fmt: skip


def _totals(head: Head) -> dict[str, int | None]:
    totals: dict[str, int | None] = {
        "spread_credit": head.inside, "right_total": 512, "left_total": 500, "diff_total": 12, "abnormal_total": 0,
        "deductions": 12, "gross": head.inside + 1012, "net": head.inside + 1000,
    }  # fmt: skip
    stated = {f"stated_{name}": value for name, value in totals.items()}
    if head.number == 7:
        stated["stated_net"] = 1142
    return totals | dict.fromkeys(UNKNOWN.get(head.number, ())) | stated


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
