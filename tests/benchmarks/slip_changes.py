"""How people get a number wrong: one copied from another sheet of paper, and one worked out. Plain integers of eighths.

The shares are the benchmark's own judgement (common practice, no source).
"""

import numpy as np

from tests.benchmarks.slip_sheets import AT, INCH, Flags, Ints, Rng, Sheets, inputs_of

COPIED_SHARES = (0.50, 0.20, 0.15, 0.15)  # another numerator, an inch off, a digit, the fraction left off
CARRIED_SHARES = (0.35, 0.35, 0.15, 0.05, 0.10)  # an inch, 1 to 3 eighths, a row left out, a row twice, as tenths
MOST_DRAWS = 100  # a length that no draw makes wrong stays as it is, and its sheet is passed over
SUMS_OF_ROWS = ("right_total", "left_total", "diff_total", "abnormal_total")


def miscopied(values: Ints, least: Ints, rng: Rng) -> Ints:
    """Each length as a person writes it wrong: never the same, never less than `least`."""
    changed = _written_wrong(values, rng)
    for _ in range(MOST_DRAWS):
        again = (changed == values) | (changed < least)
        if not again.any():
            break
        changed[again] = _written_wrong(values[again], rng)
    return changed


def _written_wrong(values: Ints, rng: Rng) -> Ints:
    """One draw: what is written may be the same, where the fraction is left off a length that has none."""
    inches, part = values // INCH, values % INCH
    chosen = rng.choice(4, len(values), p=COPIED_SHARES)
    numerator = inches * INCH + (part + rng.integers(1, INCH, len(values))) % INCH
    up = rng.random(len(values)) < 0.5
    an_inch = values + np.where(up, INCH, -INCH)
    a_digit = _other_digit(inches, rng) * INCH + part
    written: Ints = np.choose(chosen, [numerator, an_inch, a_digit, inches * INCH])
    return written


def _other_digit(inches: Ints, rng: Rng) -> Ints:
    """The last two digits turned round, or one digit changed; a leading digit does not become 0."""
    tens, ones = inches // 10 % 10, inches % 10
    turned = inches - 10 * tens - ones + 10 * ones + tens
    can_turn = (inches >= 10) & (tens != ones) & (ones > 0) & (rng.random(len(inches)) < 0.5)
    place = np.where(inches >= 100, 100, np.where(inches >= 10, 10, 1))
    place = np.where((rng.random(len(inches)) < 0.5) & (place > 1), place // 10, place)
    old = inches // place % 10
    leading = (inches < place * 10) & (place > 1)
    new = np.where(
        leading, 1 + (old - 1 + rng.integers(1, 9, len(inches))) % 9, (old + rng.integers(1, 10, len(inches))) % 10
    )
    return np.where(can_turn, turned, inches + (new - old) * place)


def misworked(sheets: Sheets, figure: str, rng: Rng) -> Ints:
    """By how much each sheet's figure is worked out wrong, of its inputs as they stand on the sheet."""
    number = len(sheets)
    lost = np.where((rng.random(number) < 0.5) & (sheets.of(figure) >= INCH), -INCH, INCH)
    few = rng.integers(1, 4, number)
    few = np.where((rng.random(number) < 0.5) & (sheets.of(figure) >= few), -few, few)
    rows = _rows(sheets, figure)
    a_row = rows[np.arange(number), one_of(rows > 0, rng)] if rows.shape[1] else np.zeros(number, dtype=np.int64)
    shares = np.array(CARRIED_SHARES)
    if not rows.shape[1]:
        shares[0] += shares[2:4].sum()
        shares[2:4] = 0
    chosen = rng.choice(5, number, p=shares / shares.sum())
    off = np.choose(chosen, [lost, few, -a_row, a_row, _at_ten(sheets, figure)])
    return np.where(off == 0, lost, off)


def _rows(sheets: Sheets, figure: str) -> Ints:
    """What a person adds up to the figure, (sheets, rows); nothing where it is no sum of rows."""
    if figure == "abnormal_total":
        return sheets.listed.reshape(len(sheets), -1)
    names = [cell for cell, _ in inputs_of(sheets.category).get(figure, ())] if figure in SUMS_OF_ROWS else []
    return sheets.values[:, [AT[cell] for cell in names]]


def _at_ten(sheets: Sheets, figure: str) -> Ints:
    """Off by so much where eighths were added, or lent, as if ten made an inch; 0 where that changes nothing."""
    if figure.endswith("_diff") or figure == "net":
        names = (
            (figure.replace("_diff", "_r"), figure.replace("_diff", "_l"))
            if figure != "net"
            else ("gross", "deductions")
        )
        one, other = (sheets.of(name) for name in names)
        more, less = (np.maximum(one, other), np.minimum(one, other)) if figure != "net" else (one, other)
        return np.where(more % INCH < less % INCH, 10 - INCH, 0)
    rows = _rows(sheets, figure)
    if not rows.shape[1]:
        rows = sheets.values[:, [AT[cell] for cell, _ in inputs_of(sheets.category)[figure]]]
    parts = (rows % INCH).sum(axis=1)
    shown = parts // 10 * INCH + parts % 10
    return np.where(parts % 10 < INCH, shown - parts, 0)  # 8 or 9 eighths nobody writes


def one_of(allowed: Flags, rng: Rng) -> Ints:
    """A column for each row, drawn evenly among those allowed; 0 where none is."""
    keys = np.where(allowed, rng.random(allowed.shape), -1.0)
    return np.asarray(keys.argmax(axis=1), dtype=np.int64)
