from pathlib import Path

import pytest

from dashboards.commands import make_book
from loaders.reference_files import FILES, files_in, read_reference
from tests.book_builder import new_book, query
from warehouse.book import database, reference
from warehouse.categories import all_categories
from warehouse.errors import ReferenceRefused

AREAS = "area_code,name,kind,state,district,region\n07001,Abberlow,county,QM,North,High\n"


def refusal(table: str, path: Path, text: str, areas: set[str] | None = None) -> str:
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ReferenceRefused) as refused:
        read_reference(table, path, areas)
    return str(refused.value).replace(str(path), path.name)


def test_every_bad_row_is_named_in_one_message(tmp_path: Path) -> None:
    text = AREAS + (
        "7003,Brindmoor,county,QM,North,High\n"
        "07005,,county,QM,North,High\n"
        "\n"
        "07001,Abberlow again,county,QM,North,High\n"
        "07009,Dunmarsh,county,Quillmark,North,High\n"
    )
    assert refusal("area", tmp_path / "areas.csv", text).splitlines() == [
        "areas.csv, row 3, area_code: found '7003'; expected five digits like 07001",
        "areas.csv, row 4, name: found ''; expected a text",
        "areas.csv, row 6, area_code: '07001' stands in row 2 already",
        "areas.csv, row 7, state: found 'Quillmark'; expected two capital letters like QM",
    ]


@pytest.mark.parametrize(
    ("table", "text", "message"),
    [
        ("season", "season,starts_on,ends_on\n2024-25,2025-06-30,2024-07-01\n",
         "seasons.csv, row 2, row: ends_on 2024-07-01 is not after starts_on 2025-06-30"),
        ("season", "season,starts_on,ends_on\n2024,2024-07-01,2025-06-30\n",
         "seasons.csv, row 2, season: found '2024'; expected a season like 2024-25"),
        ("measurer", "measurer_no,name,certified_from,certified_to\nM-1,Ann,2020-02-30,\n",
         "measurers.csv, row 2, certified_from: found '2020-02-30'; expected a date like 2024-07-01"),
        ("measurer", "measurer_no,name,certified_from,certified_to\nM-1,Ann,2020-03-01,2019-03-01\n",
         "measurers.csv, row 2, row: certified_to 2019-03-01 is before certified_from 2020-03-01"),
        ("area_alias", "alias,area_code\nOld Abberlow,07999\n",
         "area_aliases.csv, row 2, area_code: found '07999'; expected the code of an area"),
        ("minimum", "book,category,weapon_class,minimum,first_season\nB,moose,any,100 0/8,2020-21\n",
         "minimums.csv, row 2, row: category 'moose' is not known; expected one of: " + ", ".join(all_categories())),
        ("minimum", "book,category,weapon_class,minimum,first_season\nB,whitetail-typical,sling,100 0/8,2020-21\n",
         "minimums.csv, row 2, row: weapon_class 'sling' is not known; expected one of: any, firearm, muzzleloader, bow, crossbow, found"),
        ("minimum", "book,category,weapon_class,minimum,first_season,last_season\nB,whitetail-typical,any,9 0/8,2020-21,2019-20\n",
         "minimums.csv, row 2, row: last_season 2019-20 is before first_season 2020-21"),
        ("area", AREAS + "07003,Brindmoor,county,QM,North,High,one more\n", "areas.csv, row 3: 7 cells under 6 headings"),
    ],
)  # fmt: skip
def test_what_a_row_must_keep_to(tmp_path: Path, table: str, text: str, message: str) -> None:
    assert refusal(table, tmp_path / FILES[table], text, {"07001"}) == message


def test_a_minimum_that_is_no_length(tmp_path: Path) -> None:
    text = "book,category,weapon_class,minimum,first_season\nB,whitetail-typical,any,125.5,2020-21\n"
    message = refusal("minimum", tmp_path / "minimums.csv", text)
    assert message.startswith("minimums.csv, row 2, row: ")
    assert "125.5" in message


