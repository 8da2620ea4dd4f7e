"""A second reader of length text, for tests only: one text at a time, cut into pieces by hand, exact fractions out.

It follows the same rules as the product and shares nothing with it: no pattern, no table, no frame.
A text is made plain, cut into runs of digits, runs of letters and single signs, and told by the shape they make
("n n/n"). States are words; readings are inches: one for a sure or proposed length, two for an open one.
"""

from datetime import date, timedelta
from fractions import Fraction
from math import floor

Readings = tuple[Fraction | None, ...]
Verdict = tuple[str, Readings]
UNREADABLE: Verdict = ("unreadable", ())
NOTHING = {"-", "--", "---", "n/a", "na", "none", "nil", "absent", "x", "no"}
LONE_SIGNS = dict(
    zip(
        "⅛¼⅜½⅝¾⅞⅓⅔⅕⅖⅗⅘⅙⅚",
        ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8", "1/3", "2/3", "1/5", "2/5", "3/5", "4/5", "1/6", "5/6"],
        strict=True,
    )
)
BLANKS = "\t\n\x0b\x0c\r \x85\xa0\u1680\u2028\u2029\u202f\u205f\u3000\u200b\ufeff" + "".join(
    map(chr, range(0x2000, 0x200B))
)
INCH_MARKS = "\"”“″'′’"
MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
LONGEST = 60  # inches that a head can have in one measure


def read(text: str | None, unit: int = 8) -> Verdict:
    """State and readings of one text; `unit` is 8 for eighths, 16 for sixteenths."""
    body, number_format = _without_format(text or "")
    plain = _plain(body)
    if not plain:
        return "blank", ()
    if plain in NOTHING:
        return "absent", (Fraction(0),)
    negative = plain.startswith("-")
    pieces = _pieces(plain[1:] if negative else plain)
    shape = "".join("n" if p[0] in "0123456789" else "w" if p.isalpha() and p.isascii() else p for p in pieces)
    found = _told(shape, pieces, number_format, unit)
    if negative:
        signed = shape in ("n", "n.", "n,", "n/n", "n n/n", "n-n/n", "n.n", "n,n", ".n", ",n")
        return found if signed and found == ("measured", (Fraction(0),)) else UNREADABLE
    return found


# The text made plain ------------------------------------------------------------------------------------------------


def _without_format(text: str) -> tuple[str, str]:
    """`17.4 [# ?/8]` -> `17.4` and `# ?/8`."""
    start = text.rfind(" [")
    if not text.endswith("]") or start < 1 or text[start - 1] in BLANKS:
        return text, ""
    inside = text[start + 2 : -1]
    return (text, "") if "[" in inside or "]" in inside else (text[:start], inside)


def _plain(text: str) -> str:
    out = ""
    for sign in text:
        out += f" {LONE_SIGNS[sign]}" if sign in LONE_SIGNS else " " if sign in BLANKS else sign
    for sign in "⁄∕":
        out = out.replace(sign, "/")
    for sign in "–—−‐‑":
        out = out.replace(sign, "-")
    out = " ".join(part for part in out.split(" ") if part).lower().removeprefix("'")
    out = _without_inch_mark(out)
    out = "".join(_and_left_out(_pieces(out))).replace(" /", "/").replace("/ ", "/")
    return _dash_closed(out).strip(" ")


def _without_inch_mark(text: str) -> str:
    kept = text.rstrip(INCH_MARKS)
    if kept == text:
        kept = next((text.removesuffix(word) for word in ("inches", "inch", "in.", "in") if text.endswith(word)), text)
    kept = kept.removesuffix(" ")
    return kept if kept and kept[-1] in "0123456789" else text


def _and_left_out(pieces: list[str]) -> list[str]:
    """`5 & 4/8`, `7 and 4`: the first joining sign between two numbers becomes a blank."""
    for place, piece in enumerate(pieces):
        before, after = pieces[:place], pieces[place + 1 :]
        before = before[:-1] if before and before[-1] == " " else before
        after = after[1:] if after and after[0] == " " else after
        between = before and after and _kind(before[-1][0]) == _kind(after[0][0]) == "digit"
        if piece in ("&", "+", "and") and between:
            return [*before, " ", *after]
    return pieces


