"""What a book claims about itself, so that it can be checked against a hotel's file later.

The words of this table are the same in every language: programs look for them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from hotelwatch.papers.listings import Listing
from hotelwatch.wording.language import _

MARK = "hotelwatch-book"
"""Stands left of the kind of book, wherever the table stands."""
MONTH, SPAN = "month", "span"


@dataclass(frozen=True, slots=True)
class Claims:
    """Of what a book was made."""

    kind: str
    """"month" for one month's book, "span" for a quarter's or a year's."""
    period: str
    """As 2026-02, 2026-Q1 or 2026."""
    made_at: datetime
    language: str
    program: str
    first_digest: str
    """Of the hotel's first entry: no two hotels share it."""
    last_entry: int
    """The last entry that was at hand."""
    last_digest: str
    has_odds: bool = False
    """Whether a month's book has the page on how likely something was missed."""


def claims_listing(claims: Claims) -> Listing:
    """The claims as a table."""
    rows = (
        (MARK, claims.kind),
        ("period", claims.period),
        ("made-at", claims.made_at.astimezone(UTC).isoformat(timespec="microseconds")),
        ("language", claims.language),
        ("program", claims.program),
        ("first-digest", claims.first_digest),
        ("last-entry", str(claims.last_entry)),
        ("last-digest", claims.last_digest),
        ("odds", "yes" if claims.has_odds else "no"),
    )
    return Listing("book", (_("Claim of this book"), _("Value")), rows, widest=70)


def claims_in(rows: Iterable[Sequence[object]]) -> Claims | None:
    """The claims among the rows of a sheet; None where they are not there or not whole."""
    found: dict[str, str] = {}
    for row in rows:
        if len(row) > 1 and isinstance(row[0], str) and isinstance(row[1], str):
            if row[0] == MARK:
                found = {}
            found.setdefault(row[0], row[1])
    if MARK not in found:
        return None
    try:
        made_at = datetime.fromisoformat(found["made-at"])
        return Claims(
            kind=found[MARK],
            period=found["period"],
            made_at=made_at if made_at.tzinfo else made_at.replace(tzinfo=UTC),
            language=found["language"],
            program=found["program"],
            first_digest=found["first-digest"],
            last_entry=int(found["last-entry"]),
            last_digest=found["last-digest"],
            has_odds=found.get("odds") == "yes",
        )
    except (KeyError, ValueError):
        return None
