"""What the tables about areas must keep to, among each other: known codes, one end for each code, no circles."""

from collections.abc import Iterator, Mapping, Sequence

from warehouse.book.reference.tables import Row, Rows

# table -> its columns that hold an area's code
CODES = {
    "area_alias": ("area_code",),
    "area_district": ("area_code",),
    "area_change": ("old_code", "new_code"),
    "effort": ("area_code",),
}


def unknown_areas(tables: Rows, table: str) -> Iterator[str]:
    """Codes that no area has. Without areas none is known, and none is asked for."""
    known = {row.values["area_code"] for row in tables["area"]}
    ended = " (a code that ended stays in areas.csv)" if table == "area_change" else ""
    for row in tables[table] if known else ():
        for column in CODES[table]:
            if row.values[column] not in known:
                yield f"{row.place}, {column}: found {row.values[column]!r}; expected the code of an area{ended}"


def areas_of_books(tables: Rows) -> Iterator[str]:
    """States, districts and areas that a record book covers, and that no area lies in or is."""
    areas = tables["area"]
    known = {
        "states": {row.values["state"] for row in areas},
        "districts": {row.values["district"] for row in (*areas, *tables["area_district"])},
        "areas": {row.values["area_code"] for row in areas},
    }
    for row in tables["record_book"] if areas else ():
        for column, of_areas in known.items():
            for one in row.values[column]:
                if one not in of_areas:
                    yield f"{row.place}, {column}: found {one!r}; expected one of the areas' {column}"


def ends_of_codes(tables: Rows) -> Iterator[str]:
    """Codes that end twice, in two ways, before they began, or that lead back to themselves."""
    ends: dict[str, Row] = {}
    for row in tables["area_change"]:
        first = ends.setdefault(row.values["old_code"], row)
        is_split = row.values["kind"] == first.values["kind"] == "split"
        if first is not row and (not is_split or row.values["changed_on"] != first.values["changed_on"]):
            yield (
                f"{row.place}, old_code: {row.values['old_code']} ended already, {_end(first)}; a code ends once: in one "
                "other code, or on one day in several (split)"
            )
    circles = list(_circles(tables["area_change"]))
    yield from circles or _order(
        tables["area_change"], ends
    )  # the dates of a circle are wrong too, but that is no help


def _end(row: Row) -> str:
    return f"{row.values['kind']} on {row.values['changed_on']} in {row.place}"


def _order(changes: Sequence[Row], ends: Mapping[str, Row]) -> Iterator[str]:
    for row in changes:
        later = ends.get(row.values["new_code"])
        if later is not None and later.values["changed_on"] < row.values["changed_on"]:
            yield (
                f"{row.place}, changed_on: {row.values['new_code']} takes over on {row.values['changed_on']}, but was "
                f"{_end(later)}; a code must not end before it begins"
            )


def _circles(changes: Sequence[Row]) -> Iterator[str]:
    """Codes whose changes lead back to themselves, each circle once, from its first row on."""
    following: dict[str, list[Row]] = {}
    for row in changes:
        following.setdefault(row.values["old_code"], []).append(row)
    told: set[str] = set()
    for start in changes:
        way = _way_back(start, following)
        if way and not told & {row.values["old_code"] for row in way}:
            told |= {row.values["old_code"] for row in way}
            codes = " -> ".join((start.values["old_code"], *(row.values["new_code"] for row in way)))
            rows = " and ".join(dict.fromkeys(row.place for row in way))
            yield f"{rows}, new_code: the codes lead in a circle, {codes}; a code that ended does not come back"


def _way_back(start: Row, following: Mapping[str, Sequence[Row]]) -> list[Row]:
    """The rows that lead from a row's old code back to it; empty where none do."""
    ways, seen = [[start]], {start.values["new_code"]}
    while ways:
        way = ways.pop(0)
        if way[-1].values["new_code"] == start.values["old_code"]:
            return way
        for row in following.get(way[-1].values["new_code"], ()):
            if row.values["new_code"] not in seen:
                seen.add(row.values["new_code"])
                ways.append([*way, row])
    return []
