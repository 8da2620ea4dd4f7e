"""The invented region: the same bytes each time, believable heads, every planted fault listed, no other."""

from __future__ import annotations

import csv
import filecmp
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import polars as pl
import pytest

from sample_data import make_sample_data, region, season_files
from tests.sample_data.plain_audit import Region, Row, Unreadable, audit, length

HOME = Path(make_sample_data.__file__).parent
CODES = """
spread_credit beam_diff g1_diff g2_diff g3_diff h1_diff h2_diff h3_diff h4_diff right_total left_total
diff_total abnormal_total deductions gross net unreadable two-readings reading-chosen date-cell
hidden-fraction missing-measure circumference-missing blank-point point-gap point-under-inch point-count
greatest-under-inside spread-over-beam out-of-bounds category-unknown weapon-unknown weapon-unclear
area-unknown measurer-unknown district-mismatch area-code-repaired date-unreadable date-serial
date-missing measured-before-taken dried-short date-in-future season-mismatch number-not-whole row-twice
head-twice number-reused file-twice column-unmatched column-missing column-twice rows-blank merged-filled
title-rows encoding-guessed extra-cells
"""
ALL_CODES = CODES.split()
MEASURES = [
    "inside_spread",
    *(f"{r}_{s}" for r in ("beam", "g1", "g2", "g3", "h1", "h2", "h3") for s in "rl"),
]
BETWEEN_SHEETS = ("row-twice", "head-twice", "number-reused")


def _rows(path: Path) -> list[Row]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _reference(name: str) -> list[Row]:
    return _rows(HOME / "reference" / name)


def _sheets() -> Iterator[tuple[str, int, Row]]:
    for label in region.SEASONS:
        name = season_files.file_name(label)
        for number, row in enumerate(_rows(HOME / "sheets" / name), start=2):
            yield name, number, row


@pytest.fixture(scope="module")
def expected() -> pl.DataFrame:
    return pl.read_csv(HOME / "expected_findings.csv", infer_schema=False)


@pytest.fixture(scope="module")
def book() -> Region:
    areas = {a["area_code"]: a for a in _reference("areas.csv")}
    district = {c: a["district"] for c, a in areas.items()} | {a["name"]: a["district"] for a in areas.values()}
    district |= {a["alias"]: areas[a["area_code"]]["district"] for a in _reference("area_aliases.csv")}
    measurers = _reference("measurers.csv")
    return Region(district, set(areas), {m["measurer_no"] for m in measurers} | {m["name"] for m in measurers})


@pytest.fixture(scope="module")
def clean(expected: pl.DataFrame) -> list[Row]:
    faulty = expected.filter(pl.col("code") != "spread-over-beam").select("file", "row").rows()
    marked = {(file, int(row)) for file, row in faulty if row}
    return [row for name, number, row in _sheets() if (name, number) not in marked]


def _inches(rows: list[Row], name: str) -> np.ndarray:
    return np.array([float(length(row[name]) or 0) for row in rows])


def test_making_it_again_changes_no_byte(tmp_path: Path) -> None:
    make_sample_data.make_all(tmp_path)
    made = sorted(p.relative_to(tmp_path) for p in tmp_path.rglob("*") if p.is_file())
    kept = sorted(p.relative_to(HOME) for p in HOME.rglob("*") if p.is_file() and p.suffix not in (".py", ".pyc"))
    assert made == [p for p in kept if p != Path("README.md")]
    differing = [str(p) for p in made if not filecmp.cmp(tmp_path / p, HOME / p, shallow=False)]
    assert differing == []
    assert sum((HOME / p).stat().st_size for p in made) < 6_000_000


def test_every_finding_of_the_season_files_is_listed_and_no_other(expected: pl.DataFrame, book: Region) -> None:
    listed = expected.filter(pl.col("file").str.starts_with("sheets_") & ~pl.col("code").is_in(BETWEEN_SHEETS))
    want = set(listed.select("file", "row", "entry_no", "code", "cells").rows())
    got = {
        (name, str(number), row["entry_no"], code, cells)
        for name, number, row in _sheets()
        for code, cells in audit(row, book)
    }
    assert got - want == set()
    assert want - got == set()
    assert len(want) == listed.height


def _measures(row: Row) -> tuple[str, ...]:
    out = []
    for name in MEASURES:
        try:
            out.append(str(length(row[name])))
        except Unreadable:
            out.append(row[name])
    return tuple(out)


def test_sheets_that_repeat_another_are_listed_and_no_other(expected: pl.DataFrame) -> None:
    rows: set[tuple[str, ...]] = set()
    number_of: dict[tuple[str, ...], str] = {}
    numbers: set[str] = set()
    got = set()
    for name, number, row in _sheets():
        cells, head = (name, *row.values()), _measures(row)
        if cells in rows:
            got.add((name, str(number), "row-twice"))
        elif head in number_of:
            got.add((name, str(number), "head-twice"))
            assert number_of[head] != row["entry_no"]
        elif row["entry_no"] in numbers:
            got.add((name, str(number), "number-reused"))
        rows.add(cells)
        numbers.add(row["entry_no"])
        number_of.setdefault(head, row["entry_no"])
    listed = expected.filter(pl.col("file").str.starts_with("sheets_") & pl.col("code").is_in(BETWEEN_SHEETS))
    assert got == set(listed.select("file", "row", "code").rows())


