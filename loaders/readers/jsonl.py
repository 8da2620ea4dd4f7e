"""Read JSON Lines: one object a line, each key a column, numbers by their own spelling.

A file that is one JSON array of objects is refused with the way to turn it into lines: an array has no rows
whose number a person could find again.
"""

import json
from typing import Any, NoReturn

import polars as pl

from loaders.readers import limits
from loaders.readers.encoding import to_utf8
from loaders.readers.finish import finish
from loaders.readers.grid import Grid
from loaders.readers.source import Source
from warehouse.plain_text import shown

_EXPECTED = 'one JSON object a line, such as {"entry_no": "17", "gross": "135 5/8"}'


class Literal(str):
    """A number as the file spells it (`8.50`), told from a text when nested values are written out again."""


def read_jsonl(source: Source) -> Grid:
    """Read `source` as JSON Lines: headings are all keys in order of appearance, `row` is the line number.

    Texts come as they are, numbers by their literal text, true and false as TRUE and FALSE, null as an empty
    cell, nested values as JSON text. Raises FileRefused naming line and column of what is no object, and
    repeated keys.
    """
    data, notices = to_utf8(source)
    lines = data.removeprefix(b"\xef\xbb\xbf").decode("utf-8").replace("\r\n", "\n").split("\n")
    if lines[-1] == "":
        lines.pop()
    _refuse_array(source, lines)
    rows, headings, blank = _collect(source, lines)
    return finish(source, rows, len(lines), notices, headings=headings, unlisted=blank)


def _refuse_array(source: Source, lines: list[str]) -> None:
    first = next((line for line in lines if line.strip()), "").lstrip()
    if first.startswith("["):
        raise source.refused(
            "the file is a JSON array",
            _EXPECTED,
            "Write each object of the array on a line of its own, without the brackets and the commas between objects",
        )


def _collect(source: Source, lines: list[str]) -> tuple[pl.DataFrame, tuple[str, ...], int]:
    columns: dict[str, int] = {}
    frames: list[pl.DataFrame] = []
    blank = 0
    for start in range(0, len(lines), limits.CHUNK_ROWS):
        chunk = [
            (number, line)
            for number, line in enumerate(lines[start : start + limits.CHUNK_ROWS], start + 1)
            if line.strip()
        ]
        blank += min(limits.CHUNK_ROWS, len(lines) - start) - len(chunk)
        records = [_record(source, number, line) for number, line in chunk]
        _add_columns(source, columns, records, chunk)
        frames.append(_frame(columns, [number for number, _ in chunk], records))
    rows = pl.concat(frames, how="diagonal") if frames else pl.DataFrame({"row": pl.Series([], dtype=pl.Int32)})
    return rows, tuple(columns), blank


def _add_columns(
    source: Source,
    columns: dict[str, int],
    records: list[dict[str, str | None]],
    chunk: list[tuple[int, str]],
) -> None:
    for (number, _), record in zip(chunk, records, strict=True):
        for key in record:
            columns.setdefault(key, len(columns))
        if len(columns) > limits.MAX_COLUMNS:
            raise source.refused(
                f"by line {number} there are {len(columns):,} different keys",
                f"at most {limits.MAX_COLUMNS:,}",
                "Use the same keys on every line",
            )


def _frame(columns: dict[str, int], numbers: list[int], records: list[dict[str, str | None]]) -> pl.DataFrame:
    series = [
        pl.Series(f"c{at}", [record.get(key) for record in records], dtype=pl.String) for key, at in columns.items()
    ]
    return pl.DataFrame([pl.Series("row", numbers, dtype=pl.Int32), *series])


def _record(source: Source, number: int, line: str) -> dict[str, str | None]:
    try:
        value = _DECODER.decode(line)
        record = (
            {key: (item or None) if type(item) is str else _cell(item) for key, item in value.items()}
            if isinstance(value, dict)
            else None
        )
        if "\\u" in line:
            json.dumps(value, ensure_ascii=False).encode("utf-8")
    except UnicodeEncodeError as fault:
        raise _broken(source, number, line, 1, "holds half of a surrogate pair") from fault
    except json.JSONDecodeError as fault:
        raise _broken(source, number, line, fault.colno, f"is no JSON ({fault.msg})") from fault
    except (ValueError, RecursionError) as fault:
        reason = str(fault) if isinstance(fault, ValueError) else "is nested too deeply"
        raise _broken(source, number, line, 1, reason) from fault
    if record is None:
        raise _broken(source, number, line, len(line) - len(line.lstrip()) + 1, "is no JSON object")
    return record


def _broken(source: Source, number: int, line: str, column: int, what: str) -> Exception:
    found = shown(line[max(column - 1, 0) :], limits.SHOWN_CHARACTERS)
    return source.refused(
        f"line {number}, column {column} {what}: '{found}'",
        _EXPECTED,
        "Correct that line and load the file again",
    )


def _cell(value: Any) -> str | None:
    if isinstance(value, str):
        return str(value) or None
    if value is None:
        return None
    return _word(value).upper() if isinstance(value, bool) else _json_text(value)


def _word(value: bool) -> str:
    return "true" if value else "false"


def _json_text(value: Any) -> str:
    # json.dumps would write a number kept by its spelling as a text in quotation marks.
    if isinstance(value, dict):
        return (
            "{"
            + ", ".join(f"{json.dumps(key, ensure_ascii=False)}: {_json_text(item)}" for key, item in value.items())
            + "}"
        )
    if isinstance(value, list):
        return "[" + ", ".join(_json_text(item) for item in value) + "]"
    if isinstance(value, Literal):
        return str(value)
    if isinstance(value, bool):
        return _word(value)
    return "null" if value is None else json.dumps(value, ensure_ascii=False)


def _unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [key for key, _ in pairs]
        twice = next(key for key in names if names.count(key) > 1)
        raise ValueError(f"has the key '{shown(twice, limits.SHOWN_CHARACTERS)}' twice")
    return found


def _no_constant(word: str) -> NoReturn:
    raise ValueError(f"holds {word}, which is no JSON")


_DECODER = json.JSONDecoder(
    object_pairs_hook=_unique, parse_float=Literal, parse_int=Literal, parse_constant=_no_constant
)
