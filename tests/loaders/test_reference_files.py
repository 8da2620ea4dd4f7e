"""Reference tables as files: CSV and TOML, which table a file holds, and how problems name their place."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from dashboards.commands import make_book
from loaders.reference_files import FILES, files_in, read_all, read_reference, sources
from tests.book_builder import query
from warehouse.book.reference import TABLES
from warehouse.errors import ReferenceRefused

AREAS = "area_code,name,kind,state,district,region\n07001,Abberlow,county,QM,North,High\n"
MINIMUM = "book,category,weapon_class,minimum,first_season\nB,whitetail-typical,any,125 4/8,2020-21\n"
NAMES = (
    "areas.csv, area_aliases.csv, districts.csv, area_changes.csv, measurers.csv, seasons.csv, books.csv, minimums.csv, effort.csv, "
    "panel_measures.csv"
)
TOML = """
[[record_book]]
book = "B"
first_season = "2020-21"
takes_found = false
drying_days = 90
weapons = ["firearm", "bow"]
certificates = "official;club"

[[minimum]]
book = "B"
category = "whitetail-typical"
weapon_class = "any"
minimum = 125
first_season = "2020-21"

[[measurer]]
measurer_no = 12
name = "Ann"
certified_from = 2020-03-01

[[effort]]
area_code = 46113
season = "2020-21"
square_miles = 2093.9
"""


def write(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def refusal(folder: Path, *paths: Path) -> str:
    with pytest.raises(ReferenceRefused) as refused:
        read_all(sources(paths or [folder]))
    return str(refused.value).replace(f"{folder}/", "").replace(str(folder), "FOLDER")


def test_there_is_a_file_for_every_table() -> None:
    assert set(FILES) == set(TABLES)


@pytest.mark.parametrize(
    "headings", ["area_code,name", "area_code,name,state,colour", "area_code,name,state,state", ""]
)
def test_headings_are_checked_once_for_the_file(tmp_path: Path, headings: str) -> None:
    write(tmp_path / "areas.csv", headings + "\n07001,Abberlow\n" if headings else "")
    found = headings.replace(",", ", ") or "(none)"
    assert refusal(tmp_path) == (
        f"areas.csv, row 1: found the columns {found}; expected: area_code, name, kind, state, district, region, each once"
    )


def test_rows_are_counted_as_a_person_counts_them(tmp_path: Path) -> None:
    write(tmp_path / "areas.csv", AREAS + "\n\n7003,Brindmoor,county,QM,North,High\n")
    assert refusal(tmp_path) == "areas.csv, row 5, area_code: found '7003'; expected five digits like 07001"
    write(tmp_path / "areas.csv", AREAS + "07003,Brindmoor,county,QM,North,High,one more\n")
    assert refusal(tmp_path) == "areas.csv, row 3: 7 cells under 6 headings"


@pytest.mark.parametrize("data", [b"area_code,name,state\n07001,Ca\xf1ada,QM\n", b'area_code,name,state\n07001,"x\n'])
def test_a_file_that_is_no_csv(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "areas.csv").write_bytes(data)
    assert refusal(tmp_path).startswith("areas.csv: cannot be read as a UTF-8 CSV file: ")


def test_problems_of_all_files_come_together_and_no_book_is_left(tmp_path: Path) -> None:
    write(tmp_path / "areas.csv", AREAS + "1,x,county,QM,,\n")
    write(tmp_path / "seasons.csv", "season,starts_on,ends_on\nx,2024-07-01,2025-06-30\n")
    with pytest.raises(ReferenceRefused) as refused:
        make_book(tmp_path / "book.duckdb", files_in(tmp_path))
    assert [line.split(",")[0] for line in str(refused.value).splitlines()] == [
        str(tmp_path / "areas.csv"), str(tmp_path / "seasons.csv"),
    ]  # fmt: skip
    assert sorted(path.name for path in tmp_path.iterdir()) == ["areas.csv", "seasons.csv"]


def test_tables_that_do_not_fit_together_leave_no_book_either(tmp_path: Path) -> None:
    write(tmp_path / "areas.csv", AREAS)
    write(tmp_path / "area_aliases.csv", "alias,area_code\nOld Abberlow,07999\n")
    with pytest.raises(ReferenceRefused) as refused:
        make_book(tmp_path / "book.duckdb", files_in(tmp_path))
    assert str(refused.value) == (
        f"{tmp_path / 'area_aliases.csv'}, row 2, area_code: found '07999'; expected the code of an area"
    )
    assert not (tmp_path / "book.duckdb").exists()


def test_good_files_fill_the_tables(tmp_path: Path) -> None:
    write(tmp_path / "areas.csv", "\ufeff" + AREAS)
    write(tmp_path / "area_aliases.csv", "alias,area_code\nOld Abberlow,07001\n")
    write(tmp_path / "minimums.csv", MINIMUM)
    book = tmp_path / "book.duckdb"
    assert make_book(book, files_in(tmp_path)) == {"area": 1, "area_alias": 1, "record_book": 1, "minimum": 1}
    assert query(book, "SELECT * FROM area") == [("07001", "Abberlow", "county", "QM", "North", "High")]
    assert query(book, "SELECT * FROM area_alias") == [("Old Abberlow", "07001")]
    assert query(book, "SELECT * FROM minimum") == [("B", "whitetail-typical", "any", 1004, "2020-21", None, "any")]
    assert query(book, "SELECT kind, about, reason FROM event ORDER BY event_no") == [
        ("reference", table, "the book was made") for table in ("area", "area_alias", "record_book", "minimum")
    ]


def test_several_tables_in_one_toml_file_with_native_values(tmp_path: Path) -> None:
    path = write(tmp_path / "everything.toml", TOML)
    assert (
        sources([path]) == sources([tmp_path]) == dict.fromkeys(["record_book", "minimum", "measurer", "effort"], path)
    )
    found = read_all(sources([path]))
    book = found["record_book"][0].values
    assert [book[name] for name in ("takes_found", "drying_days", "weapons", "certificates")] == [
        False, 90, ["rifle", "shotgun", "handgun", "bow"], ["official", "club"],
    ]  # fmt: skip
    assert found["minimum"][0].values["minimum_units"] == 1000
    assert found["minimum"][0].place == f"{path}, [[minimum]] 1"
    assert found["measurer"][0].values["measurer_no"] == "12"
    assert found["measurer"][0].values["certified_from"] == date(2020, 3, 1)
    assert found["effort"][0].values["square_miles"] == Decimal("2093.9")
    assert found["effort"][0].values["area_code"] == "46113"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('[[season]]\nseason = "2024-25"\nstarts_on = 2024-07-01\nends_on = 2025-06-30\n[[season]]\nseason = "2025"\n'
         "starts_on = 2025-07-01\nends_on = 2026-06-30",
         "books.toml, [[season]] 2, season: found '2025'; expected a season like 2024-25"),
        ('[[season]]\nseason = "2024-25"\nstarts_on = true\nends_on = 2025-06-30',
         "books.toml, [[season]] 1, starts_on: found 'True'; expected a date like 2024-07-01"),
        ('[[area_alias]]\nalias = ["x"]\narea_code = "07001"',
         "books.toml, [[area_alias]] 1, alias: found '[\\'x\\']'; expected a text"),
        ('[[area_alias]]\nalias = "x"\narea_code = "07001"\nnote = "y"',
         "books.toml, [[area_alias]] 1, note: the table has no such field; expected: alias, area_code"),
        ('[[minimums]]\nbook = "B"', f"books.toml: found 'minimums'; expected rows like [[minimum]], of the tables: {', '.join(TABLES)}"),
        ('[minimum]\nbook = "B"', f"books.toml: found 'minimum'; expected rows like [[minimum]], of the tables: {', '.join(TABLES)}"),
        ("[[minimum]]\nbook = B", "books.toml: cannot be read as TOML: Invalid value (at line 2, column 8)"),
    ],
)  # fmt: skip
def test_problems_of_a_toml_file_name_the_element_and_the_field(tmp_path: Path, text: str, message: str) -> None:
    found = refusal(tmp_path, write(tmp_path / "books.toml", text))
    assert found.replace('"', "'").replace("'['x']'", "'[\\'x\\']'") == message
    assert refusal(tmp_path) == refusal(tmp_path, tmp_path / "books.toml")


def test_a_table_given_twice_is_refused(tmp_path: Path) -> None:
    both = write(tmp_path / "minimums.csv", MINIMUM), write(tmp_path / "rules.toml", TOML)
    message = "minimums.csv and rules.toml: both hold the table minimum; give it once"
    assert refusal(tmp_path) == refusal(tmp_path, *both) == message
    other = write(tmp_path / "copy.csv", MINIMUM)
    assert refusal(tmp_path, both[0], other) == "minimums.csv and copy.csv: both hold the table minimum; give it once"
    assert sources([both[0], both[0]]) == {"minimum": both[0]}


@pytest.mark.parametrize("table", FILES)
def test_a_file_of_any_name_is_told_by_its_headings(tmp_path: Path, table: str) -> None:
    fields = TABLES[table].model.model_fields
    needed = [name for name, field in fields.items() if field.is_required()]
    for headings in (fields, needed):
        assert sources([write(tmp_path / "from the club.csv", ",".join(headings) + "\n")]) == {
            table: tmp_path / "from the club.csv"
        }
    upper = tmp_path / FILES[table].upper()
    assert sources([write(upper, "no,matter\n")]) == {table: upper}


def test_a_file_that_fits_no_table_names_the_choices(tmp_path: Path) -> None:
    path = write(tmp_path / "clubs.csv", "club_no,name,district\n")
    assert refusal(tmp_path, path) == (
        f"clubs.csv: neither its name nor its headings say which table it is; name it as one of: {NAMES}"
    )
    assert refusal(tmp_path) == f"FOLDER: holds none of the reference files ({NAMES}, or TOML)"
    write(tmp_path / "pyproject.toml", "[project]\nname = 'x'\n")  # anybody's
    assert files_in(tmp_path) == {}


def test_a_folder_means_every_such_file_in_it(tmp_path: Path) -> None:
    areas, rules = (
        write(tmp_path / "areas.csv", AREAS),
        write(tmp_path / "rules.toml", '[[area_alias]]\nalias="x"\narea_code="07001"'),
    )
    write(tmp_path / "clubs.csv", "club_no,name,district\n")
    assert sources([tmp_path]) == {"area": areas, "area_alias": rules}
    assert read_reference("area_alias", rules)[0].values == {"alias": "x", "area_code": "07001"}
