"""Lists of counties as the US Census Bureau gives them away. Layout, rows and class codes from memory; INCITS 31 codes."""

from pathlib import Path

import pytest

from loaders.census_counties import COLUMNS, name_and_kind
from loaders.reference_files import read_reference, sources
from warehouse.errors import ReferenceRefused

COMMA = "AL,01,001,Autauga County,H1\nMO,29,189,St. Louis County,H1\nMO,29,510,St. Louis city,C7\nNM,35,013,Doña Ana County,H1\n"
PIPE = (
    "AL|01|001|00161526|Autauga County|H1|A\nMO|29|189|00765810|St. Louis County|H1|A\nMO|29|510|00767557|St. Louis city|C7|F\n"
    "NM|35|013|00929108|Doña Ana County|H1|A\n"
)
FOUND = [
    ("01001", "Autauga", "county", "AL"), ("29189", "St. Louis", "county", "MO"), ("29510", "St. Louis city", "city", "MO"),
    ("35013", "Doña Ana", "county", "NM"),
]  # fmt: skip
FILES = {
    "comma without headings": COMMA.encode(),
    "comma with headings": f"STATE,STATEFP,COUNTYFP,COUNTYNAME,CLASSFP\n{COMMA}".encode(),
    "comma, cp1252, lines of two signs": COMMA.replace("\n", "\r\n").encode("cp1252"),
    "pipe with headings": f"STATE|STATEFP|COUNTYFP|COUNTYNS|COUNTYNAME|CLASSFP|FUNCSTAT\n{PIPE}".encode(),
    "pipe, byte order mark": f"\ufeffSTATE|STATEFP|COUNTYFP|COUNTYNS|COUNTYNAME|CLASSFP|FUNCSTAT\n{PIPE}\n".encode(),
    "pipe without headings": PIPE.encode(),
}


@pytest.mark.parametrize("kind", FILES)
def test_a_list_is_read_as_areas(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "national.txt"
    path.write_bytes(FILES[kind])
    rows = [row.values for row in read_reference("area", path)]
    assert [(row["area_code"], row["name"], row["kind"], row["state"]) for row in rows] == FOUND
    assert {(row["district"], row["region"]) for row in rows} == {("", "")}
    assert sources([path]) == {"area": path}


@pytest.mark.parametrize(
    ("written", "name", "kind"),
    [
        ("Orleans Parish", "Orleans", "parish"), ("Kenai Peninsula Borough", "Kenai Peninsula", "borough"),
        ("Nome Census Area", "Nome", "census area"), ("Anchorage Municipality", "Anchorage", "municipality"),
        ("Añasco Municipio", "Añasco", "municipio"), ("Juneau City and Borough", "Juneau", "city and borough"),
        ("Capitol Planning Region", "Capitol", "planning region"), ("Carson City", "Carson City", "city"),
        ("Baltimore city", "Baltimore city", "city"), ("James City County", "James City", "county"),
        ("District of Columbia", "District of Columbia", "county equivalent"), ("Guam", "Guam", "county equivalent"),
        ("St. Croix Island", "St. Croix Island", "island"), ("Western District", "Western District", "district"),
    ],
)  # fmt: skip
def test_the_kind_is_in_the_names_last_words(written: str, name: str, kind: str) -> None:
    assert name_and_kind(written) == (name, kind)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (f"{COMMA}AL,01,003,Baldwin County\n", f"row 5: found 4 columns; expected 5: {','.join(COLUMNS[','])}"),
        (f"{COMMA}AL,01,3,Baldwin County,H1\n", "row 5, area_code: found '013'; expected five digits like 07001"),
        (f"{COMMA}AL,01,001,Autauga County,H1\n", "row 5, area_code: '01001' stands in row 1 already"),
        (
            f"{PIPE}|01|003|00161527|Baldwin County|H1|A\n",
            "row 5, state: found ''; expected two capital letters like QM",
        ),
    ],
)
def test_a_damaged_row_is_named(tmp_path: Path, text: str, message: str) -> None:
    path = tmp_path / "national.txt"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ReferenceRefused) as refused:
        read_reference("area", path)
    assert str(refused.value) == f"{path}, {message}"
