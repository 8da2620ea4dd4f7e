"""The text of a typed spreadsheet cell: its value, and in brackets the format that changes what it means."""

import math
from datetime import date, datetime, timedelta

from loaders.readers.number_formats import DATE, PLAIN, TIME, NumberFormat

_DAY_MS = 86_400_000
# The 1900 system counts 1 January 1900 as day 1 and holds a 29 February 1900 (day 60) that never was; so days
# after it count from 30 December 1899. The 1904 system counts 1 January 1904 as day 0. (ECMA-376 Part 1,
# 18.17.4.1.)
_EPOCH_1900, _EPOCH_BEFORE_DAY_60, _EPOCH_1904 = date(1899, 12, 30), date(1899, 12, 31), date(1904, 1, 1)
_PHANTOM_DAY = 60
_WHOLE_UP_TO = 1e21


def number_text(value: float) -> str:
    """The shortest text that gives `value` back; a whole number without point (`17`, never `17.0`)."""
    if value.is_integer() and abs(value) < _WHOLE_UP_TO:  # inf and NaN are no integers
        return str(int(value))
    return repr(value)


def with_format(text: str, form: NumberFormat) -> str:
    """`text`, a blank and the format in brackets; a plain format adds nothing."""
    return text if form.kind == PLAIN else f"{text} [{form.code}]"


def stored_number_text(stored: str, form: NumberFormat, from_1904: bool) -> str:
    """The text of a numeric cell: `stored` is the number as the file writes it, `form` its format.

    Dates come as ISO 8601 (with time when it is not midnight), a clock time below one day as hh:mm:ss. A
    serial that is no date stays a number; what is no number stays as it is written.
    """
    try:
        value = float(stored)
    except ValueError:
        return stored
    if not math.isfinite(value):
        return stored
    moment = serial_text(value, form, from_1904) if form.kind in (DATE, TIME) else None
    return with_format(moment or number_text(value), form)


def serial_text(value: float, form: NumberFormat, from_1904: bool) -> str | None:
    """The ISO text of a spreadsheet date serial (days), or None when it stands for no date."""
    days, ms = divmod(round(value * _DAY_MS), _DAY_MS)
    if form.kind == TIME and days == 0:
        return _clock(datetime.min + timedelta(milliseconds=ms))
    if not from_1904 and days in (0, _PHANTOM_DAY):
        return None
    epoch = _EPOCH_1904 if from_1904 else _EPOCH_1900 if days > _PHANTOM_DAY else _EPOCH_BEFORE_DAY_60
    try:
        moment = datetime.combine(epoch, datetime.min.time()) + timedelta(days=days, milliseconds=ms)
    except OverflowError:
        return None
    if days < 0 or moment.year > 9999:
        return None
    return moment_text(moment)


def moment_text(moment: datetime) -> str:
    """ISO 8601 date, with `T` and the time only when it is not midnight."""
    day = moment.date().isoformat()
    return day if moment.time() == datetime.min.time() else f"{day}T{_clock(moment)}"


def _clock(moment: datetime) -> str:
    return moment.time().isoformat(timespec="milliseconds" if moment.microsecond else "seconds")
