from dashboards.filters import complaints, same

OFFERED = {"season": same(["2022-23", "2023-24"]), "area": {"07001": "Abberlow"}}


def test_known_values_bring_no_complaint() -> None:
    assert complaints({"season": ["2022-23", "2023-24"], "area": ["Abberlow"]}, OFFERED) == []
    assert complaints({"season": [""]}, OFFERED) == []


def test_each_filter_complains_once_of_all_its_unknown_values() -> None:
    assert complaints({"season": ["2022-23", "1999", "x"], "area": ["07001"]}, OFFERED) == [
        "The address asks for season “1999”, “x”, which this book does not have; it was left out.",
        "The address asks for area “07001”, which this book does not have; it was left out.",
    ]