def test_each_code_is_planted_at_least_once(expected: pl.DataFrame) -> None:
    planted = set(expected["code"])
    assert sorted(set(ALL_CODES) - planted) == []
    assert sorted(planted - set(ALL_CODES)) == []


def test_about_three_sheets_in_a_hundred_bear_a_fault(expected: pl.DataFrame, clean: list[Row]) -> None:
    total = sum(1 for _ in _sheets())
    assert 0.025 <= (total - len(clean)) / total <= 0.045


def test_twenty_seasons_hold_about_six_thousand_sheets() -> None:
    rows = {path.name: len(_rows(path)) for path in (HOME / "sheets").iterdir()}
    assert sorted(rows) == [season_files.file_name(label) for label in region.SEASONS]
    assert len(rows) == 20
    assert 5_900 <= sum(rows.values()) <= 6_100


def test_some_sides_state_more_points_than_their_one_abnormal_number(expected: pl.DataFrame) -> None:
    asked = set(expected.filter(pl.col("code") == "point-count")["entry_no"])
    summed = set()
    for _, _, row in _sheets():
        for s in "rl":
            single = row[f"abnormal_{s}"] and ";" not in row[f"abnormal_{s}"]
            normal = sum(row[f"g{i}_{s}"] not in ("", "-") for i in range(1, 8))
            if single and row[f"points_{s}"] and int(row[f"points_{s}"]) > normal + 2:
                summed.add(row["entry_no"])
    assert len(summed) == 5
    assert summed & asked == set()


def test_the_readme_names_every_file() -> None:
    told = (HOME / "README.md").read_text(encoding="utf-8")
    files = [p for p in HOME.rglob("*") if p.is_file() and p.suffix != ".pyc" and p != HOME / "README.md"]
    assert [str(p) for p in files if f"`{p.name}`" not in told] == []


def test_every_season_and_every_area_has_entries(clean: list[Row]) -> None:
    for label in region.SEASONS:
        assert 150 <= len(_rows(HOME / "sheets" / season_files.file_name(label))) <= 450
    seen = {row["area"] for row in clean}
    assert {a["name"] for a in _reference("areas.csv")} <= seen
    assert {row["weapon"] for row in clean} == set(region.WEAPONS)


def test_the_heads_hang_together(clean: list[Row]) -> None:
    gross, beam = _inches(clean, "gross"), _inches(clean, "beam_r")
    assert 0.6 < np.corrcoef(beam, gross)[0, 1] < 0.9
    assert np.corrcoef(beam, _inches(clean, "beam_l"))[0, 1] > 0.9
    assert np.corrcoef(_inches(clean, "h1_r"), _inches(clean, "h2_r"))[0, 1] > 0.7
    assert beam.min() >= 12 and beam.max() <= 32
    uneven = _inches(clean, "diff_total")
    assert 2 < np.median(uneven) < 10
    nontypical = np.array([row["category"].endswith("nontypical") for row in clean])
    assert 0.10 < nontypical.mean() < 0.20
    assert _inches(clean, "abnormal_total")[nontypical].min() >= 3


def test_from_2016_on_six_sheets_in_ten_tell_the_age_and_larger_heads_are_older() -> None:
    sheets = [(name, row) for name, _, row in _sheets()]
    assert {name for name, row in sheets if list(row)[-1] == "age"} == {
        season_files.file_name(label) for label in region.SEASONS if label >= "2016-17"
    }
    assert all("age" not in row for name, row in sheets if name < "sheets_2016")
    aged = [row for name, row in sheets if row.get("age")]
    assert 0.57 <= len(aged) / sum("age" in row for _, row in sheets) <= 0.63
    assert {row["age"].removesuffix(" yrs").replace("½", ".5") for row in aged} == {f"{n}.5" for n in range(1, 8)}
    assert {name for name, row in sheets if "½" in row.get("age", "")} == {"sheets_2019-20.csv"}
    readable = [row for row in aged if (length(row["gross"]) or 0) > 100]
    years = [float(row["age"].removesuffix(" yrs").replace("½", ".5")) for row in readable]
    assert 0.4 < np.corrcoef(years, _inches(readable, "gross"))[0, 1] < 0.9


def test_entries_reach_the_lowest_minimum_of_their_season(clean: list[Row]) -> None:
    minimums = _reference("minimums.csv")
    short = []
    for row in clean:
        year = int(row["taken_on"][:4]) - (row["taken_on"][5:7] < "07")
        label = f"{year}-{(year + 1) % 100:02d}"
        in_force = [
            length(m["minimum"])
            for m in minimums
            if m["category"] == row["category"]
            and m["weapon_class"] in ("any", row["weapon"])
            and m["first_season"] <= label <= (m["last_season"] or "9999")
        ]
        net, least = length(row["net"]), min(x for x in in_force if x is not None)
        if net is None or net < least:
            short.append(row["entry_no"])
    assert short == []


def test_measuring_follows_taking_by_sixty_to_two_hundred_days(clean: list[Row]) -> None:
    days = np.array([[row["taken_on"], row["measured_on"]] for row in clean], dtype="datetime64[D]")
    waited = (days[:, 1] - days[:, 0]).astype(int)
    assert waited.min() == 60 and waited.max() <= 200
    assert days.max() <= np.datetime64("2026-11-01")
    months = np.array([row["taken_on"][5:7] for row in clean])
    assert set(months) == {"10", "11", "12", "01"}
    assert (months == "11").mean() > 0.4
