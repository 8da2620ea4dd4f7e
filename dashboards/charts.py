"""Charts from typed frames. A score becomes a decimal only to place its mark; labels and tooltips keep the fraction."""

import altair as alt
import polars as pl

from dashboards import theme
from dashboards.words import SEVERITIES, STATUSES, WEAPON_CLASSES, category_words, code_words, weapon_words

NOT_KNOWN = "Not known"
LONGEST_LIST = 16
Chart = alt.Chart | alt.LayerChart


def entries_by_season(by_season: pl.DataFrame) -> Chart:
    """Stacked bars: entries of each season by weapon. Takes `Overview.by_season`."""
    shown = by_season.with_columns(
        season=pl.col("season").fill_null(NOT_KNOWN),
        weapon=pl.col("weapon_class").map_elements(weapon_words, return_dtype=pl.String, skip_nulls=False),
    )
    names = [*(WEAPON_CLASSES[key] for key in theme.WEAPON_COLOURS if key), NOT_KNOWN]
    there = [name for name in names if name in shown["weapon"].to_list()]
    colours = dict(zip(names, theme.WEAPON_COLOURS.values(), strict=True))
    chart: alt.Chart = (
        alt.Chart(shown)
        .mark_bar()
        .encode(
            x=_seasons(),
            y=alt.Y("sum(entries):Q", title="Entries", axis=alt.Axis(tickMinStep=1, format=",d")),
            color=alt.Color(
                "weapon:N",
                title="Weapon",
                scale=alt.Scale(domain=there, range=[colours[name] for name in there]),
                legend=alt.Legend(columns=3),
            ),
            tooltip=[
                alt.Tooltip("season:N", title="Season"),
                alt.Tooltip("weapon:N", title="Weapon"),
                alt.Tooltip("sum(entries):Q", title="Entries", format=",d"),
            ],
        )
        .properties(height=320)
    )
    return chart


def findings_by_code(by_code: pl.DataFrame) -> Chart:
    """Bars: the commonest open findings in words, coloured by severity. Takes `Overview.by_code`."""
    shown = by_code.head(LONGEST_LIST).with_columns(
        words=pl.col("code").map_elements(code_words, return_dtype=pl.String),
        kind=pl.col("severity").replace_strict(SEVERITIES),
    )
    chart: alt.Chart = (
        alt.Chart(shown)
        .mark_bar()
        .encode(
            y=alt.Y("words:N", sort="-x", title=None, axis=alt.Axis(ticks=False, domain=False, labelPadding=6)),
            x=alt.X("findings:Q", title="Open findings", axis=alt.Axis(tickMinStep=1, format=",d", tickCount=5)),
            color=_named_colours("kind", "Severity", SEVERITIES, theme.SEVERITY_COLOURS, columns=2),
            tooltip=[
                alt.Tooltip("words:N", title="Finding"),
                alt.Tooltip("code:N", title="Code"),
                alt.Tooltip("kind:N", title="Severity"),
                alt.Tooltip("findings:Q", title="Open findings", format=",d"),
                alt.Tooltip("sheets:Q", title="On sheets", format=",d"),
            ],
        )
        .properties(height=alt.Step(22))
    )
    return chart


def entries_by_district(by_district: pl.DataFrame) -> Chart:
    """Bars: entries of each district by their status. Takes `Overview.by_district`."""
    there = set(by_district["status"])
    words = {status: word for status, word in STATUSES.items() if status in there}
    shown = by_district.with_columns(
        district=pl.col("district").fill_null(NOT_KNOWN), state=pl.col("status").replace_strict(STATUSES)
    )
    chart: alt.Chart = (
        alt.Chart(shown)
        .mark_bar()
        .encode(
            y=alt.Y("district:N", title="District", sort="-x"),
            x=alt.X("sum(entries):Q", title="Entries", axis=alt.Axis(tickMinStep=1, format=",d", tickCount=5)),
            color=_named_colours("state", "Status", words, theme.STATUS_COLOURS),
            tooltip=[
                alt.Tooltip("district:N", title="District"),
                alt.Tooltip("state:N", title="Status"),
                alt.Tooltip("sum(entries):Q", title="Entries", format=",d"),
            ],
        )
        .properties(height=alt.Step(30))
    )
    return chart


