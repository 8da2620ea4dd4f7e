"""Area codes that had ended by the date taken: followed with a note, or, after a split, asked for."""

from datetime import date
from pathlib import Path

from loaders.names import make_names
from tests.sheet_builder import Finding, audit_rows, clean_sheet

CODES = [
    ("07001", "Abberlow"),
    ("07003", "Brackwater"),
    ("07005", "Corrow"),
    ("07007", "North Corrow"),
    ("07009", "South Corrow"),
]
NAMES = make_names(
    areas=[(code, name, "ZZ", "North") for code, name in CODES],
    measurers=[("M-12", "Wystan Carrow")],
    changes=[
        ("07001", "07003", date(2025, 11, 8), "renamed"), ("07005", "07007", date(2025, 7, 1), "split"),
        ("07005", "07009", date(2025, 7, 1), "split"),
    ],
)  # fmt: skip


def found(folder: Path, **changes: str) -> list[Finding]:
    return audit_rows(folder, clean_sheet(**changes), names=NAMES)


def test_a_code_that_ended_is_followed_with_a_note(tmp_path: Path) -> None:
    for written in ("07001", "Abberlow"):
        assert found(tmp_path, area=written) == [
            Finding(2, "area-code-followed", "note", ("area",), written, "07003",
                    "The area code 07001 ended on 2025-11-08; a head taken on 2025-11-08 lies in 07003 (Brackwater)."),
        ]  # fmt: skip
    assert found(tmp_path, area="Abberlow", taken_on="2025-11-07") == []
    assert found(tmp_path, area="Brackwater") == []


def test_a_repaired_code_is_told_as_it_was_before_it_was_followed(tmp_path: Path) -> None:
    repaired, followed = found(tmp_path, area="7001")
    assert (repaired.code, repaired.expected) == ("area-code-repaired", "07001")
    assert repaired.message == "The area code 7001 had lost its leading zero; read as 07001."
    assert (followed.code, followed.expected) == ("area-code-followed", "07003")


def test_after_a_split_the_new_areas_are_named_and_none_is_taken(tmp_path: Path) -> None:
    assert found(tmp_path, area="Corrow") == [
        Finding(2, "area-unknown", "error", ("area",), "Corrow", "North Corrow or South Corrow",
                "The county or parish 'Corrow' was split on 2025-07-01 (code 07005). Did you mean North Corrow or South Corrow?"),
    ]  # fmt: skip
    assert found(tmp_path, area="Corrow", taken_on="2025-06-30", season="2024-25") == []


def test_other_unknown_names_are_told_as_ever(tmp_path: Path) -> None:
    (unknown,) = found(tmp_path, area="Brackwatr")
    assert unknown.message == (
        "The county or parish 'Brackwatr' is not in the book's table of areas. Did you mean Brackwater?"
    )
