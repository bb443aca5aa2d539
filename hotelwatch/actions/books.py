"""Books that leave the hotel: of a month, a quarter, a year."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hotelwatch.actions.open_hotel import whole_house
from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.days import local_day, month_of
from hotelwatch.core.house import House
from hotelwatch.core.month.figures import figures, period_of
from hotelwatch.core.month.known import entry_days
from hotelwatch.core.month.periods import begun, months_of
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.parameters import Rules
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.papers.book_claims import MONTH, SPAN, Claims
from hotelwatch.papers.month_record import RecordProof
from hotelwatch.papers.target import refuse_target, write_safely
from hotelwatch.store.journal import PROGRAM
from hotelwatch.store.verify import Verification, verify
from hotelwatch.wording.language import current, speaking
from hotelwatch.wording.verification import fault_sentence

if TYPE_CHECKING:
    from hotelwatch.papers.listings import Book
    from hotelwatch.papers.month_odds import OddsOfMonth

COUNTED = 0.6
"""Share of the work after which every month is counted."""
SHARE_BEFORE_ODDS = 0.4
"""Share of the counting after which a month's odds are reckoned."""


def write_book(
    hotel_file: Path,
    rules: Rules,
    period: str,
    target: Path,
    now: datetime,
    language: str = "",
    *,
    with_odds: bool = False,
    progress: Progress = silent,
) -> Claims:
    """Write the workbook of a month (2026-02), a quarter (2026-Q1) or a year (2026).

    The record's verification stands in it; in a month's book ``with_odds`` also how likely
    something was missed in each room, which takes most of the time in a large hotel.
    ``language``: empty for the one spoken.
    Refusal: those of ``figures``, of a target that can't be written, "month_to_come".
    """
    refuse_target(target)
    progress(0.0, "reading_record")
    house = whole_house(hotel_file, rules)
    with speaking(language):
        claims = claims_of(house, period, now, with_odds=with_odds)
        proof = proof_of(verify(hotel_file), claims)
        book = book_of(house, claims, proof, _part(progress, 0.0, COUNTED))
        write_safely(book, target, _part(progress, COUNTED, 1.0))
    return claims


def claims_of(house: House, period: str, now: datetime, *, with_odds: bool = False) -> Claims:
    """What a book made now of a house claims about itself."""
    last, first = max(house.entries, default=0), min(house.entries, default=0)
    kind = SPAN if len(months_of(period)) > 1 else MONTH
    return Claims(
        kind=kind,
        period=period,
        made_at=now,
        language=current(),
        program=PROGRAM,
        first_digest=house.entries[first].digest if first else "",
        last_entry=last,
        last_digest=house.entries[last].digest if last else "",
        has_odds=with_odds and kind == MONTH,
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
    share = SHARE_BEFORE_ODDS if claims.has_odds else 1.0
    months = months_told(house, claims, _part(progress, 0.0, share))
    return book_from(house, months, claims, proof, _part(progress, share, 1.0))


def months_told(
    house: House, claims: Claims, progress: Progress = silent
) -> tuple[MonthFigures, ...]:
    """The figures of each month of a book, in order."""
    if claims.kind == MONTH:
        return (figures(house, claims.period, now=claims.made_at, progress=progress),)
    days = entry_days(house, house.zone)
    months = begun(months_of(claims.period), local_day(claims.made_at, house.zone))
    first = month_of(min(days.values(), default=local_day(claims.made_at, house.zone)))
    # Before the record's first day there is nothing to set side by side.
    months = tuple(month for month in months if month >= first) or months[-1:]
    told: list[MonthFigures] = []
    for number, month in enumerate(months):
        share = number / len(months)
        part = _part(progress, share, share + 1 / len(months))
        told.append(figures(house, month, now=claims.made_at, progress=part, days=days))
    return tuple(told)


def book_from(
    house: House,
    months: tuple[MonthFigures, ...],
    claims: Claims,
    proof: RecordProof,
    progress: Progress = silent,
) -> Book:
    """The book of months that are counted already."""
    # Brought in when it is asked for: what writes workbooks takes its time to load.
    from hotelwatch.papers.month_book import month_book
    from hotelwatch.papers.span_book import span_book

    if claims.kind != MONTH:
        return span_book(months, claims=claims, proof=proof)
    odds = _odds_of(house, claims, progress) if claims.has_odds else None
    return month_book(months[0], claims=claims, proof=proof, odds=odds)


def _odds_of(house: House, claims: Claims, progress: Progress) -> OddsOfMonth:
    """The odds of every room at the end of a month's account, by what its book knows."""
    # Their arrays take time to load.
    from hotelwatch.core.odds.hotel import reckon
    from hotelwatch.core.odds.rows import hotel_row, room_rows
    from hotelwatch.papers.month_odds import OddsOfMonth

    known, period = period_of(house, claims.period, claims.made_at)
    today = min(period.last_on, local_day(claims.made_at, house.zone))
    around = neighbours(known, lay_out(known))
    told = reckon(known, occupancy(known, today), around, today, progress=progress)
    rows = room_rows(known, told)
    return OddsOfMonth(rows, hotel_row(rows), told.rules)


def months_in(claims: Claims) -> tuple[str, ...]:
    """The months that a book is about."""
    return months_of(claims.period)


def _part(progress: Progress, low: float, high: float) -> Progress:
    """Progress of a part of the work within the whole."""

    def told(share: float, step: str) -> None:
        progress(low + (high - low) * share, step)

    return told