def net_by_district(spread_out: pl.DataFrame, score: str = "net") -> Chart:
    """Dots: how the scores of each district lie, a dot per whole inch; a tick at the median entry.

    Takes `Ranked.spread_out`; `score` is what they are, net or gross.
    """
    shown = spread_out.with_columns(
        district=pl.when(pl.col("district") == "").then(pl.lit(NOT_KNOWN)).otherwise(pl.col("district")),
        middle_of_inch=pl.col("inch") + 0.5,
        middle_inches=pl.col("middle") / pl.col("unit"),
        range=pl.format("{} 0/{} to under {} 0/{}", "inch", "unit", pl.col("inch") + 1, "unit"),
    )
    districts = alt.Y("district:N", title="District", axis=alt.Axis(grid=True))
    inches = alt.Scale(zero=False, nice=False, padding=12)
    base = alt.Chart(shown)
    dots = base.mark_point(opacity=0.8, stroke=theme.PAPER, strokeWidth=0.6).encode(
        x=alt.X(
            "middle_of_inch:Q", title=f"{score.capitalize()} score, inches", scale=inches, axis=alt.Axis(tickCount=6)
        ),
        y=districts,
        size=alt.Size(
            "entries:Q",
            title="Entries in that inch",
            scale=alt.Scale(range=[18, 420]),
            legend=alt.Legend(values=_few_sizes(spread_out), symbolType="circle", format=",d"),
        ),
        tooltip=[
            alt.Tooltip("district:N", title="District"),
            alt.Tooltip("range:N", title=f"{score.capitalize()}, inches"),
            alt.Tooltip("entries:Q", title="Entries", format=",d"),
            alt.Tooltip("highest_text:N", title="Highest of them, inches"),
        ],
    )
    medians = base.mark_tick(color=theme.RUST, thickness=3, size=30).encode(
        x=alt.X("max(middle_inches):Q", title=f"{score.capitalize()} score, inches"),
        y=districts,
        tooltip=[
            alt.Tooltip("district:N", title="District"),
            alt.Tooltip("max(middle_text):N", title=f"Median entry, {score} inches"),
            alt.Tooltip("max(in_district):Q", title="Entries in the district", format=",d"),
        ],
    )
    layers: alt.LayerChart = (dots + medians).properties(height=alt.Step(44))
    return layers


def minimum_counts(counts: pl.DataFrame) -> Chart:
    """Bars: accepted entries of each season that meet the minimum, by category. Takes `MinimumCounts.counts`."""
    shown = counts.with_columns(
        name=pl.col("category").map_elements(category_words, return_dtype=pl.String),
    )
    chart: alt.Chart = (
        alt.Chart(shown)
        .mark_bar()
        .encode(
            x=_seasons(),
            y=alt.Y("meeting:Q", title="Entries that meet it", axis=alt.Axis(tickMinStep=1, format=",d")),
            color=alt.Color("name:N", title="Category", legend=alt.Legend(columns=1)),
            tooltip=[
                alt.Tooltip("season:N", title="Season"),
                alt.Tooltip("name:N", title="Category"),
                alt.Tooltip("minimum_units_text:N", title="Minimum net, inches"),
                alt.Tooltip("meeting:Q", title="Meet it", format=",d"),
                alt.Tooltip("accepted:Q", title="Entries in the district", format=",d"),
            ],
        )
        .properties(height=320)
    )
    return chart


def _few_sizes(spread_out: pl.DataFrame) -> list[int]:
    """Whole numbers for a legend: Vega's own would put 1.5 entries there and print it as 2."""
    most: int = max(spread_out["entries"].to_list(), default=1)
    return sorted({1, (1 + most) // 2, most})


def _seasons() -> alt.X:
    return alt.X("season:N", title="Season", sort="ascending", axis=alt.Axis(labelAngle=-90, grid=False))


def _named_colours(
    field: str, title: str, words: dict[str, str], colours: dict[str, str], columns: int = 3
) -> alt.Color:
    scale = alt.Scale(domain=list(words.values()), range=[colours[key] for key in words])
    return alt.Color(f"{field}:N", title=title, scale=scale, legend=alt.Legend(columns=columns))
