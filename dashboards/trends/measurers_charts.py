"""Charts of the measurers, in order of names: biases of a panel, sheets against panels, last eighths, first inch."""

import altair as alt
import polars as pl

from dashboards import theme
from dashboards.number_words import p_text, share
from dashboards.trends.chart_axes import layered
from dashboards.trends.measurers_frames import with_who
from dashboards.trends.panel_words import bias_text
from warehouse.eighths import EIGHTHS
from warehouse.trends.agreement import BlandAltman

Chart = alt.Chart | alt.LayerChart
STEP, LABELS = 28, 185
WITHIN, APART = "Within what chance would bring", "Apart by more than chance"
ROOM = 1.35  # of the greatest share: the counts stand at the right
LEAST_SHADE = 5.0  # percentage points at which a shade is full, at the least, so that chance does not look like more


def biases(frame: pl.DataFrame) -> Chart:
    """Each measurer's bias on one line of one session with its interval. Takes rows of `MeasurersFrames.biases`."""
    shown = with_who(frame).with_columns(
        words=pl.struct("bias", "lower", "upper").map_elements(bias_text, return_dtype=pl.String),
        kind=pl.when("opens").then(pl.lit(APART)).otherwise(pl.lit(WITHIN)),
        p_words=_p_words(frame),
    )
    title = "Bias, eighths of an inch"
    tooltip = [
        alt.Tooltip("who:N", title="Measurer"), alt.Tooltip("words:N", title="Bias, eighths (95 % interval)"),
        alt.Tooltip("from_middle:Q", title="From the middle measurer, eighths", format="+.1f"),
        alt.Tooltip("heads:Q", title="Heads"), alt.Tooltip("p_words:N", title="p, adjusted"),
    ]  # fmt: skip
    base = alt.Chart(shown).encode(y=_measurers(shown), tooltip=tooltip)
    colour = alt.Color(
        "kind:N", title=None, scale=alt.Scale(domain=[WITHIN, APART], range=[theme.SPRUCE, theme.OCHRE]),
        legend=alt.Legend(symbolType="circle", columns=1, labelLimit=260),
    )  # fmt: skip
    x = alt.X("bias:Q", title=title, axis=alt.Axis(tickCount=7))
    none = (
        alt.Chart(shown.head(1)).mark_rule(color=theme.FADED, strokeWidth=1).encode(x=alt.datum(0, type="quantitative"))
    )
    middle = alt.Chart(shown.head(1).with_columns(middle=pl.col("bias") - pl.col("from_middle"))).mark_rule(
        color=theme.BARK, strokeDash=[5, 4]
    )
    bars = base.mark_rule(strokeWidth=1.8).encode(x=alt.X("lower:Q", title=title), x2="upper:Q", color=colour)
    return layered(
        [
            none,
            middle.encode(x=alt.X("middle:Q", title=title)),
            bars,
            base.mark_point(size=72, opacity=1).encode(x=x, color=colour),
        ],
        alt.Step(STEP),
    )


def against_panel(frame: pl.DataFrame, found: BlandAltman, unit: int) -> Chart:
    """Sheet less panel against the mean of both, with mean difference and limits of agreement (Bland and Altman).

    Takes `MeasurersFrames.against_panel` with the columns sheet_units and panel_units, whole units of 1/`unit` inch.
    """
    shown = with_who(frame).with_columns(
        middle=(pl.col("sheet_units") + pl.col("panel_units")) / (2 * unit),
        entry=pl.coalesce("entry_no", pl.format("={}", "entry_id")),
    )
    lines = pl.DataFrame({
        "at": [value * EIGHTHS for value in (found.upper, found.bias, found.lower)],
        "what": ["Upper limit of agreement", "Mean difference", "Lower limit of agreement"],
        "dash": ["limit", "mean", "limit"],
    }).drop_nans()  # fmt: skip
    title = "Sheet less panel, eighths"
    none = (
        alt.Chart(shown.head(1)).mark_rule(color=theme.RULE, strokeWidth=1).encode(y=alt.datum(0, type="quantitative"))
    )
    dashes = alt.Scale(domain=["mean", "limit"], range=[[1, 0], [5, 4]])
    rules = alt.Chart(lines).mark_rule(color=theme.OCHRE, strokeWidth=1.6).encode(
        y=alt.Y("at:Q", title=title),
        strokeDash=alt.StrokeDash("dash:N", scale=dashes, legend=None),
        tooltip=[alt.Tooltip("what:N", title="Line"), alt.Tooltip("at:Q", title="Eighths", format="+.1f")],
    )  # fmt: skip
    whole, apart = alt.Axis(tickCount=6, tickMinStep=1), alt.Scale(zero=False, nice=False, padding=14)
    dots = alt.Chart(shown).mark_point(size=60, opacity=0.85, color=theme.SPRUCE).encode(
        x=alt.X("middle:Q", title="Mean of sheet and panel, inches net", scale=apart, axis=whole),
        y=alt.Y("difference:Q", title=title, axis=whole, scale=alt.Scale(padding=16, nice=False)),
        tooltip=[
            alt.Tooltip("entry:N", title="Entry"), alt.Tooltip("who:N", title="Measured by"),
            alt.Tooltip("sheet_net:N", title="Sheet, inches"),
            alt.Tooltip("panel_net:N", title="Panel, inches"),
            alt.Tooltip("difference:Q", title="Eighths", format="+d"),
        ],
    )  # fmt: skip
    return layered([none, rules, dots], 320)


