"""Every colour and letter of the pages and charts: the single source, for Streamlit and for Altair alike.

Text colours stand at 4.5:1 or more on the paper and on the panel, chart colours at 3:1 or more; a test computes it.
"""

from typing import Any

import altair as alt

PAPER = "#F7F8F4"
PANEL = "#E8ECE3"
INK = "#0B1416"  # Streamlit prints captions and column heads in six tenths of it: still 4.5:1
FADED = "#4F5B5A"  # axis titles, small print
RULE = "#C9D1C6"  # lines between rows
SPRUCE = "#1F5C57"
RUST = "#9C3F1C"
OCHRE = "#A86F0E"
SLATE = "#4A6A92"
BARK = "#7A7265"
PLUM = "#7B4B74"
NIGHT = "#1C3335"  # the side bar
MIST = "#E6EFEA"  # letters on the side bar
ERROR_TINT = "#F6D9D1"
ERROR_INK = "#8A1F12"
QUESTION_TINT = "#F5E6C4"
QUESTION_INK = "#6B4700"
SUSPECT_TINT = "#E7DCEA"
SUSPECT_INK = "#55284F"
NOTICE_TINT = "#D9E8E1"
NOTICE_INK = "#17453F"

WEAPON_COLOURS = {
    "firearm": SPRUCE,
    "muzzleloader": SLATE,
    "bow": OCHRE,
    "crossbow": RUST,
    "found": PLUM,
    None: BARK,
}
SEVERITY_COLOURS = {"error": RUST, "question": OCHRE, "note": SLATE}
STATUS_COLOURS = {"accepted": SPRUCE, "held": OCHRE, "refused": RUST, "withdrawn": SLATE, "merged": BARK}
CATEGORY_COLOURS = (SPRUCE, OCHRE, SLATE, RUST, PLUM, BARK)
LETTERS = "Source Sans, sans-serif"

# Streamlit's own names; `serve` passes them as flags and .streamlit/config.toml repeats them (a test compares).
STREAMLIT_THEME: dict[str, str] = {
    "theme.base": "light",
    "theme.primaryColor": SPRUCE,
    "theme.backgroundColor": PAPER,
    "theme.secondaryBackgroundColor": PANEL,
    "theme.textColor": INK,
    "theme.linkColor": SPRUCE,
    "theme.borderColor": RULE,
    "theme.dataframeBorderColor": RULE,
    "theme.dataframeHeaderBackgroundColor": PANEL,
    "theme.redTextColor": ERROR_INK,
    "theme.redBackgroundColor": ERROR_TINT,
    "theme.orangeTextColor": QUESTION_INK,
    "theme.orangeBackgroundColor": QUESTION_TINT,
    "theme.yellowTextColor": QUESTION_INK,
    "theme.yellowBackgroundColor": QUESTION_TINT,
    "theme.violetTextColor": SUSPECT_INK,
    "theme.violetBackgroundColor": SUSPECT_TINT,
    "theme.blueTextColor": NOTICE_INK,
    "theme.blueBackgroundColor": NOTICE_TINT,
    "theme.greenTextColor": NOTICE_INK,
    "theme.greenBackgroundColor": NOTICE_TINT,
    "theme.font": "sans-serif",
    "theme.headingFont": "serif",
    "theme.baseRadius": "2px",
    "theme.metricValueFontSize": "1.9rem",
    "theme.headingFontSizes": '["2.2rem", "1.7rem", "1.45rem", "1.25rem", "1.1rem", "1rem"]',
    "theme.paddingTop": "1rem",
    "theme.paddingBottom": "3rem",
    "theme.sidebar.backgroundColor": NIGHT,
    "theme.sidebar.secondaryBackgroundColor": "#2B4749",
    "theme.sidebar.textColor": MIST,
    "theme.sidebar.primaryColor": "#E0B24C",
    "theme.sidebar.borderColor": "#3A5557",
}


@alt.theme.register("beamledger", enable=True)
def chart_theme() -> alt.theme.ThemeConfig:
    """Altair's theme for every chart; Streamlit's primary colour does not reach Altair, so it is set here."""
    axis: dict[str, Any] = {
        "labelColor": INK,
        "titleColor": FADED,
        "titleFontWeight": "normal",
        "labelFontSize": 12,
        "titleFontSize": 12,
        "titlePadding": 8,
        "gridColor": RULE,
        "domainColor": FADED,
        "tickColor": FADED,
        "labelLimit": 235,
    }
    config: Any = {
        "background": PAPER,
        "font": LETTERS,
        "view": {"stroke": None},
        "axis": axis,
        "legend": {
            "orient": "bottom", "labelColor": INK, "titleColor": FADED, "titleFontWeight": "normal",
            "labelFontSize": 12, "titleFontSize": 12, "symbolType": "square", "labelLimit": 190,
        },
        "bar": {"color": SPRUCE},
        "point": {"color": SPRUCE, "filled": True},
        "range": {"category": list(CATEGORY_COLOURS)},
    }  # fmt: skip
    return {"config": config}
