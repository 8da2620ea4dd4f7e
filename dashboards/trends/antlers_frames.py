"""The frames of the antlers' figures as they are drawn and handed out: every length also as a score sheet has it."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass

import polars as pl

from dashboards.length_words import finest_text
from dashboards.trends.measures import MEASURES, amount_text
from dashboards.words import WEAPON_CLASSES
from warehouse.book.trend_figures.antlers import Antlers
from warehouse.trends.code_book_antlers import AGES, LINES, MEDIANS, QUANTILES, TAIL, WEAPONS
from warehouse.trends.grouped_quantiles import grouped_quantiles
from warehouse.trends.quantile_trend import TAUS

ALL, UNKNOWN = "(all)", "(not known)"


@dataclass(frozen=True)
class AntlersFrames:
    """The columns of `warehouse.trends.code_book_antlers`; `medians`: the whole place first, then districts by name."""

    medians: pl.DataFrame
    weapons: pl.DataFrame
    ages: pl.DataFrame
    quantiles: pl.DataFrame
    lines: pl.DataFrame
    tail: pl.DataFrame


def frames_of(antlers: Antlers) -> AntlersFrames:
    """The frames of `antlers`."""
    lines = pl.DataFrame([asdict(line) for line in antlers.quantiles], schema=_LINE_TYPES)
    return AntlersFrames(
        medians=_medians(antlers).select(*MEDIANS),
        weapons=_worded(antlers.by_weapon, antlers)
        .sort(_place("weapon_class", WEAPON_CLASSES), _MEASURE)
        .select(*WEAPONS),
        ages=_worded(antlers.by_age, antlers)
        .with_columns(age_years=pl.col("age_half_years") / 2)
        .sort("age_years", _MEASURE)
        .select(*AGES),
        quantiles=_quantiles(antlers, lines).select(*QUANTILES),
        lines=lines.select(*LINES),
        tail=antlers.tail.steps.with_columns(cut_text=finest_text(pl.col("cut"), antlers.counted.unit)).select(*TAIL),
    )


def whole(medians: pl.DataFrame, measure: str) -> pl.DataFrame:
    """The rows of the whole place and one measure, by season."""
    return medians.filter(pl.col("district") == ALL, pl.col("measure") == measure).sort("season")


def _place(column: str, order: Iterable[str]) -> pl.Expr:
    """The place of each value in `order`; what is not in it comes last."""
    return (
        pl.col(column)
        .replace_strict({value: place for place, value in enumerate(order)}, default=None, return_dtype=pl.Int64)
        .fill_null(99)
    )


_MEASURE = _place("measure", MEASURES)
_LINE_TYPES = pl.Schema({"tau": pl.Float64, "intercept": pl.Float64, "slope": pl.Float64, "lower": pl.Float64, "upper": pl.Float64,
                         "refused": pl.String})  # fmt: skip


def _medians(antlers: Antlers) -> pl.DataFrame:
    first = pl.col("district").is_not_null()
    named = pl.when(pl.col("district").is_null()).then(pl.lit(ALL)).when(pl.col("district") == "").then(pl.lit(UNKNOWN))
    ordered = _worded(_with_state(antlers.by_season, antlers), antlers).sort(first, "district", "season", _MEASURE)
    return ordered.with_columns(district=named.otherwise("district"))


def _worded(frame: pl.DataFrame, antlers: Antlers) -> pl.DataFrame:
    texts = {"lower_text": "lower_quarter", "middle_text": "middle", "upper_text": "upper_quarter"}
    return frame.with_columns(
        amount_text(pl.col(source), antlers.counted.unit).alias(name) for name, source in texts.items()
    )


def _with_state(frame: pl.DataFrame, antlers: Antlers) -> pl.DataFrame:
    return frame.join(antlers.filling.seasons.select("season", "state"), on="season", how="left", maintain_order="left")


def _quantiles(antlers: Antlers, lines: pl.DataFrame) -> pl.DataFrame:
    unit = antlers.counted.unit
    scores = antlers.scores.select("season", value=pl.col("score_units") / unit, entries="entries")
    wide = grouped_quantiles(scores, ["season"], {str(tau): tau for tau in TAUS})
    found = wide.unpivot(index=["season", "entries"], variable_name="tau", value_name="value").with_columns(
        pl.col("tau").cast(pl.Float64)
    ).sort("season", "tau")  # fmt: skip
    years = antlers.counted.seasons.select("season", "year")
    placed = _with_state(found.join(years, on="season", how="left"), antlers).join(lines, on="tau", how="left")
    complete = placed.filter(state="complete")["year"]
    within = pl.col("year").is_between(pl.lit(complete.min(), pl.Int64), pl.lit(complete.max(), pl.Int64))
    fitted = pl.when(within).then(pl.col("intercept") + pl.col("slope") * pl.col("year"))
    return placed.with_columns(fitted=fitted, value_text=finest_text(pl.col("value"), unit)).sort("season", "tau")
