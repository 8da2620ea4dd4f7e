"""JSON Lines: one object a line, numbers by their own spelling."""

from pathlib import Path

import pytest

from tests.loaders.readers.reader_files import cells, codes, grids, one
from warehouse.errors import FileRefused

_EXPECTED = 'Expected one JSON object a line, such as {"entry_no": "17", "gross": "135 5/8"}.'


def test_values_keep_their_spelling(tmp_path: Path) -> None:
    data = (
        '{"a": 8.50, "b": true, "c": null, "d": "NA"}\n'
        '{"e": {"x": [1.0, "q\\"", null, true, {}]}, "a": 12345678901234567890, "b": false}\r\n'
        '{"a": 1e2, "d": "", "e": "  é ½ "}'
    )
    grid = one(tmp_path, data.encode(), "t.jsonl")
    assert grid.headings == ("a", "b", "c", "d", "e")
    assert cells(grid) == [
        (1, "8.50", "TRUE", None, "NA", None),
        (2, "12345678901234567890", "FALSE", None, None, '{"x": [1.0, "q\\"", null, true, {}]}'),
        (3, "1e2", None, None, None, "  é ½ "),
    ]
    assert (grid.sheet, grid.notices) == (None, ())


def test_blank_lines_are_counted(tmp_path: Path) -> None:
    grid = one(tmp_path, b'\xef\xbb\xbf{"a": 1}\n\n  \n{"a": null}\n{"a": 2}\n', "t.ndjson")
    assert cells(grid) == [(1, "1"), (5, "2")]
    assert codes(grid) == [("rows-blank", "note")]
    assert grid.notices[0].message == (
        "t.ndjson: 3 blank rows (2, 3, 4) were left out; row numbers stay the file's own."
    )


def test_separators_inside_texts_are_no_line_ends(tmp_path: Path) -> None:
    assert cells(one(tmp_path, '{"a": "x\u2028y\u0085z"}\n'.encode(), "t.jsonl")) == [(1, "x\u2028y\u0085z")]


def test_keys_that_appear_late(tmp_path: Path) -> None:
    data = b'{"a": 1}\n' * 25_000 + b'{"b": 2}\n'
    grid = one(tmp_path, data, "t.jsonl")
    assert (grid.rows.height, grid.headings, cells(grid)[-1]) == (25_001, ("a", "b"), (25_001, None, "2"))
    assert grid.rows["c1"].null_count() == 25_000


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ('{"a":1}\n[2]\n', "line 2, column 1 is no JSON object: '[2]'"),
        ('{"a":1}\n\n "x"\n', "line 3, column 2 is no JSON object: '\"x\"'"),
        ('{"a":1}\n{"a": tru}\n', "line 2, column 7 is no JSON (Expecting value): 'tru}'"),
        ('{"a":1} {"a":2}\n', "line 1, column 9 is no JSON (Extra data): '{\"a\":2}'"),
        ('{"a":1,"b":2,"a":3}\n', 'line 1, column 1 has the key \'a\' twice: \'{"a":1,"b":2,"a":3}\''),
        ('{"a":NaN}\n', "line 1, column 1 holds NaN, which is no JSON: '{\"a\":NaN}'"),
        ('{"a":"\\ud800"}\n', 'line 1, column 1 holds half of a surrogate pair: \'{"a":"\\ud800"}\''),
        ("a,b\n", "line 1, column 1 is no JSON (Expecting value): 'a,b'"),
    ],
)
def test_refused_lines(tmp_path: Path, text: str, found: str) -> None:
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, text.encode(), "t.jsonl")
    assert str(refused.value) == f"t.jsonl: {found}. {_EXPECTED} Correct that line and load the file again."


@pytest.mark.parametrize("text", ['[{"a": 1}, {"a": 2}]', '\n[\n  {"a": 1}\n]\n'])
def test_an_array_says_how_to_become_lines(tmp_path: Path, text: str) -> None:
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, text.encode(), "t.json")
    assert str(refused.value) == (
        f"t.json: the file is a JSON array. {_EXPECTED} Write each object of the array on a line of its own, without "
        "the brackets and the commas between objects."
    )


def test_deep_nesting_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, b'{"a":' + b"[" * 60_000 + b"]" * 60_000 + b"}", "t.jsonl")
    assert str(refused.value) == (
        f"t.jsonl: line 1, column 1 is nested too deeply: '{{\"a\":{'[' * 55}…'. {_EXPECTED} "
        "Correct that line and load the file again."
    )


def test_too_many_keys(tmp_path: Path) -> None:
    data = "\n".join(f'{{"k{number}": 1}}' for number in range(4097))
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, data.encode(), "t.jsonl")
    assert str(refused.value) == (
        "t.jsonl: by line 4097 there are 4,097 different keys. Expected at most 4,096. Use the same keys on every line."
    )


def test_long_values(tmp_path: Path) -> None:
    with pytest.raises(FileRefused) as refused:
        grids(tmp_path, b'{"a": 1, "b": "' + b"x" * 65_537 + b'"}\n', "t.jsonl")
    assert str(refused.value) == (
        "t.jsonl: row 1, column 2 is a cell of 65,537 bytes. Expected at most 65,536 bytes in a cell. "
        "Look there for a quotation mark that is not closed, or shorten the cell."
    )


def test_an_old_code_page(tmp_path: Path) -> None:
    grid = one(tmp_path, '{"a": "Cañon"}\n'.encode("cp1252"), "t.jsonl")
    assert (cells(grid), codes(grid)) == ([(1, "Cañon")], [("encoding-guessed", "question")])
