"""Season labels in their order: 2024-25 is followed by 2025-26."""


def year_of(season: str) -> int:
    """The year a season begins in."""
    return int(season[:4])


def label_of(year: int) -> str:
    """The label of the season that begins in this year."""
    return f"{year:04d}-{(year + 1) % 100:02d}"


def span(first: int, last: int) -> str:
    """Seasons from the one that begins in `first` to the one that begins in `last`, in words."""
    return label_of(first) if first == last else f"{label_of(first)} to {label_of(last)}"
