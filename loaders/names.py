"""Counties, parishes and measurers as written, resolved against the book's reference tables; never a silent guess."""

import difflib
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

import polars as pl

from loaders.area_history import AreaHistory, Named, make_history
from loaders.cell_format import plain_value
from loaders.distinct import distinct

_KINDS = "county|parish|city and borough|borough|census area|planning region|municipality|municipio"
_KIND = re.compile(rf"\b({_KINDS})\b\.?", re.IGNORECASE)
HINT_CUTOFF = 0.7
CODE_DIGITS = 5  # INCITS 31: two digits of the state, three of the county


def area_key(name: str) -> str:
    """Capitals without accents, punctuation and blanks; SAINT is ST, FORT is FT.

    "City" stays: in some states a city and a county share a name and have codes of their own.
    """
    plain = unicodedata.normalize("NFKD", name).upper()
    plain = "".join(sign for sign in plain if not unicodedata.combining(sign))
    words = re.sub(r"[^A-Z0-9]+", " ", plain.replace("'", "").replace("’", "")).split()
    return "".join({"SAINT": "ST", "FORT": "FT"}.get(word, word) for word in words)


@dataclass(frozen=True)
class Area:
    """One county or parish of the reference table."""

    code: str
    name: str
    state: str
    district: str


@dataclass(frozen=True)
class FoundArea:
    """What an area's text came to: the area or None, whether its code had lost a zero, and close names."""

    area: Area | None = None
    repaired: bool = False
    hint: str = ""


@dataclass(frozen=True)
class Names:
    """The reference tables as look-ups. An empty table means: not checked, kept as written."""

    areas: dict[str, Area] = field(default_factory=dict)
    by_name: dict[str, tuple[Area, ...]] = field(default_factory=dict)
    measurers: dict[str, str] = field(default_factory=dict)
    seasons: pl.DataFrame | None = None
    history: AreaHistory | None = None

    def find_area(self, text: str | None, state: str | None) -> FoundArea:
        """Resolve one written county or parish, in the written state where there is one."""
        written = plain_value(text)
        if not written:
            return FoundArea()
        if re.fullmatch(r"[0-9]{4,5}(\.0+)?", written):
            return self._by_code(written.split(".")[0], plain_value(state).upper())
        return self._by_name(written, plain_value(state))

    def _by_code(self, digits: str, state: str) -> FoundArea:
        area = self.areas.get(digits.zfill(CODE_DIGITS))
        if area is not None and state not in ("", area.state):
            return FoundArea(hint=f"{area.name} ({area.state})")
        return FoundArea(area, repaired=area is not None and len(digits) < CODE_DIGITS)

    def _by_name(self, written: str, state: str) -> FoundArea:
        in_state = state.upper()
        for name in (written, _KIND.sub(" ", written)):
            found = [area for area in self.by_name.get(area_key(name), ()) if in_state in ("", area.state)]
            if len(found) == 1:
                return FoundArea(found[0])
            if found:
                return FoundArea(hint=" or ".join(f"{area.name} ({area.state})" for area in found))
        return FoundArea(hint=self._hint(written))

    def _hint(self, written: str) -> str:
        close = difflib.get_close_matches(
            area_key(_KIND.sub(" ", written)), list(self.by_name), n=2, cutoff=HINT_CUTOFF
        )
        names = dict.fromkeys(area.name for key in close for area in self.by_name[key])
        return " or ".join(names)


def make_names(
    areas: Iterable[tuple[str, str, str, str]] = (),
    aliases: Iterable[tuple[str, str]] = (),
    measurers: Iterable[tuple[str, str]] = (),
    seasons: pl.DataFrame | None = None,
    changes: Iterable[tuple[str, str, date, str]] = (),
    districts: Iterable[tuple[str, str, str, str | None]] = (),
) -> Names:
    """Look-ups from reference rows: (code, name, state, district), (alias, code), (measurer number, name).

    `changes` and `districts` as in `loaders.area_history.make_history`.
    """
    by_code = {row[0]: Area(*row) for row in areas}
    by_name: dict[str, tuple[Area, ...]] = {}
    named = [(area.name, area) for area in by_code.values()]
    named += [(alias, by_code[code]) for alias, code in aliases if code in by_code]
    for name, area in named:
        known = by_name.get(area_key(name), ())
        if area_key(name) and area not in known:
            by_name[area_key(name)] = (*known, area)
    named_codes = {code: Named(area.name, area.district) for code, area in by_code.items()}
    return Names(by_code, by_name, _people(measurers), seasons, make_history(named_codes, changes, districts))


def _people(measurers: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Numbers and names -> number; a name that two measurers share stands for neither, a number goes before a name."""
    numbers, names = {}, dict[str, set[str]]()
    for number, name in measurers:
        numbers[area_key(number)] = number
        names.setdefault(area_key(name), set()).add(number)
    single = {key: next(iter(of)) for key, of in names.items() if len(of) == 1}
    return {key: number for key, number in (single | numbers).items() if key}


def resolve_areas(names: Names, areas: pl.Series, states: pl.Series) -> pl.DataFrame:
    """Columns `area_code`, `area_name`, `district` (String), `area.repaired` (Boolean), `area.hint` (String)."""
    area, state = distinct(areas), distinct(states)
    pairs = pl.DataFrame({"area": area.codes, "state": state.codes})
    unlike = pairs.unique(maintain_order=True)
    texts = zip(area.spread_over(unlike["area"]), state.spread_over(unlike["state"]), strict=True)
    found = [names.find_area(*pair) for pair in texts]
    table = unlike.with_columns(
        pl.Series("area_code", [one.area.code if one.area else None for one in found], dtype=pl.String),
        pl.Series("area_name", [one.area.name if one.area else None for one in found], dtype=pl.String),
        pl.Series("district", [one.area.district if one.area else None for one in found], dtype=pl.String),
        pl.Series("area.repaired", [one.repaired for one in found], dtype=pl.Boolean),
        pl.Series("area.hint", [one.hint for one in found], dtype=pl.String),
    )
    joined = pairs.join(table, on=["area", "state"], how="left", nulls_equal=True, maintain_order="left")
    return joined.drop("area", "state")


def resolve_measurers(names: Names, measurers: pl.Series) -> pl.Series:
    """Measurer numbers; null where the number or name is not in the table."""
    read = distinct(measurers)
    found = [names.measurers.get(area_key(plain_value(text))) for text in read.texts]
    return read.spread(pl.Series("measurer_no", found, dtype=pl.String))