def last_eighths(frame: pl.DataFrame) -> Chart:
    """The share of each last eighth by measurer, shaded by how it differs from the expected one.

    Takes rows of the code book's eighths.csv of one kind of line.
    """
    shown = with_who(frame).with_columns(
        end=pl.format("{}/8", "eighth"),
        off=(pl.col("share") - pl.col("expected")) * 100,
        percent=pl.col("share") * 100,
        share_text=_share_words("share"),
        expected_text=_share_words("expected"),
    )
    most = max(LEAST_SHADE, max((abs(off) for off in shown["off"].drop_nulls()), default=0.0))
    above = alt.Axis(labelAngle=0, ticks=False, domain=False, orient="top")
    base = alt.Chart(shown).encode(
        x=alt.X("end:N", title="Last eighth of the measure", axis=above),
        y=_measurers(shown),
        tooltip=[
            alt.Tooltip("who:N", title="Measurer"), alt.Tooltip("end:N", title="Ends on"),
            alt.Tooltip("count:Q", title="Measures", format=",d"),
            alt.Tooltip("share_text:N", title="Of the measurer’s"),
            alt.Tooltip("expected_text:N", title="Expected"),
        ],
    )  # fmt: skip
    shade = alt.Color(
        "off:Q", title="Points below or above the expected",
        scale=alt.Scale(domain=[-most, 0, most], range=[theme.SLATE, theme.PAPER, theme.OCHRE]),
        legend=alt.Legend(gradientLength=200, format="+.0f", titleLimit=330, tickCount=5),
    )  # fmt: skip
    return layered(
        [
            base.mark_rect(opacity=0.6, stroke=theme.RULE).encode(color=shade),
            base.mark_text(color=theme.INK, fontSize=11).encode(text=alt.Text("percent:Q", format=".0f")),
        ],
        alt.Step(STEP - 4),
    )


def first_inch(frame: pl.DataFrame) -> Chart:
    """Each measurer's share of entries in the first inch, and the expected one. Takes `MeasurersFrames.first_inch`."""
    shown = with_who(frame).drop_nulls("share").with_columns(
        n=pl.format("{} of {}", "first_inch", "above"), share_text=_share_words("share"),
        expected_text=_share_words("expected"),
        p_words=_p_words(frame.drop_nulls("share")),
    )  # fmt: skip
    most = max([*shown["share"], *shown["expected"]], default=1.0)
    title = "Share of entries in the first inch"
    x = alt.X(
        "share:Q",
        title=title,
        axis=alt.Axis(format=".0%", tickCount=6),
        scale=alt.Scale(domain=[0, most * ROOM], nice=False),
    )
    base = alt.Chart(shown).encode(
        y=_measurers(shown),
        tooltip=[
            alt.Tooltip("who:N", title="Measurer"), alt.Tooltip("n:N", title="In the first inch"),
            alt.Tooltip("share_text:N", title="Share"),
            alt.Tooltip("expected_text:N", title="Expected"), alt.Tooltip("sign:N", title="More or fewer"),
            alt.Tooltip("p_words:N", title="p, adjusted"),
        ],
    )  # fmt: skip
    expected = alt.Chart(shown.head(1)).mark_rule(color=theme.OCHRE, strokeDash=[5, 4], strokeWidth=1.6).encode(
        x=alt.X("expected:Q", title=title), tooltip=[alt.Tooltip("expected_text:N", title="Expected")]
    )  # fmt: skip
    return layered(
        [
            expected,
            base.mark_rule(color=theme.BARK, strokeWidth=1).encode(x=alt.X("expected:Q", title=title), x2="share:Q"),
            base.mark_point(size=66, opacity=1, color=theme.SPRUCE).encode(x=x),
            base.mark_text(align="right", color=theme.FADED, fontSize=11).encode(x=alt.value("width"), text="n:N"),
        ],
        alt.Step(STEP - 4),
    )


def _measurers(shown: pl.DataFrame) -> alt.Y:
    order = shown["who"].unique(maintain_order=True).to_list()
    return alt.Y(
        "who:N", title=None, sort=order, axis=alt.Axis(labelLimit=LABELS, ticks=False, domain=False, labelPadding=6)
    )


def _p_words(frame: pl.DataFrame) -> pl.Series:
    return pl.Series("p_words", [p_text(p) for p in frame["adjusted"]], dtype=pl.String)


def _share_words(column: str) -> pl.Expr:
    return pl.col(column).map_elements(share, return_dtype=pl.String)
