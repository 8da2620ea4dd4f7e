"""Cells with two readings, decided by the other sheets of a file: what is read, how sure, and what is still asked."""

import re
from pathlib import Path

import polars as pl
import pytest

from loaders.fields import stated_fields
from loaders.notation.habits import ONLY_DECIMAL, ONLY_UNITS, ROUNDED, RUN_TOGETHER, traits_of
from tests.open_columns import CASES, score, written
from tests.sheet_builder import MEASURES, REPEATS, Finding, Row, audit_rows, clean_sheet

WHOLE = {name: re.sub(r" \d/8", "", text) for name, text in MEASURES.items()}
DECIMAL = ["0", "125", "25", "375", "5", "625", "75", "875"]
FIGURES = stated_fields()
TELLS = {"g2_r": "9 5/8", "g3_r": "8 6/8"}  # .5 and .6 on one side: a total of .3 in eighths, of .1 as decimals
TELLS_DECIMAL = {"g2_r": "9 4/8", "g3_r": "8 4/8", "g4_r": "5 4/8"}  # three times .5: a total of .5; .7 in eighths


def _sheet(number: int, measures: dict[str, str], **entry: str) -> Row:
    lengths = WHOLE | {"abnormal_r": "1; 2"} | measures
    names = {"entry_no": str(number), "hunter": f"Hunter {number}", "measurer": "M-12"}
    return clean_sheet(**{**lengths, "beam_l": str(20 + number // 8), **names, **entry})


def _written(sheet: Row, digits: list[str], fields: tuple[str, ...] = (*MEASURES, *FIGURES)) -> Row:
    """The lengths of a sheet as decimals, whose digits stand for 0/8 to 7/8."""

    def spelled(text: str) -> str:
        parts = re.fullmatch(r"(?:(\d+) )?(\d)/8", text)
        return f"{parts[1] or 0}.{digits[int(parts[2])]}" if parts else text

    return sheet | {name: "; ".join(map(spelled, sheet[name].split("; "))) for name in fields if name in sheet}


def _eighths(sheet: Row) -> Row:
    return _written(sheet, list("01234567"))


def _decimals(sheet: Row) -> Row:
    return _written(sheet, DECIMAL)


def _of(found: list[Finding], row: int) -> list[Finding]:
    return [one for one in found if one.row == row and one.code not in REPEATS]


def _kinds(found: list[Finding]) -> list[tuple[str, tuple[str, ...]]]:
    return [(one.code, one.cells) for one in found]


AMBIGUOUS = ("g2_r", "g2_diff", "right_total", "diff_total", "deductions", "gross")


def test_a_sheet_that_agrees_either_way_is_asked_about_alone(tmp_path: Path) -> None:
    found = audit_rows(tmp_path, _eighths(_sheet(1, {"g2_r": "9 5/8"})))
    assert _kinds(_of(found, 2)) == [("two-readings", AMBIGUOUS)]


@pytest.mark.parametrize(
    ("spell", "tells", "half", "way"),
    [
        (_eighths, TELLS, "9 5/8", "digits after the mark count eighths"),
        (_decimals, TELLS_DECIMAL, "9 4/8", "as decimals"),
    ],
)
def test_a_sheet_that_agrees_either_way_is_read_as_the_measurer_writes(
    tmp_path: Path, spell: object, tells: dict[str, str], half: str, way: str
) -> None:
    assert callable(spell)
    rows = [spell(_sheet(n, tells)) for n in range(6)] + [spell(_sheet(6, {"g2_r": half}))]
    (found,) = _of(audit_rows(tmp_path, *rows), 8)
    assert (found.code, found.severity, found.cells) == ("reading-chosen", "note", AMBIGUOUS)
    assert found.message == (
        f"g2_r '9.5' was read as {half} (5 more cells alike), {way}: 6 other sheets of this file by this measurer are "
        "written so, none otherwise; 6 of the 6 stated figures it touches agree either way, so nothing on the sheet "
        "itself confirms it."
    )


def test_what_nothing_is_stated_about(tmp_path: Path) -> None:
    lone = _sheet(6, {"g2_r": "9 5/8"}) | dict.fromkeys(FIGURES, "")
    rows = [_eighths(_sheet(n, TELLS)) for n in range(6)] + [_eighths(lone)]
    (found,) = _of(audit_rows(tmp_path, *rows), 8)
    assert found.message == (
        "g2_r '9.5' was read as 9 5/8, digits after the mark count eighths: 6 other sheets of this file by this "
        "measurer are written so, none otherwise; no stated figure rests on it, so nothing on the sheet itself "
        "confirms it."
    )


def test_four_sheets_are_no_habit(tmp_path: Path) -> None:
    rows = [_eighths(_sheet(n, TELLS)) for n in range(4)] + [_eighths(_sheet(6, {"g2_r": "9 5/8"}))]
    assert _kinds(_of(audit_rows(tmp_path, *rows), 6)) == [("two-readings", AMBIGUOUS)]


def test_another_measurers_habit_is_not_lent(tmp_path: Path) -> None:
    rows = [_eighths(_sheet(n, TELLS)) for n in range(6)]
    rows.append(_eighths(_sheet(6, {"g2_r": "9 5/8"}, measurer="Wystan Carrow")))
    assert _kinds(_of(audit_rows(tmp_path, *rows), 8)) == [("two-readings", AMBIGUOUS)]


def test_a_file_without_measurers_is_one_group(tmp_path: Path) -> None:
    rows = [_eighths(_sheet(n, TELLS)) for n in range(6)] + [_eighths(_sheet(6, {"g2_r": "9 5/8"}))]
    bare = [{name: text for name, text in row.items() if name != "measurer"} for row in rows]
    (found,) = _of(audit_rows(tmp_path, *bare), 8)
    assert "6 other sheets of this file are written so, none otherwise; 6 of the 6" in found.message


def test_a_spelling_of_one_meaning_tells_the_habit(tmp_path: Path) -> None:
    silent = [_sheet(n, {"tip_to_tip": "12 7/8", "g1_r": "4", "g1_l": "4"}) for n in range(5)]
    lone = _sheet(6, {"tip_to_tip": "12 5/8"})
    (found,) = _of(audit_rows(tmp_path, *map(_eighths, [*silent, lone])), 7)
    assert found.message == (
        "tip_to_tip '12.5' was read as 12 5/8, digits after the mark count eighths: 5 other sheets of this file by "
        "this measurer are written so, none otherwise; no stated figure rests on it, so nothing on the sheet itself "
        "confirms it."
    )


def test_a_sheet_with_a_spelling_against_the_habit_is_asked_about(tmp_path: Path) -> None:
    lone = _eighths(_sheet(6, {"g2_r": "9 5/8"})) | {"tip_to_tip": "12.25"}
    rows = [_eighths(_sheet(n, TELLS)) for n in range(6)] + [lone]
    found = _of(audit_rows(tmp_path, *rows), 8)
    assert _kinds(found) == [("two-readings", AMBIGUOUS)]


def test_a_rounded_decimal_is_asked_about_where_decimals_are_written_out(tmp_path: Path) -> None:
    lone = _decimals(_sheet(6, {"g2_r": "9 4/8"})) | {"tip_to_tip": "12.3"}
    rows = [_decimals(_sheet(n, TELLS_DECIMAL)) for n in range(6)] + [lone]
    found = _of(audit_rows(tmp_path, *rows), 8)
    assert _kinds(found) == [("reading-chosen", AMBIGUOUS), ("two-readings", ("tip_to_tip",))]
    assert found[1].message == (
        "tip_to_tip '12.3' may be 12 3/8 or 12 2/8; the sheet's own figures do not decide it; the recomputed score "
        "does not rest on it."
    )


def test_measures_in_eighths_and_totals_in_decimals_on_one_sheet(tmp_path: Path) -> None:
    sheet, totals = _sheet(1, {"g2_r": "9 5/8", "g3_r": "8 7/8"}), FIGURES[-8:]
    mixed = _written(_eighths(sheet) | {name: sheet[name] for name in totals}, DECIMAL, totals)
    eighths, decimals = _of(audit_rows(tmp_path, mixed), 2)
    assert eighths.cells == ("g2_r", "g2_diff")
    assert eighths.message == (
        "g2_r '9.5' was read as 9 5/8 (1 more cells alike), digits after the mark count eighths: so 6 of the 6 stated "
        "figures it touches agree, read the other way 2."
    )
    assert decimals.cells == ("right_total", "diff_total", "deductions", "gross")
    assert decimals.message == (
        "right_total '65.5' was read as 65 4/8 (3 more cells alike), as decimals: so 6 of the 6 stated figures it "
        "touches agree, read the other way 2."
    )


def test_one_slip_does_not_hide_the_reading_of_the_rest(tmp_path: Path) -> None:
    sheet = _eighths(clean_sheet()) | {"net": "99.0"}
    chosen, asked, net = (one for one in _of(audit_rows(tmp_path, sheet), 2) if one.code != "parity")
    assert chosen.message == (
        "inside_spread '17.4' was read as 17 4/8 (9 more cells alike), digits after the mark count eighths: so 13 of "
        "the 14 stated figures it touches agree, read the other way 3."
    )
    assert (asked.code, asked.cells[:2]) == ("two-readings", ("beam_diff", "g2_diff"))  # one slip could do as much
    assert net.code == "net"


def test_a_date_waits_for_figures_even_where_the_habit_decides_the_rest(tmp_path: Path) -> None:
    tells = [_eighths(_sheet(n, TELLS)) for n in range(6)]
    agreeing = _eighths(_sheet(6, {"g2_r": "9 5/8", "g2_l": "9", "g4_l": "4 3/8"})) | {"g4_diff": "2026-05-08"}
    silent = _eighths(_sheet(7, {"g2_r": "9 5/8"})) | dict.fromkeys(FIGURES, "") | {"g4_r": "8-Mar"}
    found = audit_rows(tmp_path, *tells, agreeing, silent)
    dated = [one for one in found if one.code == "date-cell"]
    assert [(one.row, one.cells) for one in dated] == [(8, ("g4_diff",)), (9, ("g4_r",))]
    assert dated[0].message.endswith("the score is computed with it. Is that what the sheet says?")
    assert dated[1].message.endswith(
        "nothing on the sheet confirms it, so the score is not known. Is that what the sheet says?"
    )
    assert ("reading-chosen", ("g2_r",)) in _kinds(_of(found, 9))


def test_a_fraction_run_together_is_no_habit_of_decimals(tmp_path: Path) -> None:
    rows = [_sheet(n, {"g2_r": "9 5/8"}) | {"g2_r": "95/8"} for n in range(6)]
    lone = _eighths(_sheet(6, {"g2_r": "9 5/8"}))
    found = audit_rows(tmp_path, *rows, lone)
    assert _kinds(_of(found, 2)) == [("reading-chosen", ("g2_r",))]
    assert _kinds(_of(found, 8)) == [("two-readings", AMBIGUOUS)]


@pytest.mark.parametrize(
    ("text", "traits"),
    [
        ("8.7", ONLY_UNITS),
        ("8.25", ONLY_DECIMAL),
        ("8.13", ONLY_DECIMAL),
        ("8.50", ONLY_DECIMAL),
        ("8.8", ONLY_DECIMAL | ROUNDED),
        ("8,9", ONLY_DECIMAL | ROUNDED),
        ("8.3", ROUNDED),
        ("8.5", 0),
        ("8.0", 0),
        ("8", 0),
        ("8.625 [# ?/8]", 0),
        ("277/8", RUN_TOGETHER),
        ("junk", 0),
        (None, 0),
    ],
)
def test_what_a_spelling_tells(text: str | None, traits: int) -> None:
    assert traits_of(pl.Series([text], dtype=pl.String), 8).to_list() == [traits]


@pytest.mark.parametrize("halves", [True, False])
@pytest.mark.parametrize(("case", "sheets"), [(case, n) for case in CASES for n in (20, 200, 5_000)])
def test_nearly_every_open_cell_of_a_file_is_read_right_and_none_wrong(
    tmp_path: Path, case: str, sheets: int, halves: bool
) -> None:
    if case == "rounded decimals" and halves:
        pytest.skip("halves are not rounded: the file is one of decimals")
    found = score(written(CASES[case], sheets, halves, 0.03, seed=0), tmp_path)
    assert found.cells > 10 * sheets * (1 if halves else 0.4)
    assert found.wrong == 0
    assert found.right >= 0.999 * found.cells
