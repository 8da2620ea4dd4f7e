"""What of the book is counted, and where: each test says only what differs from a book of one head."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date, datetime
from typing import Any

import pytest

from tests.record_books import BOOK, MINIMUM, book_of, decided, head, insert
from warehouse.book.trend_figures.counting import Counted, count_entries
from warehouse.book.trend_figures.settings import TrendSettings
from warehouse.book.trend_figures.trend import choose_ground
from warehouse.errors import NotInBook

Rows = tuple[tuple[str, Mapping[str, Any]], ...]
SETTINGS = {"book": "State Book", "category": "whitetail-typical", "today": date(2026, 11, 26)}


@contextmanager
def counted(*heads: Mapping[str, Any], rows: Rows = (), **asked: Any) -> Iterator[Counted]:
    """The count of a book with these heads (what differs from the usual one), held against the state book of rows."""
    with book_of(("record_book", BOOK), ("minimum", MINIMUM), *rows) as connection:
        for number, changes in enumerate(heads, start=1):
            head(connection, number, **changes)
        yield count_entries(connection, TrendSettings(**{**SETTINGS, **asked}))


def of_net(net: int) -> dict[str, int]:
    """A head of this net, its gross and deductions in order."""
    return {"net": net, "gross": net + 46}


def cells(found: Counted) -> list[tuple[Any, ...]]:
    return found.cells.select("area_code", "season", "entries", "above_second", "dropped").rows()


def test_an_entry_counts_where_it_was_taken() -> None:
    with counted({}) as found:
        assert cells(found) == [("07001", "2025-26", 1, 1, 0)]
        assert found.cells["median_excess"].to_list() == [(1137 - 1000) / 8]
        assert found.seasons.rows() == [("2025-26", 2025, None, True)]


def test_only_what_qualifies_counts() -> None:
    """Held, under the minimum, of another category, not dried long enough."""
    others = ({"status": "held"}, of_net(999), {"category": "whitetail-nontypical"}, {"measured_on": "2025-12-01"})
    with counted({}, *others) as found:
        assert cells(found) == [("07001", "2025-26", 1, 1, 0)]


def test_under_the_common_minimum_entries_are_counted_as_dropped() -> None:
    raised = ("minimum", {**MINIMUM, "minimum_units": 1040, "first_season": "2024-25"})
    ended = {**MINIMUM, "last_season": "2023-24"}
    old = {"season": "2020-21", "taken_on": "2020-11-08", "measured_on": "2021-02-01"}
    with book_of(("record_book", BOOK), ("minimum", ended), raised) as connection:
        for number, changes in enumerate(({**old, **of_net(1039)}, {**old, **of_net(1040)}, {}), start=1):
            head(connection, number, **changes)
        found = count_entries(connection, TrendSettings(**SETTINGS))  # type: ignore[arg-type]
    assert found.cut == 1040
    assert cells(found) == [("07001", "2020-21", 1, 0, 1), ("07001", "2025-26", 1, 0, 0)]


@pytest.mark.parametrize(
    ("weapons", "cut"), [((), 1000), (("bow",), 880), (("rifle",), 1000), (("firearm", "bow"), 1000)]
)
def test_a_minimum_for_a_weapon_goes_before_the_one_for_any(weapons: tuple[str, ...], cut: int) -> None:
    bow = ("minimum", {**MINIMUM, "weapon_class": "bow", "minimum_units": 880})
    with counted({}, {"weapon": "bow", **of_net(900)}, rows=(bow,), weapons=weapons) as found:
        assert found.cut == cut


def test_weapons_that_were_not_asked_for_do_not_count() -> None:
    with counted({}, {"weapon": "bow"}, {"weapon": "bow"}, weapons=("bow",)) as found:
        assert cells(found) == [("07001", "2025-26", 2, 2, 0)]


def test_a_season_without_any_entry_lies_in_the_window_and_is_not_present() -> None:
    seasons = tuple(
        ("season", {"season": f"{year}-{year - 1999}", "starts_on": f"{year}-07-01", "ends_on": f"{year + 1}-06-30"})
        for year in range(2021, 2027)
    )
    old = {"season": "2023-24", "taken_on": "2023-11-08", "measured_on": "2024-02-01"}
    with counted({}, old, rows=seasons) as found:
        assert found.seasons.rows() == [
            ("2023-24", 2023, date(2024, 6, 30), True), ("2024-25", 2024, date(2025, 6, 30), False), ("2025-26", 2025, date(2026, 6, 30), True),
        ]  # fmt: skip


def test_districts_are_those_of_the_newest_season() -> None:
    moved = (
        "area_district",
        {"area_code": "07001", "district": "West", "region": "High", "first_season": "2024-25", "last_season": None},
    )
    with counted({}, rows=(moved,)) as found:
        assert dict(found.areas.select("area_code", "district").rows())["07001"] == "West"


def test_a_code_that_ended_is_counted_under_the_one_that_took_over_with_its_effort() -> None:
    merged = ("area_change", {"old_code": "07001", "new_code": "07003", "changed_on": "2026-07-01", "kind": "merged"})
    effort = tuple(
        ("effort", {"area_code": code, "season": "2025-26", "antlered_harvest": 100}) for code in ("07001", "07003")
    )
    with counted({}, {"area_code": "07003"}, rows=(merged, *effort)) as found:
        assert cells(found) == [("07003", "2025-26", 2, 2, 0)]
        assert found.effort.select("area_code", "harvest", "licences").rows() == [("07003", 200.0, None)]
        assert "07001" not in found.areas["area_code"].to_list()


def test_only_areas_that_the_book_covers_are_ground() -> None:
    with book_of(("record_book", {**BOOK, "districts": ["South"]}), ("minimum", MINIMUM)) as connection:
        head(connection, 1, area_code="07003")
        found = count_entries(connection, TrendSettings(**SETTINGS))  # type: ignore[arg-type]
    assert found.areas["area_code"].to_list() == ["07003", "07005"]


def test_the_day_of_acceptance_is_the_first_accepted_state_or_the_first_acceptance() -> None:
    received = datetime(2026, 3, 2, 12)
    with book_of(("record_book", BOOK), ("minimum", MINIMUM)) as connection:
        head(connection, 1, made_at=received)
        head(connection, 2, made_at=received, status="held")
        decided(connection, "accept", 2)
        head(connection, 3, made_at=received)
        insert(connection, "entry_revision", {"revision_id": 4, "entry_id": 3, "revision_no": 2, "row_id": 3, "made_at": datetime(2026, 5, 1),
               "author": "x", "reason": "y", "status": "accepted", "category": "whitetail-typical", "unit": 8, "season": "2025-26", "weapon": "rifle",
               "taken_on": "2025-11-08", "measured_on": "2026-01-20", "area_code": "07001", "measurer": "M-12", "net": 1100, "gross": 1146, "deductions": 46})  # fmt: skip
        found = count_entries(connection, TrendSettings(**SETTINGS))  # type: ignore[arg-type]
    accepted = found.arrivals["accepted"].select("known_on", "entries").rows()
    assert accepted == [(date(2026, 3, 2), 2), (date(2026, 11, 25), 1)]
    assert found.arrivals["measured"].select("known_on", "entries").rows() == [(date(2026, 1, 20), 3)]


def test_a_cut_under_the_common_minimum_is_refused() -> None:
    expected = (
        r"^a cut of 124 7/8 lies under the highest minimum of these seasons, 125 0/8: under it the rules would show, not the deer; "
        r"expected that or more, or a shorter window$"
    )
    with pytest.raises(NotInBook, match=expected), counted({}, cut=999):
        pass


def test_a_higher_cut_may_be_asked_for() -> None:
    with counted({}, of_net(1020), cut=1040) as found:
        assert (found.cut, found.second, cells(found)) == (1040, 1160, [("07001", "2025-26", 1, 0, 1)])


def test_seasons_by_net_and_by_gross_are_not_counted_together() -> None:
    gross = ("record_book", {**BOOK, "first_season": "2020-21", "score": "gross"})
    expected = r"^State Book: ranked by net in some of these seasons and by gross in others, .* \(--from, --to\)$"
    seasons = tuple(
        ("season", {"season": s, "starts_on": a, "ends_on": b})
        for s, a, b in (("2015-16", "2015-07-01", "2016-06-30"), ("2025-26", "2025-07-01", "2026-06-30"))
    )
    with book_of(
        ("record_book", {**BOOK, "last_season": "2019-20"}), gross, ("minimum", MINIMUM), *seasons
    ) as connection:
        head(connection, 1)
        with pytest.raises(NotInBook, match=expected):
            count_entries(connection, TrendSettings(**SETTINGS))  # type: ignore[arg-type]
        later = count_entries(connection, TrendSettings(**{**SETTINGS, "first_season": "2020-21"}))  # type: ignore[arg-type]
    assert later.cells["entries"].to_list() == [1]


def test_an_empty_book_counts_nothing() -> None:
    with counted() as found:
        assert found.is_empty
        assert found.seasons.is_empty()
        assert found.last_season == ""


def test_entries_of_an_area_nobody_knows_are_counted_without_one() -> None:
    with counted({"area_code": None}) as found:
        assert cells(found) == [(None, "2025-26", 1, 1, 0)]


def test_a_place_may_be_named_by_a_code_that_ended() -> None:
    merged = ("area_change", {"old_code": "07001", "new_code": "07003", "changed_on": "2026-07-01", "kind": "merged"})
    with counted({}, rows=(merged,)) as found:
        place, areas = choose_ground(found, TrendSettings(**SETTINGS, area="07001"))  # type: ignore[arg-type]
    assert (place, areas["area_code"].to_list()) == ("Brackwater", ["07003"])


def test_a_place_that_the_book_does_not_cover_is_refused() -> None:
    expected = r"^Nowhere: State Book covers no such place; expected an area or district that it covers$"
    with counted({}) as found, pytest.raises(NotInBook, match=expected):
        choose_ground(found, TrendSettings(**SETTINGS, district="Nowhere"))  # type: ignore[arg-type]
