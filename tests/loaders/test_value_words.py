"""Words for weapons and categories, and measurers by number or name."""

import polars as pl
import pytest

from loaders.names import area_key, make_names, resolve_areas, resolve_measurers
from loaders.value_words import UNCLEAR, antler_state_of, category_code_of, weapon_of


@pytest.mark.parametrize(
    ("text", "weapon"),
    [
        ("rifle", "rifle"), ("Archery", "bow"), ("BOW", "bow"), ("Cross-bow ", "crossbow"), ("x-bow", "crossbow"),
        ("Black Powder", "muzzleloader"), ("pistol", "handgun"), ("slug gun", "shotgun"), ("Found dead", "found"),
        ("gun", UNCLEAR), ("Firearm", UNCLEAR), ("spear", None), ("", None), (None, None),
    ],
)  # fmt: skip
def test_weapons(text: str | None, weapon: str | None) -> None:
    assert weapon_of(text) == weapon


@pytest.mark.parametrize(
    ("text", "state"),
    [("hard", "hard"), ("Hard antler", "hard"), ("in velvet", "velvet"), ("V", "velvet"), ("polished", None), ("", None), (None, None)],
)  # fmt: skip
def test_antler_states(text: str | None, state: str | None) -> None:
    assert antler_state_of(text) == state


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("whitetail-typical", "whitetail-typical"), ("Typical", "whitetail-typical"), ("T", "whitetail-typical"),
        ("Non-Typical", "whitetail-nontypical"), ("NT", "whitetail-nontypical"), ("whitetail nontypical", "whitetail-nontypical"),
        ("Elk, typical", "elk-typical"), ("American Elk Non-Typical", "elk-nontypical"), ("Elk NT", "elk-nontypical"),
        ("Typical American Elk", "elk-typical"), ("non-typical wapiti", "elk-nontypical"), ("elk", None), ("", None), (None, None),
    ],
)  # fmt: skip
def test_categories(text: str | None, code: str | None) -> None:
    assert category_code_of(text) == code


def test_measurers_by_number_or_name() -> None:
    names = make_names(measurers=[("M-12", "Wystan Carrow"), ("M-7", "Réa O'Dell")])
    texts = pl.Series(["M-12", "m 12", "Wystan  Carrow", "Rea O’Dell", "nobody", "", None, "M-7 [@]"])
    assert resolve_measurers(names, texts).to_list() == ["M-12", "M-12", "M-12", "M-7", None, None, None, "M-7"]


@pytest.mark.parametrize(
    ("name", "key"),
    [("Saint Orvane", "STORVANE"), ("St. Orvane", "STORVANE"), ("Fort O'Hare", "FTOHARE"), ("Doña-Vale", "DONAVALE"),
     ("Carrow City", "CARROWCITY"), ("Stonefort", "STONEFORT")],
)  # fmt: skip
def test_an_areas_key(name: str, key: str) -> None:
    assert area_key(name) == key


def test_areas_of_a_column_keep_their_order() -> None:
    names = make_names(areas=[("07001", "Abberlow", "ZZ", "North"), ("07003", "Brackwater", "YY", "South")])
    found = resolve_areas(
        names, pl.Series(["brackwater", None, "7001", "Abberlow", "x"]), pl.Series(["YY", None, None, "YY", None])
    )
    assert found["area_code"].to_list() == ["07003", None, "07001", None, None]
    assert found["district"].to_list() == ["South", None, "North", None, None]
    assert found["area.repaired"].to_list() == [False, False, True, False, False]
