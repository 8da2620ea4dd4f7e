"""What panels must keep to among each other: measurers who are known, and more than one of them in a session."""

from collections.abc import Iterator

from warehouse.book.reference.tables import Row, Rows

LEAST_MEASURERS = 2  # one measurer alone says nothing about how far measurers differ


def measurers_of_panels(tables: Rows) -> Iterator[str]:
    """Measurers of a panel that hold no certificate. Without measurers none is known, and none is asked for."""
    known = {row.values["measurer_no"] for row in tables["measurer"]}
    for row in tables["panel_measure"] if known else ():
        if row.values["measurer_no"] not in known:
            yield f"{row.place}, measurer: found {row.values['measurer_no']!r}; expected the number of a measurer (measurers.csv)"


def sessions_of_panels(tables: Rows) -> Iterator[str]:
    """Sessions with a single measurer."""
    sessions: dict[str, list[Row]] = {}
    for row in tables["panel_measure"]:
        sessions.setdefault(row.values["session"], []).append(row)
    for session, rows in sessions.items():
        measurers = {row.values["measurer_no"] for row in rows}
        if len(measurers) < LEAST_MEASURERS:
            yield (
                f"{rows[0].place}, measurer: found only {rows[0].values['measurer_no']!r} in the session {session!r}; "
                f"expected {LEAST_MEASURERS} measurers or more, for a panel holds them against each other"
            )
