"""The colours stand apart enough to be read (WCAG 2.2, 1.4.3 and 1.4.11: formula from memory)."""

import tomllib
from pathlib import Path
from typing import Any

import altair as alt
import pytest

from dashboards import theme
from dashboards.serve import ALLOWED_HOSTS, SETTINGS

CONFIG = Path(__file__).parents[2] / ".streamlit" / "config.toml"
INK_OF_CAPTIONS = 0.6  # the share of the text colour in captions and column heads of Streamlit 1.67


def channels(colour: str) -> tuple[float, ...]:
    return tuple(int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))


def luminance(colour: tuple[float, ...]) -> float:
    parts = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(front: tuple[float, ...], back: tuple[float, ...]) -> float:
    light, dark = sorted((luminance(front), luminance(back)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def mixed(front: str, back: str, share: float) -> tuple[float, ...]:
    return tuple(share * one + (1 - share) * two for one, two in zip(channels(front), channels(back), strict=True))


def test_white_on_black_is_21_to_1() -> None:
    assert contrast((1.0, 1.0, 1.0), (0.0, 0.0, 0.0)) == pytest.approx(21)


@pytest.mark.parametrize(
    ("front", "back"),
    [
        (theme.INK, theme.PAPER), (theme.INK, theme.PANEL), (theme.FADED, theme.PAPER), (theme.SPRUCE, theme.PAPER),
        (theme.MIST, theme.NIGHT), (theme.INK, theme.ERROR_TINT), (theme.INK, theme.QUESTION_TINT),
        (theme.ERROR_INK, theme.ERROR_TINT), (theme.QUESTION_INK, theme.QUESTION_TINT),
        (theme.SUSPECT_INK, theme.SUSPECT_TINT), (theme.INK, theme.SUSPECT_TINT),
        (theme.NOTICE_INK, theme.NOTICE_TINT),
    ],
)  # fmt: skip
def test_text_is_legible(front: str, back: str) -> None:
    assert contrast(channels(front), channels(back)) >= 4.5


@pytest.mark.parametrize("back", [theme.PAPER, theme.PANEL])
def test_captions_and_column_heads_are_legible(back: str) -> None:
    assert contrast(mixed(theme.INK, back, INK_OF_CAPTIONS), channels(back)) >= 4.5


@pytest.mark.parametrize(
    "colour", [*theme.WEAPON_COLOURS.values(), *theme.SEVERITY_COLOURS.values(), *theme.CATEGORY_COLOURS]
)
def test_marks_stand_out_from_the_paper(colour: str) -> None:
    assert contrast(channels(colour), channels(theme.PAPER)) >= 3


def test_altair_draws_in_our_colours() -> None:
    assert alt.theme.active == "beamledger"
    config: Any = theme.chart_theme()["config"]
    assert config["bar"]["color"] == theme.SPRUCE
    assert config["background"] == theme.PAPER


def test_the_configuration_file_repeats_the_flags() -> None:
    content = tomllib.loads(CONFIG.read_text(encoding="utf-8"))
    flags = {**SETTINGS, **theme.STREAMLIT_THEME}
    assert content["server"].pop("allowedHosts") == list(ALLOWED_HOSTS)
    assert flattened(content) == flags


def flattened(content: dict[str, Any], before: str = "") -> dict[str, str]:
    found: dict[str, str] = {}
    for name, value in content.items():
        if isinstance(value, dict):
            found |= flattened(value, f"{before}{name}.")
        else:
            found[before + name] = value if isinstance(value, str) else str(value).lower().replace("'", '"')
    return found
