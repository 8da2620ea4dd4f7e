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


MERGED = ("area_change", {"old_code": "07001", "new_code": "07003", "changed_on": "2026-07-01", "kind": "merged"})
SEASON = ("season", {"season": "2025-26", "starts_on": "2025-07-01", "ends_on": "2026-06-30"})


def effort(code: str, season: str = "2025-26", harvest: int | None = 100) -> tuple[str, dict[str, Any]]:
    return ("effort", {"area_code": code, "season": season, "antlered_harvest": harvest})


def ground_of(found: Counted, code: str) -> list[tuple[Any, ...]]:
    return found.ground.filter(area_code=code).select("season", "covered", "harvest").rows()


def test_a_code_that_ended_is_counted_under_the_one_that_took_over_with_its_effort() -> None:
    with counted({}, {"area_code": "07003"}, rows=(MERGED, SEASON, effort("07001"), effort("07003"))) as found:
        assert cells(found) == [("07003", "2025-26", 2, 2, 0)]
        assert ground_of(found, "07003") == [("2025-26", True, 200.0)]
        assert "07001" not in found.areas["area_code"].to_list()


def test_where_the_effort_of_one_of_its_codes_is_not_known_that_of_the_area_is_not() -> None:
    """Two entries on the ground of both codes, and the harvest of one of them: not two on 100."""
    with counted({}, {"area_code": "07003"}, rows=(MERGED, SEASON, effort("07003"))) as found:
        assert ground_of(found, "07003") == [("2025-26", True, None)]


def test_after_a_merger_the_new_code_alone_has_the_effort() -> None:
    earlier = ("area_change", {**MERGED[1], "changed_on": "2020-07-01"})
    with counted({"area_code": "07003"}, rows=(earlier, SEASON, effort("07003"))) as found:
        assert ground_of(found, "07003") == [("2025-26", True, 100.0)]


def test_a_split_area_ends_and_its_parts_begin_with_the_season_after() -> None:
    split = tuple(
        ("area_change", {"old_code": "07001", "new_code": new, "changed_on": "2023-10-01", "kind": "split"})
        for new in ("07003", "07005")
    )
    seasons = tuple(
        ("season", {"season": f"{year}-{year - 1999}", "starts_on": f"{year}-07-01", "ends_on": f"{year + 1}-06-30"})
        for year in (2022, 2023, 2024)
    )
    years = (
        {"season": f"{year}-{year - 1999}", "taken_on": f"{year}-11-08", "measured_on": f"{year + 1}-02-01"}
        for year in (2022, 2023, 2024)
    )
    with counted(*years, rows=(*split, *seasons)) as found:
        assert found.ground.select("area_code", "season").rows() == [
            ("07001", "2022-23"),
            ("07003", "2024-25"),
            ("07005", "2024-25"),
        ]


def test_a_book_that_came_to_cover_more_did_not_cover_it_before() -> None:
    """South alone until 2019-20, everywhere since: the north is no zero before."""
    old = {"season": "2019-20", "taken_on": "2019-11-08", "measured_on": "2020-02-01", "area_code": "07003"}
    narrow, wide = {**BOOK, "districts": ["South"], "last_season": "2019-20"}, {**BOOK, "first_season": "2020-21"}
    with book_of(("record_book", narrow), ("record_book", wide), ("minimum", MINIMUM)) as connection:
        head(connection, 1, **old)
        head(connection, 2)
        found = count_entries(connection, TrendSettings(**SETTINGS))  # type: ignore[arg-type]
    assert ground_of(found, "07001") == [("2019-20", False, None), ("2025-26", True, None)]
    assert found.rule_changes.rows() == [("2020-21", ["districts"])]


def test_rules_that_changed_outside_the_seasons_are_not_told() -> None:
    with book_of(("record_book", {**BOOK, "last_season": "2019-20"}), ("record_book", {**BOOK, "first_season": "2020-21", "drying_days": 30}),
                 ("minimum", MINIMUM)) as connection:  # fmt: skip
        head(connection, 1)
        assert count_entries(connection, TrendSettings(**SETTINGS)).rule_changes.is_empty()  # type: ignore[arg-type]


@pytest.mark.parametrize("since", ["1990-91", "2027-28"])
def test_a_minimum_of_seasons_without_an_entry_does_not_raise_the_cut(since: str) -> None:
    label = ("season", {"season": since, "starts_on": f"{since[:4]}-07-01", "ends_on": f"{int(since[:4]) + 1}-06-30"})
    with book_of(("record_book", {**BOOK, "first_season": "1980-81"}), ("minimum", {**MINIMUM, "first_season": "2000-01", "last_season": "2026-27"}),
                 ("minimum", {**MINIMUM, "minimum_units": 1200, "first_season": since, "last_season": since}), label) as connection:  # fmt: skip
        head(connection, 1)
        found = count_entries(connection, TrendSettings(**SETTINGS))  # type: ignore[arg-type]
    assert found.cut == 1000
    assert found.minimum.changes.is_empty()


def test_a_day_that_has_not_come_is_refused() -> None:
    expected = r"^cannot tell what will be known on 2026-11-27; expected a day up to today, 2026-11-26$"
    with pytest.raises(NotInBook, match=expected):
        TrendSettings(**SETTINGS, as_of=date(2026, 11, 27))  # type: ignore[arg-type]


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
    with book_of(("record_book", {**BOOK, "last_season": "2019-20"}), gross, ("minimum", MINIMUM)) as connection:
        head(connection, 1)
        head(connection, 2, season="2015-16", taken_on="2015-11-08", measured_on="2016-02-01")
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
