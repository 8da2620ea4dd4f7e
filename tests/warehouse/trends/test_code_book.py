from warehouse.trends.code_book import CODE_BOOK


def test_every_column_has_a_unit_and_a_meaning_of_one_line() -> None:
    columns = [(file, name, column) for file, named in CODE_BOOK.items() for name, column in named.items()]
    assert len(columns) > 100
    assert [
        (file, name) for file, name, column in columns if not column.unit.strip() or not column.meaning.strip()
    ] == []
    assert [name for _, name, column in columns if "\n" in column.unit + column.meaning] == []


def test_a_column_means_the_same_in_every_file() -> None:
    shared = CODE_BOOK["districts.csv"].keys() & CODE_BOOK["areas.csv"].keys()
    assert [name for name in shared if CODE_BOOK["districts.csv"][name] != CODE_BOOK["areas.csv"][name]] == []
