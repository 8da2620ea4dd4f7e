"""Weapon and category words resolved to the book's own; anything else stays unresolved."""

import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from warehouse.categories import all_categories

UNCLEAR = "?"


def word_key(text: str) -> str:
    """Letters and digits in lower case: "Cross-bow " and "crossbow" are one word."""
    return re.sub(r"[^a-z0-9]", "", text.lower())


@cache
def _tables() -> dict[str, Any]:
    return tomllib.loads(files("loaders").joinpath("value_words.toml").read_text(encoding="utf-8"))


@cache
def _weapons() -> dict[str, str]:
    words = {word_key(word): weapon for weapon, words in _tables()["weapon"].items() for word in words}
    return words | {word_key(word): UNCLEAR for word in _tables()["unclear_weapon"]["words"]}


@cache
def _categories() -> dict[str, str]:
    words = {word_key(word): code for code, words in _tables()["category"].items() for word in words}
    return words | {word_key(code): code for code in all_categories()}


def weapon_of(text: str | None) -> str | None:
    """The weapon, UNCLEAR for a word that may mean several, None for no known word."""
    return _weapons().get(word_key(text)) if text else None


@cache
def _antler_states() -> dict[str, str]:
    return {word_key(word): state for state, words in _tables()["antler_state"].items() for word in words}


def antler_state_of(text: str | None) -> str | None:
    """ "hard" or "velvet"; None for no known word."""
    return _antler_states().get(word_key(text)) if text else None


def category_code_of(text: str | None) -> str | None:
    """The category's code, or None."""
    return _categories().get(word_key(text)) if text else None
