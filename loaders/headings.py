"""The sender's headings matched to our fields, through the trade's common variants.

A heading no variant matches is never dropped: it is reported with the closest fields, and its cells stay in the
row as received. A saved mapping (heading -> field) goes before the variants.
"""

import difflib
import re
import tomllib
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

from loaders.fields import all_fields
from loaders.readers.grid import Notice
from warehouse.errors import MappingRefused
from warehouse.plain_text import shown

SIDES = {"r": "_r", "l": "_l", "diff": "_diff"}
SUGGESTIONS = 2
SUGGESTION_CUTOFF = 0.6
IGNORE = "-"  # a saved mapping may say that a column is known and not wanted


@dataclass(frozen=True)
class HeadingMatch:
    """For each heading, in order: our field, or None where none matched; and what must be told about it."""

    fields: tuple[str | None, ...]
    notices: tuple[Notice, ...]


@cache
def _words() -> dict[str, Any]:
    text = files("loaders").joinpath("heading_words.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@lru_cache(maxsize=20_000)
def _key(heading: str) -> str:
    """A heading's words, one spelling each, sorted: what two headings for one field have in common."""
    plain = unicodedata.normalize("NFKD", heading).lower()
    plain = "".join(sign for sign in plain if not unicodedata.combining(sign))
    words = re.findall(r"[a-z]+|\d+[a-z]*", re.sub(r"['’]", "", plain))
    spelled = [_words()["words"].get(word, word) for word in words]
    joined = re.sub(r"\b([ghc]) (\d)\b", r"\1\2", " ".join(word for word in spelled if word))
    return " ".join(sorted(set(joined.split())))


@cache
def _known() -> dict[str, str]:
    """Key -> field, for every field and every variant."""
    known: dict[str, str] = {}
    for line, phrases in _words()["lines"].items():
        for phrase in phrases:
            known.setdefault(_key(phrase), line)
            for side, ending in SIDES.items():
                known.setdefault(_key(f"{phrase} {side}"), f"{line}{ending}")
    for field, phrases in _words()["fields"].items():
        known.update({_key(phrase): field for phrase in phrases})
    known.update({_key(field.replace("_", " ")): field for field in all_fields()})
    return {key: field for key, field in known.items() if field in all_fields()}


def field_of(heading: str | None, saved: Mapping[str, str] | None = None) -> str | None:
    """Our field for one heading, None where no variant matches (or a saved mapping sets the column aside)."""
    if heading is None or not heading.strip():
        return None
    if saved and heading.strip() in saved:
        return None if saved[heading.strip()] == IGNORE else saved[heading.strip()]
    return _known().get(_key(heading))


@cache
def _lines() -> dict[str, str]:
    return {_key(phrase): line for line, phrases in _words()["lines"].items() for phrase in phrases}


def line_of(label: str | None) -> str | None:
    """The sheet line a label names without a side ("Main beam" -> "beam"), for forms and two-row headings."""
    return _lines().get(_key(label)) if label else None


def side_of(label: str | None) -> str | None:
    """ "_r", "_l" or "_diff" where a label names a side or the difference alone."""
    return SIDES.get(_key(label)) if label else None


def suggestions(heading: str) -> list[str]:
    """The fields whose names or variants look most like `heading`, best first; often none."""
    close = difflib.get_close_matches(_key(heading), list(_known()), n=6, cutoff=SUGGESTION_CUTOFF)
    return list(dict.fromkeys(_known()[key] for key in close))[:SUGGESTIONS]


def check_mapping(mapping: Mapping[str, str], name: str) -> None:
    """Raise MappingRefused where a mapping names a field that is not one of ours."""
    wrong = sorted({field for field in mapping.values() if field != IGNORE and field not in all_fields()})
    if wrong:
        raise MappingRefused(
            f"mapping '{shown(name)}': unknown field {', '.join(map(shown, wrong))}; "
            f"expected one of: {', '.join(all_fields())}, or '{IGNORE}' for a column that is not wanted"
        )


def match_headings(headings: Sequence[str | None], saved: Mapping[str, str] | None = None) -> HeadingMatch:
    """Match every heading. A field that two columns claim is given to neither, and reported as an error."""
    found = [field_of(heading, saved) for heading in headings]
    twice = {field for field in found if field is not None and found.count(field) > 1}
    notices = [_claimed_twice(field, headings, found) for field in sorted(twice)]
    for heading, field in zip(headings, found, strict=True):
        set_aside = bool(saved) and heading is not None and saved is not None and saved.get(heading.strip()) == IGNORE
        if field is None and heading is not None and heading.strip() and not set_aside:
            notices.append(_unmatched(heading))
    return HeadingMatch(tuple(None if field in twice else field for field in found), tuple(notices))


def _claimed_twice(field: str, headings: Sequence[str | None], found: Sequence[str | None]) -> Notice:
    names = [f"'{shown(heading or '', 60)}'" for heading, match in zip(headings, found, strict=True) if match == field]
    message = f"Columns {' and '.join(names)} both mean {field}; neither was used. Rename one, or say which with --map"
    return Notice("column-twice", "error", message, column=field)


def _unmatched(heading: str) -> Notice:
    close = suggestions(heading)
    hint = f"did you mean {' or '.join(close)}? " if close else ""
    unseen = (
        "" if heading.isprintable() else f" (code points {' '.join(f'U+{ord(sign):04X}' for sign in heading[:20])})"
    )
    name = shown(heading, 60)
    message = (
        f"Column '{name}'{unseen} matches no field; its cells are kept as received but not read: "
        f"{hint}use --map '{name}'=FIELD"
    )
    return Notice("column-unmatched", "question", message, column=name)
