"""Every encoding, delimiter, line end and quoted line break together: the same grid, or one that is asked about."""

import csv
import io
from itertools import product
from pathlib import Path

import pytest

from tests.loaders.readers.reader_files import cells, one

TABLE = [
    ["entry_no", "hunter", "area", "note"],
    ["1", "José Núñez", "Cañon", "“wide” rack, broken; see card"],
    ["2", "Chloé Dubois", "Doña Ana", "owner’s copy | tab"],
    ["3", "Ann", "Ash", "plain"],
]
ENCODINGS = ["utf-8", "utf-8-sig", "utf-16-le", "utf-16-be", "cp1252", "mac_roman"]
MARKS = {"utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}
MATRIX = list(product(ENCODINGS, [",", ";", "\t", "|"], ["\n", "\r\n", "\r"], [False, True]))


def _file(encoding: str, delimiter: str, end: str, broken: bool) -> bytes:
    out = io.StringIO()
    # Python 3.11 leaves a line feed unquoted where lines end in CR, which no reader could tell from a row's end.
    if end == "\r":
        writer = csv.writer(out, delimiter=delimiter, lineterminator=end, quoting=csv.QUOTE_ALL)
    else:
        writer = csv.writer(out, delimiter=delimiter, lineterminator=end)
    writer.writerows([*TABLE, ["4", "Bo", "Elm", "two\nlines"]] if broken else TABLE)
    return MARKS.get(encoding, b"") + out.getvalue().encode(encoding)


def test_there_are_144_files() -> None:
    assert len(MATRIX) == 144


@pytest.mark.parametrize(("encoding", "delimiter", "end", "broken"), MATRIX)
def test_same_grid(tmp_path: Path, encoding: str, delimiter: str, end: str, broken: bool) -> None:
    grid = one(tmp_path, _file(encoding, delimiter, end, broken))
    expected = [*TABLE, ["4", "Bo", "Elm", "two\nlines"]] if broken else TABLE
    assert cells(grid) == [(row, *record) for row, record in enumerate(expected, start=1)]
    if encoding in ("cp1252", "mac_roman"):
        (notice,) = grid.notices
        name = {"cp1252": "Windows-1252 (cp1252)", "mac_roman": "MacRoman (mac_roman)"}[encoding]
        assert (notice.code, notice.severity) == ("encoding-guessed", "question")
        assert f"; the file was read as {name}, which gives '" in notice.message
        assert "José Núñez" in notice.message
    else:
        assert grid.notices == ()
