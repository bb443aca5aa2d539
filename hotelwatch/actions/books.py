"""Books that leave the hotel: of a month, a quarter, a year."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hotelwatch.actions.open_hotel import whole_house
from hotelwatch.core.days import local_day, month_of
from hotelwatch.core.house import House
from hotelwatch.core.month.figures import figures
from hotelwatch.core.month.known import entry_days
from hotelwatch.core.month.periods import begun, months_of
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.parameters import Rules
from hotelwatch.core.progress import Progress, silent
from hotelwatch.papers.book_claims import MONTH, SPAN, Claims
from hotelwatch.papers.month_record import RecordProof
from hotelwatch.papers.target import refuse_target, write_safely
from hotelwatch.store.journal import PROGRAM
from hotelwatch.store.verify import Verification, verify
from hotelwatch.wording.language import current, speaking
from hotelwatch.wording.verification import fault_sentence

if TYPE_CHECKING:
    from hotelwatch.papers.listings import Book

COUNTED = 0.6
"""Share of the work after which every month is counted."""


def write_book(
    hotel_file: Path,
    rules: Rules,
    period: str,
    target: Path,
    now: datetime,
    language: str = "",
    *,
    progress: Progress = silent,
) -> Claims:
    """Write the workbook of a month (2026-02), a quarter (2026-Q1) or a year (2026).

    The record's verification stands in it. ``language``: empty for the one spoken.
    Refusal: those of ``figures``, of a target that can't be written, "month_to_come".
    """
    refuse_target(target)
    progress(0.0, "reading_record")
    house = whole_house(hotel_file, rules)
    with speaking(language):
        claims = claims_of(house, period, now)
        proof = proof_of(verify(hotel_file), claims)
        book = book_of(house, claims, proof, _part(progress, 0.0, COUNTED))
        write_safely(book, target, _part(progress, COUNTED, 1.0))
    return claims


def claims_of(house: House, period: str, now: datetime) -> Claims:
    """What a book made now of a house claims about itself."""
    last, first = max(house.entries, default=0), min(house.entries, default=0)
    return Claims(
        kind=SPAN if len(months_of(period)) > 1 else MONTH,
        period=period,
        made_at=now,
        language=current(),
        program=PROGRAM,
        first_digest=house.entries[first].digest if first else "",
        last_entry=last,
        last_digest=house.entries[last].digest if last else "",
    )


def proof_of(found: Verification, claims: Claims) -> RecordProof:
    """What a verification found, as a book prints it: as far as the book's own entries go."""
    return RecordProof(
        entries=claims.last_entry,
        last_digest=claims.last_digest,
        problems=tuple(fault_sentence(fault) for fault in found.problems),
    )


def book_of(house: House, claims: Claims, proof: RecordProof, progress: Progress = silent) -> Book:
    """The book that some claims stand for, from a house that knows what they name."""
    # Brought in when it is asked for: what writes workbooks takes its time to load.
    from hotelwatch.papers.month_book import month_book
    from hotelwatch.papers.span_book import span_book

    if claims.kind == MONTH:
        told = figures(house, claims.period, now=claims.made_at, progress=progress)
        return month_book(told, claims=claims, proof=proof)
    days = entry_days(house, house.zone)
    months = begun(months_of(claims.period), local_day(claims.made_at, house.zone))
    first = month_of(min(days.values(), default=local_day(claims.made_at, house.zone)))
    # Before the record's first day there is nothing to set side by side.
    months = tuple(month for month in months if month >= first) or months[-1:]
    told_months: list[MonthFigures] = []
    for number, month in enumerate(months):
        share = number / len(months)
        part = _part(progress, share, share + 1 / len(months))
        told_months.append(figures(house, month, now=claims.made_at, progress=part, days=days))
    return span_book(tuple(told_months), claims=claims, proof=proof)


def months_in(claims: Claims) -> tuple[str, ...]:
    """The months that a book is about."""
    return months_of(claims.period)


def _part(progress: Progress, low: float, high: float) -> Progress:
    """Progress of a part of the work within the whole."""

    def told(share: float, step: str) -> None:
        progress(low + (high - low) * share, step)

    return told