def _dash_closed(text: str) -> str:
    """A dash between the first number and the next stands without blanks."""
    pieces = _pieces(text)
    if pieces and _kind(pieces[0][0]) == "digit":
        rest = "".join(pieces[1:])
        for dash in (" - ", " -", "- ", "-"):
            if rest.startswith(dash) and rest[len(dash) :][:1] in tuple("0123456789"):
                return f"{pieces[0]}-{rest[len(dash) :]}"
    return text


def _pieces(text: str) -> list[str]:
    pieces: list[str] = []
    for sign in text:
        kind = _kind(sign)
        if pieces and kind != "sign" and _kind(pieces[-1][0]) == kind:
            pieces[-1] += sign
        else:
            pieces.append(sign)
    return pieces


def _kind(sign: str) -> str:
    return "digit" if sign in "0123456789" else "letter" if sign.isascii() and sign.isalpha() else "sign"


# What a shape is worth ----------------------------------------------------------------------------------------------


def _told(shape: str, pieces: list[str], number_format: str, unit: int) -> Verdict:
    numbers = [piece for piece in pieces if piece[0] in "0123456789"]
    if shape in ("n", "n.", "n,"):
        return _whole(numbers[0], shape, unit)
    if shape in (".n", ",n"):
        return _decimal("0", numbers[0], number_format, unit)
    if shape in ("n.n", "n,n"):
        return _decimal(numbers[0], numbers[1], number_format, unit)
    if shape == "n/n":
        return _stroke(numbers[0], numbers[1], unit)
    if shape in ("n n/n", "n-n/n"):
        return _mixed(numbers, unit)
    if shape in ("n n", "n-n"):
        return _no_stroke(numbers[0], numbers[1], unit)
    if shape in ("n-n-n", "n n-n") and len(numbers[0]) < 4:
        return _lost_stroke(numbers[0], numbers[1], numbers[2], unit)
    return _date(shape, pieces, numbers, unit)


def _sure(inches: Fraction | None) -> Verdict:
    return ("measured", (inches,)) if inches is not None else UNREADABLE


def _whole(number: str, shape: str, unit: int) -> Verdict:
    if len(number) <= 4:
        return _sure(Fraction(int(number)))
    if len(number) == 5 and shape == "n" and 20_000 <= int(number) <= 60_000:
        day = date(1899, 12, 30) + timedelta(days=int(number))
        return _as_date(day.month, day.day, unit)
    return UNREADABLE


def _part(numerator: int, denominator: int, unit: int) -> Fraction | None:
    """A part of an inch, where it is a whole number of units and less than an inch."""
    if denominator not in (2, 4, 8, 16) or numerator >= denominator:
        return None
    part = Fraction(numerator, denominator)
    return part if (part * unit).denominator == 1 else None


def _mixed(numbers: list[str], unit: int) -> Verdict:
    if len(numbers[0]) > 4 or len(numbers[1]) > 4 or len(numbers[2]) > 2:
        return UNREADABLE
    part = _part(int(numbers[1]), int(numbers[2]), unit)
    return _sure(None if part is None else int(numbers[0]) + part)


def _stroke(top: str, bottom: str, unit: int) -> Verdict:
    """ "5/8", or "277/8": 27 7/8 run together, or so many eighths."""
    if len(top) > 4 or len(bottom) > 2:
        return UNREADABLE
    part = _part(int(top), int(bottom), unit)
    if part is not None:
        return _sure(part)
    if int(bottom) not in (8, 16) or int(top) < int(bottom):
        return UNREADABLE
    apart = _run_together(top, int(bottom), unit)
    improper: Fraction | None = Fraction(int(top), int(bottom))
    if improper is not None and ((improper * unit).denominator != 1 or improper > LONGEST):
        improper = None
    if apart is not None and improper is not None:
        return "open", (apart, improper)
    return _sure(apart if apart is not None else improper)


