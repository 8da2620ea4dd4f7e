"""The balance of a book: what became of every row that was received."""

from dataclasses import dataclass
from importlib.resources import files

import duckdb


@dataclass(frozen=True)
class Balance:
    """Rows received, and what became of them: every row is in exactly one of the others.

    `received`: as counted when the files came. By the present status of the entry whose first row it is: `accepted`,
    `held`, `refused`, `withdrawn`. No entry of its own: `sent_again` (a later row of an entry that the book held
    already), `merged` (one head with another entry).
    """

    received: int
    accepted: int
    held: int
    refused: int
    withdrawn: int
    sent_again: int
    merged: int

    @property
    def parts(self) -> dict[str, int]:
        """What became of the rows, in words; what became of none is left out, apart from accepted and held."""
        counts = {
            "accepted": self.accepted, "held": self.held, "refused": self.refused, "withdrawn": self.withdrawn,
            "sent again": self.sent_again, "merged": self.merged,
        }  # fmt: skip
        return {words: count for words, count in counts.items() if count or words in ("accepted", "held")}

    @property
    def holds(self) -> bool:
        """Received = accepted + held + refused + withdrawn + sent again + merged."""
        return self.received == sum(self.parts.values())


def balance(connection: duckdb.DuckDBPyConnection) -> Balance:
    """Count the received rows by what became of them."""
    query = files("warehouse.book").joinpath("balance.sql").read_text(encoding="utf-8")
    return Balance(*(int(count) for count in connection.execute(query).fetchall()[0]))
