"""How large one head in a thousand is, and whether the tail above the cut may be trusted, in sentences."""

from dashboards.number_words import signed
from dashboards.words import counted, weapon_words
from warehouse.book.trend_figures.antlers import ONE_IN, Antlers
from warehouse.eighths import text_of
from warehouse.trends.pareto_tail import FEWEST, ReturnLevel

OF = {"harvest": "{one_in:,} harvested bucks", "licences": "{one_in:,} licences sold"}
SENT_IN = "It takes for granted that every such head is sent in; where some are not, the true one is larger."
STABLE = (
    "The tail is to be trusted from the cut on above which its shape and its modified scale stay about the same. "
    "Where they still move, "
    "heads just above the minimum may not all be sent in: look at a higher cut. No tail of real heads is exactly of this form, and at "
    "high cuts few entries make both swing."
)


def sentences(antlers: Antlers) -> list[str]:
    """The level or why there is none, the tail, and how to read it at rising cuts."""
    if antlers.tail.one_in_thousand is None:
        return [why_none(antlers), *_tail(antlers)]
    return [level_sentence(antlers, antlers.tail.one_in_thousand), SENT_IN, *_one_weapon(antlers), *_tail(antlers)]


def level_sentence(antlers: Antlers, level: ReturnLevel) -> str:
    """ "One head in 1,000 harvested bucks is above 143 2/8 (95 % interval 142 5/8 to 144 0/8)." """
    of = OF[antlers.effort.kind or "harvest"].format(one_in=ONE_IN)
    head = "One head in" if antlers.effort.kind == "harvest" else "One head for"
    within = (
        f"95 % interval {_text(antlers, level.lower)} to {_text(antlers, level.upper)}"
        if level.lower is not None and level.upper is not None
        else "without an interval, for so short a tail gives none"
    )
    return f"{head} {of} is above {_text(antlers, level.level)} ({within})."


def why_none(antlers: Antlers) -> str:
    """Why it cannot be said how large one head in a thousand is."""
    none = f"How large one head in {ONE_IN:,} is cannot be said:"
    tail, kind = antlers.tail, antlers.effort.kind
    if kind == "area":
        return f"{none} square miles are no heads; it takes the antlered deer harvested, or the licences sold."
    if kind is None:
        return f"{none} neither the antlered deer harvested nor the licences sold are known enough."
    if tail.tail is None:
        return f"{none} a tail is fitted to no fewer than {FEWEST} entries of complete seasons, not all alike."
    if tail.above is None:
        return f"{none} no complete season has both entries and a known effort."
    if tail.above >= 1:
        return (
            f"{none} the book holds as many entries as {OF[kind].format(one_in=ONE_IN).split(' ', 1)[1]}, or more; "
            "one of the two is wrong."
        )
    return (
        f"{none} only one in {1 / tail.above:,.0f} is at or above the cut, so that it lies below, where the book "
        "holds nothing."
    )


def only_class(antlers: Antlers) -> str | None:
    """The class of weapon of all entries; None where there are several, or it is not known."""
    classes = antlers.by_weapon["weapon_class"].unique().to_list()
    return classes[0] if len(classes) == 1 else None


def _one_weapon(antlers: Antlers) -> list[str]:
    """Effort is known of all weapons together: of entries of one class of weapons alone the level says less."""
    only = only_class(antlers)
    if only is None:
        return []
    of = OF[antlers.effort.kind or "harvest"].format(one_in=ONE_IN).split(" ", 1)[1]
    return [
        f"All these entries have one class of weapon ({weapon_words(only).lower()}), while the {of} are of "
        "every weapon: of that "
        "class alone one head in so many is larger."
    ]


def _tail(antlers: Antlers) -> list[str]:
    tail = antlers.tail.tail
    if tail is None:
        return []
    form = "bounded" if tail.shape < 0 else "heavy" if tail.shape > 0 else "exponential"
    error = f", standard error {tail.shape_se:.2f}" if tail.shape_se is not None else ""
    return [
        f"Tail above the cut, from {counted(tail.entries, 'entry', 'entries')} of complete seasons: generalised "
        "Pareto, scale "
        f"{tail.scale:.2f} inches, shape {signed(tail.shape)}{error} (below 0 a bounded tail, above 0 a heavy one; "
        f"here {form}).",
        STABLE,
    ]  # fmt: skip


def _text(antlers: Antlers, inches: float) -> str:
    return text_of(round(inches * antlers.counted.unit), antlers.counted.unit)
