"""County and parish names and codes. Source: INCITS 31 (formerly FIPS 6-4); US Census Bureau code lists."""

import pytest

from loaders.names import make_names

NAMES = make_names(
    areas=[
        ("01001", "Autauga", "AL", "D1"), ("29189", "St. Louis", "MO", "D1"), ("29510", "St. Louis city", "MO", "D1"),
        ("24005", "Baltimore", "MD", "D1"), ("24510", "Baltimore city", "MD", "D1"), ("32510", "Carson City", "NV", "D1"),
        ("13089", "DeKalb", "GA", "D1"), ("01049", "DeKalb", "AL", "D1"), ("22059", "LaSalle", "LA", "D1"),
        ("22089", "St. Charles", "LA", "D1"), ("35013", "Doña Ana", "NM", "D1"), ("12111", "St. Lucie", "FL", "D1"),
        ("48155", "Foard", "TX", "D1"), ("48157", "Fort Bend", "TX", "D1"), ("02122", "Kenai Peninsula", "AK", "D1"),
    ],
    aliases=[("Alton Parish", "22059")],
)  # fmt: skip


@pytest.mark.parametrize(
    ("written", "state", "code"),
    [
        ("St. Charles Parish", "LA", "22089"), ("Saint Charles", "LA", "22089"), ("ST CHARLES", "LA", "22089"),
        ("Ft. Bend", "TX", "48157"), ("Fort Bend County", "TX", "48157"), ("Saint Lucie", "FL", "12111"),
        ("De Kalb", "GA", "13089"), ("DeKalb", "AL", "01049"), ("dekalb county", "al", "01049"), ("DeKalb [@]", "GA [@]", "13089"),
        ("La Salle", "LA", "22059"), ("LaSalle Parish", "LA", "22059"), ("Alton Parish", "LA", "22059"),
        ("St. Louis", "MO", "29189"), ("St. Louis County", "MO", "29189"), ("St. Louis City", "MO", "29510"),
        ("Saint Louis city", "MO", "29510"), ("Baltimore", "MD", "24005"), ("Baltimore City", "MD", "24510"),
        ("Carson City", "NV", "32510"), ("Dona Ana", "NM", "35013"), ("Doña Ana", "NM", "35013"),
        ("Kenai Peninsula Borough", "AK", "02122"), ("Autauga ", "", "01001"), ("Autauga\u00a0County", "AL", "01001"),
        ("01001", "AL", "01001"), ("29510", "", "29510"),
    ],
)  # fmt: skip
def test_one_county(written: str, state: str, code: str) -> None:
    found = NAMES.find_area(written, state)
    assert found.area is not None
    assert (found.area.code, found.repaired, found.hint) == (code, False, "")


@pytest.mark.parametrize(
    ("written", "state", "hint"),
    [
        ("DeKalb", "", "DeKalb (GA) or DeKalb (AL)"),  # two states: the state decides, never we
        ("DeKalb", "NV", "DeKalb"),
        ("Autaga", "AL", "Autauga"),
        ("Carson", "NV", "Carson City"),  # City is part of the name
        ("Nowhere", "AL", ""),
        ("99999", "", ""),
        ("99", "", ""),
        ("", "AL", ""),
    ],
)
def test_a_near_name_is_suggested_and_never_applied(written: str, state: str, hint: str) -> None:
    found = NAMES.find_area(written, state)
    assert (found.area, found.hint) == (None, hint)


@pytest.mark.parametrize("written", ["1001", "1001.0", " 1001 "])
def test_a_code_that_lost_its_leading_zero_is_repaired_and_noted(written: str) -> None:
    found = NAMES.find_area(written, None)
    assert found.area is not None
    assert (found.area.code, found.repaired) == ("01001", True)


def test_a_repaired_code_must_exist() -> None:
    assert NAMES.find_area("9999", None).area is None


def test_every_code_is_five_digits_of_text() -> None:
    assert all(len(code) == 5 and code.isdigit() for code in NAMES.areas)
    assert {area.code[:2] for area in NAMES.areas.values() if area.state == "AL"} == {"01"}