def _run_together(top: str, bottom: int, unit: int) -> Fraction | None:
    digits = 2 if bottom == 16 and len(top) > 2 and 10 <= int(top[-2:]) <= 15 else 1
    whole, numerator = top[:-digits], int(top[-digits:])
    part = _part(numerator, bottom, unit) if numerator else None
    return None if part is None or not whole else int(whole) + part


def _no_stroke(whole: str, rest: str, unit: int) -> Verdict:
    if len(whole) > 3:
        return UNREADABLE
    if len(rest) <= 2 and int(rest) < unit:
        return _sure(int(whole) + Fraction(int(rest), unit))
    for bottom in ("8", "16"):
        top = rest.removesuffix(bottom)
        if top and top != rest and len(top) <= 2:
            part = _part(int(top), int(bottom), unit)
            return _sure(None if part is None else int(whole) + part)
    return UNREADABLE


def _lost_stroke(whole: str, top: str, bottom: str, unit: int) -> Verdict:
    if len(top) > 2 or bottom not in ("8", "16"):
        return UNREADABLE
    part = _part(int(top), int(bottom), unit)
    return _sure(None if part is None else int(whole) + part)


# Decimals -----------------------------------------------------------------------------------------------------------


def _decimal(whole: str, digits: str, number_format: str, unit: int) -> Verdict:
    if len(whole) > 4 or len(digits) > 18:
        return UNREADABLE
    if "/" in number_format:
        return _behind_fraction_format(int(whole), digits, unit)
    kept = digits.rstrip("0") or "0"
    if len(kept) == 1 and len(digits) > 1 and kept != "0":
        kept += "0"  # "8.50" is a decimal written out, "8.5" may count eighths
    counted = Fraction(int(kept), unit) if kept == str(int(kept)) and int(kept) < unit else None
    meant = [n for n in range(unit) if _rounds_to(Fraction(n, unit), kept)]
    decimal = Fraction(meant[0], unit) if len(meant) == 1 else None
    readings = tuple(None if part is None else int(whole) + part for part in (counted, decimal))
    if decimal is None or counted == decimal:
        return _sure(readings[0])
    if counted is None and (len(kept) > 1 or decimal == Fraction(int(kept), 10)):
        return _sure(readings[1])
    return "open", readings


def _rounds_to(part: Fraction, digits: str) -> bool:
    """Whether half-up or half-to-even rounding writes `part` with exactly these digits (at most four)."""
    if len(digits) > 4:
        return False
    scaled = part * 10 ** len(digits)
    return int(digits) in (floor(scaled + Fraction(1, 2)), round(scaled))


def _behind_fraction_format(whole: int, digits: str, unit: int) -> Verdict:
    number = whole + Fraction(int(digits[:6]), 10 ** len(digits[:6]))
    if (number * unit).denominator == 1:
        return _sure(number)
    return "hidden", (Fraction(floor(number * unit + Fraction(1, 2)), unit),)


# Dates --------------------------------------------------------------------------------------------------------------


def _date(shape: str, pieces: list[str], numbers: list[str], unit: int) -> Verdict:
    sizes = [len(number) for number in numbers]
    words = [piece for piece in pieces if piece.isalpha()]
    iso = sizes[:3] == [4, 2, 2]
    midnight = numbers[3:] == ["00", "00", "00"]
    if iso and (
        shape == "n-n-n" or (midnight and (shape == "n-n-n n:n:n" or (shape == "n-n-nwn:n:n" and words == ["t"])))
    ):
        return _as_date(int(numbers[1]), int(numbers[2]), unit)
    if shape == "n/n/n" and max(sizes[:2]) <= 2 and sizes[2] in (2, 4):
        return _as_date(int(numbers[0]), int(numbers[1]), unit)
    if (
        shape in ("n-w", "n-w-n", "w-n")
        and words[0] in MONTHS
        and sizes[0] <= 2
        and (shape != "n-w-n" or 2 <= sizes[1] <= 4)
    ):
        return _as_date(MONTHS.index(words[0]) + 1, int(numbers[0]), unit)
    return UNREADABLE


def _as_date(one: int, other: int, unit: int) -> Verdict:
    part = _part(min(one, other), max(one, other), unit)
    return ("date", (part,)) if part is not None else UNREADABLE