@pytest.mark.parametrize(
    "headings", ["area_code,name", "area_code,name,state,colour", "area_code,name,state,state", ""]
)
def test_headings_are_checked_once_for_the_file(tmp_path: Path, headings: str) -> None:
    message = refusal("area", tmp_path / "areas.csv", headings + "\n07001,Abberlow\n" if headings else "")
    found = headings.replace(",", ", ") or "(none)"
    assert message == (
        f"areas.csv, row 1: found the columns {found}; expected: area_code, name, kind, state, district, region, each once"
    )


@pytest.mark.parametrize("data", [b"area_code,name,state\n07001,Ca\xf1ada,QM\n", b'area_code,name,state\n07001,"x\n'])
def test_a_file_that_is_no_csv(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "areas.csv"
    path.write_bytes(data)
    with pytest.raises(ReferenceRefused, match=r"areas\.csv: cannot be read as a UTF-8 CSV file: "):
        read_reference("area", path)


def test_a_long_list_of_problems_is_cut_and_counted(tmp_path: Path) -> None:
    text = "alias,area_code\n" + "x,1\n" * 25
    lines = refusal("area_alias", tmp_path / "area_aliases.csv", text).splitlines()
    assert len(lines) == 21
    assert lines[-1] == "... and 5 more"


def test_problems_of_all_files_come_together_and_no_book_is_left(tmp_path: Path) -> None:
    (tmp_path / "areas.csv").write_text(AREAS + "1,x,county,QM,,\n")
    (tmp_path / "seasons.csv").write_text("season,starts_on,ends_on\nx,2024-07-01,2025-06-30\n")
    book = tmp_path / "book.duckdb"
    with pytest.raises(ReferenceRefused) as refused:
        make_book(book, files_in(tmp_path))
    assert [line.split(",")[0] for line in str(refused.value).splitlines()] == [
        str(tmp_path / "areas.csv"), str(tmp_path / "seasons.csv"),
    ]  # fmt: skip
    assert sorted(path.name for path in tmp_path.iterdir()) == ["areas.csv", "seasons.csv"]


def test_good_files_fill_the_tables(tmp_path: Path) -> None:
    (tmp_path / "areas.csv").write_text("\ufeff" + AREAS, encoding="utf-8")
    (tmp_path / "area_aliases.csv").write_text("alias,area_code\nOld Abberlow,07001\n")
    (tmp_path / "minimums.csv").write_text(
        "book,category,weapon_class,minimum,first_season,last_season\nB,whitetail-typical,any,125 4/8,2020-21,\n"
    )
    book = tmp_path / "book.duckdb"
    assert make_book(book, files_in(tmp_path)) == {"area": 1, "area_alias": 1, "minimum": 1}
    assert query(book, "SELECT * FROM area") == [("07001", "Abberlow", "county", "QM", "North", "High")]
    assert query(book, "SELECT * FROM area_alias") == [("Old Abberlow", "07001")]
    assert query(book, "SELECT * FROM minimum") == [("B", "whitetail-typical", "any", 1004, "2020-21", None)]


def test_the_weapon_classes_are_those_of_the_book(tmp_path: Path) -> None:
    rows = query(new_book(tmp_path), "SELECT DISTINCT weapon_class FROM weapon")
    assert {"any", *(name for (name,) in rows)} == set(reference.WEAPON_CLASSES)


def test_a_mapping_is_kept_under_its_name_and_replaced(tmp_path: Path) -> None:
    book = new_book(tmp_path)
    with database.writing(book) as connection:
        reference.save_mapping(connection, "club", {"Right Beam": "beam_r", "Land": "-"})
        reference.save_mapping(connection, "other", {"X": "net"})
        reference.save_mapping(connection, "club", {"Beam": "beam_r"})
    with database.reading(book) as connection:
        assert reference.read_mapping(connection, "club") == {"Beam": "beam_r"}
        assert reference.read_mapping(connection, "other") == {"X": "net"}
        assert reference.read_mapping(connection, "nobody") == {}
