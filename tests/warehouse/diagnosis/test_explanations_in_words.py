"""Every kind of slip, made on a clean sheet, is named: its cells, what they should be, what follows, and in words."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.sheet_builder import Row, as_csv, audit_bytes, clean_sheet
from warehouse.eighths import text_of, units_of

TYPICAL = clean_sheet()
NONTYPICAL = clean_sheet(category="whitetail-nontypical")
WIDE = clean_sheet(inside_spread="23 4/8", greatest_spread="25")
AGREES = "; every figure then agrees, and the net is 142 1/8."


@dataclass(frozen=True)
class Told:
    """One explanation as a person reads it: lengths as text."""

    kind: str
    wrong: dict[str, str]
    follows: tuple[str, ...]
    net: str
    why: str


def moved(sheet: Row, eighths: int, *figures: str, down: tuple[str, ...] = ()) -> Row:
    """The sheet with some stated figures so many eighths longer, and those of `down` as much shorter."""
    steps = dict.fromkeys(figures, eighths) | dict.fromkeys(down, -eighths)
    return sheet | {name: text_of(units_of(sheet[name], 8) + step) for name, step in steps.items()}


def exchanged(one: str, other: str) -> Row:
    """The clean sheet with two cells exchanged."""
    return TYPICAL | {one: TYPICAL[other], other: TYPICAL[one]}


def side(eighths: int, name: str = "left_total") -> Row:
    """A side total worked out wrong, with all that follows."""
    return moved(TYPICAL, eighths, name, "gross", "net")


def deducted(eighths: int, *figures: str, sheet: Row = TYPICAL) -> Row:
    """Figures on the way to the deductions worked out wrong, with all that follows."""
    return moved(sheet, eighths, *figures, "deductions", down=("net",))


CARRIED = {
    "an inch was lost in carrying": (side(-8, "right_total"), "right_total", "65 7/8", "64 7/8"),
    "an inch too many was carried": (side(8), "left_total", "64 4/8", "65 4/8"),
    "a row was left out": (side(-31), "left_total", "64 4/8", "60 5/8"),
    "a row was added twice": (side(33), "left_total", "64 4/8", "68 5/8"),
    "it is too long by as much as a fifth circumference": (side(28), "left_total", "64 4/8", "68 0/8"),
    "the parts of an inch were miscounted": (side(-1), "left_total", "64 4/8", "64 3/8"),
    "the parts of an inch were carried at ten": (side(-6), "left_total", "64 4/8", "63 6/8"),
    "the side's abnormal points were counted in": (side(27, "right_total"), "right_total", "65 7/8", "69 2/8"),
    "the difference of the two side totals was taken instead of the rows' differences": (
        deducted(-8, "diff_total"), "diff_total", "2 3/8", "1 3/8",
    ),
    "a difference was subtracted instead of added": (deducted(-6, "diff_total"), "diff_total", "2 3/8", "1 5/8"),
    "an inch was not taken off in borrowing": (deducted(8, "h1_diff", "diff_total"), "h1_diff", "1/8", "1 1/8"),
    "the abnormal points were forgotten": (deducted(-27), "deductions", "5 6/8", "2 3/8"),
    "the abnormal points were counted in": (moved(TYPICAL, 27, "gross", "net"), "gross", "147 7/8", "151 2/8"),
    "the spread credit was left out": (moved(TYPICAL, -140, "gross", "net"), "gross", "147 7/8", "130 3/8"),
    "the abnormal points were added instead of subtracted": (moved(TYPICAL, 54, "net"), "net", "142 1/8", "148 7/8"),
    "the deductions were added": (moved(TYPICAL, 92, "net"), "net", "142 1/8", "153 5/8"),
    "the greatest spread was credited instead of the inside spread": (
        moved(TYPICAL, 18, "spread_credit", "gross", "net"), "spread_credit", "17 4/8", "19 6/8",
    ),
}  # fmt: skip
WORDS = {
    "diff_total": "The total of differences", "deductions": "The deductions", "net": "The net score",
    "gross": "The gross score", "left_total": "The left total", "right_total": "The right total",
    "spread_credit": "The spread credit", "h1_diff": "The difference of H1",
}  # fmt: skip
OTHERS = {
    "copied measure": (
        TYPICAL | {"g2_r": "9 4/8"},
        Told("copied", {"g2_r": "9 1/8"}, (), "142 1/8", "G2 right was written 9 4/8 and should be 9 1/8" + AGREES),
    ),
    "copied figure": (
        TYPICAL | {"gross": "148 7/8"},
        Told("copied", {"gross": "147 7/8"}, (), "142 1/8", "The gross score was written 148 7/8 and should be 147 7/8" + AGREES),
    ),
    "inside spread": (
        TYPICAL | {"inside_spread": "17 6/8"},
        Told("copied", {"inside_spread": "17 4/8"}, (), "142 1/8", "The inside spread was written 17 6/8 and should be 17 4/8" + AGREES),
    ),
    "sides of a row": (
        exchanged("g2_r", "g2_l"),
        Told("swapped", {"g2_r": "9 1/8", "g2_l": "8 5/8"}, (), "142 1/8",
             "G2 right and G2 left were swapped: they should be 9 1/8 and 8 5/8" + AGREES),
    ),
    "whole sides": (
        exchanged("right_total", "left_total"),
        Told("swapped", {"right_total": "65 7/8", "left_total": "64 4/8"}, (), "142 1/8",
             "The right total and the left total were swapped: they should be 65 7/8 and 64 4/8" + AGREES),
    ),
    "wrong row": (
        exchanged("g2_l", "g3_l"),
        Told("exchanged", {"g2_l": "8 5/8", "g3_l": "8 3/8"}, (), "142 1/8",
             "G2 left and G3 left were exchanged: they should be 8 5/8 and 8 3/8" + AGREES),
    ),
    "wrong box": (
        exchanged("gross", "net"),
        Told("exchanged", {"gross": "147 7/8", "net": "142 1/8"}, (), "142 1/8",
             "The gross score and the net score were exchanged: they should be 147 7/8 and 142 1/8" + AGREES),
    ),
    "points shifted": (
        TYPICAL | {"g1_r": "0"} | {f"g{n + 1}_r": TYPICAL[f"g{n}_r"] for n in range(1, 5)},
        Told("shifted", {"g1_r": "4 2/8", "g2_r": "9 1/8", "g3_r": "8 0/8", "g4_r": "5 2/8", "g5_r": "0"}, (), "142 1/8",
             "The points from G1 right to G5 right were written one row off" + AGREES),
    ),
    "unreadable": (
        TYPICAL | {"g2_l": "??"},
        Told("unread", {"g2_l": "8 5/8"}, (), "142 1/8", "G2 left is not known, and the other figures make it 8 5/8" + AGREES),
    ),
    "fourth circumference left blank": (
        TYPICAL | {"h4_r": ""},
        Told("unread", {"h4_r": "4 0/8"}, (), "142 1/8", "H4 right is not known, and the other figures make it 4 0/8" + AGREES),
    ),
    "two slips": (
        TYPICAL | {"g2_r": "9 4/8", "gross": "148 7/8"},
        Told("copied and copied", {"g2_r": "9 1/8", "gross": "147 7/8"}, (), "142 1/8",
             "G2 right was written 9 4/8 and should be 9 1/8; and the gross score was written 148 7/8 and should be 147 7/8" + AGREES),
    ),
    "cap forgotten": (
        moved(WIDE, 11, "spread_credit", "gross", "net"),
        Told("carried", {"spread_credit": "22 1/8"}, ("gross", "net"), "146 6/8",
             "The spread credit was worked out wrong (the inside spread was credited in full, beyond the longer beam): "
             "it comes to 22 1/8, not 23 4/8; every figure then agrees, and the net is 146 6/8."),
    ),
    "non-typical, forgotten": (
        moved(NONTYPICAL, -27, "net"),
        Told("carried", {"net": "148 7/8"}, (), "148 7/8",
             "The net score was worked out wrong (the abnormal points were forgotten): it comes to 148 7/8, not 145 4/8; "
             "every figure then agrees, and the net is 148 7/8."),
    ),
    "non-typical, subtracted": (
        moved(NONTYPICAL, -54, "net"),
        Told("carried", {"net": "148 7/8"}, (), "148 7/8",
             "The net score was worked out wrong (the abnormal points were subtracted instead of added): it comes to "
             "148 7/8, not 142 1/8; every figure then agrees, and the net is 148 7/8."),
    ),
    "non-typical, taken off": (
        deducted(27, sheet=NONTYPICAL),
        Told("carried", {"deductions": "2 3/8"}, ("net",), "148 7/8",
             "The deductions were worked out wrong (the abnormal points were taken off, which are added here): they come to "
             "2 3/8, not 5 6/8; every figure then agrees, and the net is 148 7/8."),
    ),
    "beam tip measured": (
        clean_sheet(g5_r="1 4/8", points_r="7"),
        Told("tip-as-point", {"g5_r": "0"}, ("g5_diff", "right_total", "diff_total", "deductions", "gross"), "142 1/8",
             "The right side's last point (G5, 1 4/8) may be the beam tip, which is measured with the beam: one point fewer "
             "is stated; without it the net is 142 1/8."),
    ),
}  # fmt: skip
SHEETS: dict[str, Row] = {name: case[0] for name, case in (CARRIED | OTHERS).items()}
UNSURE = {
    "an inch was lost in carrying", "an inch too many was carried", "the parts of an inch were carried at ten", "inside spread",
    "the greatest spread was credited instead of the inside spread", "beam tip measured",
    "copied measure",  # both the difference and the side total could be miscounted by 3/8
    "wrong row",  # each of the two differences could be miscounted
}  # fmt: skip


@pytest.fixture(scope="module")
def diagnosed(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, tuple[Told, bool]]:
    """The likeliest explanation of every sheet, and whether its score is certain."""
    rows = [sheet | {"entry_no": str(n), "hunter": f"Hunter {n}"} for n, sheet in enumerate(SHEETS.values())]
    (table,) = audit_bytes(Path(tmp_path_factory.mktemp("slips")), as_csv(rows)).tables
    first = {one["id"]: one for one in table.explanations.to_dicts() if one["place"] == 0}
    return {name: (_told(first[n]), bool(table.certain[n])) for n, name in enumerate(SHEETS)}


def _told(one: dict[str, list[int]]) -> Told:
    wrong = dict(zip(one["cells"], map(text_of, one["proposed"]), strict=True))
    return Told(str(one["kind"]), {str(cell): text for cell, text in wrong.items()}, tuple(map(str, one["follows"])),
                text_of(one["net"]), str(one["why"]))  # type: ignore[arg-type]  # fmt: skip


@pytest.mark.parametrize("manner", CARRIED)
def test_a_step_worked_out_wrong_is_named_with_its_manner(
    diagnosed: Mapping[str, tuple[Told, bool]], manner: str
) -> None:
    _, figure, right, wrong = CARRIED[manner]
    told = diagnosed[manner][0]
    were, they = ("were", "they come") if figure == "deductions" else ("was", "it comes")
    said = f"{WORDS[figure]} {were} worked out wrong ({manner}): {they} to {right}, not {wrong}{AGREES}"
    assert (told.kind, told.wrong, told.net, told.why) == ("carried", {figure: right}, "142 1/8", said)


@pytest.mark.parametrize("name", OTHERS)
def test_every_other_slip_is_named(diagnosed: Mapping[str, tuple[Told, bool]], name: str) -> None:
    assert diagnosed[name][0] == OTHERS[name][1]


def test_the_score_is_certain_where_one_net_is_left(diagnosed: Mapping[str, tuple[Told, bool]]) -> None:
    assert {name for name, (_, is_certain) in diagnosed.items() if not is_certain} == UNSURE
