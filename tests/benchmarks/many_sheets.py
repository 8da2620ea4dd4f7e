"""Seeded score sheets by the million as CSV: 45 columns, lengths as text, about one sheet in fifty with a fault."""

from pathlib import Path

import numpy as np
import polars as pl
from numpy.typing import NDArray

Units = NDArray[np.int32]

PAIRS = {
    "beam": (140, 200), "g1": (20, 50), "g2": (50, 90), "g3": (50, 90), "g4": (20, 60),
    "h1": (30, 45), "h2": (28, 42), "h3": (28, 42), "h4": (28, 42),
}  # fmt: skip
AREAS = ["Abberlow", "Brindmoor", "Corrowick", "Saint Orvane"]
FAULT_RATE = 0.01


def write_sheets(path: Path, sheets: int, seed: int = 20261125) -> None:
    """Write `sheets` whitetail sheets to `path`."""
    rng = np.random.default_rng(seed)
    figures = _figures(rng, sheets)
    columns = _entries(rng, sheets) | {name: _texts(units) for name, units in figures.items()}
    pl.DataFrame(columns).write_csv(path)


def _entries(rng: np.random.Generator, sheets: int) -> dict[str, pl.Series]:
    number = pl.Series(np.arange(sheets)).cast(pl.String)
    return {
        "entry_no": "E" + number,
        "category": pl.Series(["whitetail-typical"]).new_from_index(0, sheets),
        "hunter": "Hunter " + number,
        "area": pl.Series(rng.choice(AREAS, sheets)),
        "state": pl.Series(["QM"]).new_from_index(0, sheets),
        "taken_on": pl.Series([f"2024-11-{day:02d}" for day in range(1, 31)]).gather(rng.integers(0, 30, sheets)),
        "weapon": pl.Series(rng.choice(["rifle", "bow", "muzzleloader"], sheets)),
        "measured_on": pl.Series([f"2025-02-{day:02d}" for day in range(1, 28)]).gather(rng.integers(0, 27, sheets)),
        "measurer": pl.Series(rng.choice(["M-001", "M-003", "M-007"], sheets)),
    }


def _figures(rng: np.random.Generator, sheets: int) -> dict[str, Units]:
    columns: dict[str, Units] = {"inside_spread": rng.integers(100, 150, sheets, dtype=np.int32)}
    right = np.zeros(sheets, np.int32)
    left, differences = right.copy(), right.copy()
    for name, (least, most) in PAIRS.items():
        one = rng.integers(least, most, sheets, dtype=np.int32)
        other = np.clip(one + rng.integers(-5, 6, sheets, dtype=np.int32), least, most)
        columns |= {f"{name}_r": one, f"{name}_l": other, f"{name}_diff": np.abs(one - other)}
        right, left, differences = right + one, left + other, differences + np.abs(one - other)
    credit = np.minimum(columns["inside_spread"], np.maximum(columns["beam_r"], columns["beam_l"]))
    gross = credit + right + left
    columns |= {"spread_credit": credit, "right_total": right, "left_total": left, "diff_total": differences,
                "abnormal_total": np.zeros(sheets, np.int32), "gross": _faulty(rng, gross),
                "deductions": differences, "net": _faulty(rng, gross - differences)}  # fmt: skip
    return columns


def _faulty(rng: np.random.Generator, units: Units) -> Units:
    """The figures with a slip of up to an inch in about one in a hundred."""
    slip = rng.integers(1, 9, units.size, dtype=np.int32)
    return np.where(rng.random(units.size) < FAULT_RATE, units + slip, units).astype(np.int32)


def _texts(units: Units) -> pl.Series:
    spelled = [f"{n // 8} {n % 8}/8" if n % 8 else str(n // 8) for n in range(int(units.max()) + 1)]
    return pl.Series(spelled).gather(units)
