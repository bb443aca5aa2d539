"""Front desk's list as a workbook: what not to sell, whom it touches, nights; no case details."""

from __future__ import annotations

from pathlib import Path
from zoneinfo import ZoneInfo

from hotelwatch.core.cases.desk import BlockRow, DeskList
from hotelwatch.core.cases.keep_free import KeepFree
from hotelwatch.core.cases.lets import LetAgainstBlock
from hotelwatch.core.cases.touched import Touched, TouchedArrival
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.papers.listings import Attention, Book, Frame, Listing, Sheet, Value
from hotelwatch.papers.target import refuse_target, write_safely
from hotelwatch.wording.asked import answer_text
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.desk import (
    count_caution,
    explained_text,
    how_let_text,
    mind_text,
    move_text,
    night_cost_text,
    night_saves_text,
    release_by_text,
    state_text,
    total_text,
    what_to_do,
    without_room_text,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.problems import booking_text


def write_desk_list(path: Path, desk: DeskList, *, hotel: HotelDescribed, program: str) -> None:
    """Write front desk's list to ``path``. Raises Refusal as ``target.write_safely`` says."""
    refuse_target(path)
    write_safely(desk_book(desk, hotel=hotel, program=program), path)


def desk_book(desk: DeskList, *, hotel: HotelDescribed, program: str) -> Book:
    """Front desk's list before it is written: what to block, whom it touches, what was let."""
    zone = ZoneInfo(hotel.zone)
    made = moment_text(desk.made_at, zone)
    frame = Frame(
        hotel=hotel.name,
        subject=_("as of {moment}").format(moment=made),
        paper=hotel.paper,
        zone=zone,
        zone_name=hotel.zone,
        program=program,
    )
    earliest = _(
        "Days move as work goes on; a named person gives a room back. A night is named by the day"
        " it begins."
    )
    asked = _("For a room check in time. As booked now; a night is named by the day it begins.")
    guests = [_("Most urgent first; all rooms chosen together. Ask for a new list once one moved.")]
    if desk.without_room:
        guests.append(without_room_text(desk.without_room))
    told = (earliest, total_text(desk.total), count_caution())
    sheets = (
        Sheet(_("Not to sell"), (_blocks(desk),), told),
        Sheet(_("Guests touched"), (_arrivals(desk),), tuple(guests)),
        Sheet(_("Let all the same"), (_lets(desk),), (_("There should be none."),)),
        Sheet(_("Please keep free"), (_nights(desk),), (asked,)),
    )
    return Book(frame, desk.made_at, sheets)


def _blocks(desk: DeskList) -> Listing:
    headings = (
        _("Room"),
        _("Not to sell from"),
        _("Earliest until"),
        _("Expected until"),
        _("Latest until"),
        _("Waits for"),
        _("Given back by"),
        _("Looked at again"),
        _("Nights lost"),
        _("Nights to come"),
        _("Of them sold"),
    )
    return Listing("blocks", headings, tuple(_block(row) for row in desk.blocks))


def _block(row: BlockRow) -> tuple[Value, ...]:
    block, cost = row.block, row.cost
    return (
        block.room,
        block.from_at,
        block.earliest_until or _("until released"),
        block.expected_until or _("not known yet"),
        block.latest_until or _("not known yet"),
        state_text(block),
        release_by_text(block),
        block.review_on or "",
        cost.lost,
        _("not known yet") if cost.expected is None else cost.expected,
        cost.sold,
    )


def _arrivals(desk: DeskList) -> Listing:
    headings = (
        _("What to do"),
        _("Room"),
        _("Booking"),
        _("Arrival"),
        _("Departure"),
        _("Other room wanted from"),
        _("Room proposed"),
        _("About that room"),
        _("Room not to sell until"),
    )
    return Listing("arrivals", headings, tuple(_arrival(row) for row in desk.arrivals))


def _arrival(row: TouchedArrival) -> tuple[Value, ...]:
    is_agreed = row.move is not None and row.move.is_agreed
    told = what_to_do(row)
    return (
        Attention(told) if row.touched is Touched.IN_HOUSE and not is_agreed else told,
        row.room,
        booking_text(row.stay.booking),
        row.stay.arrives_on,
        row.stay.leaves_on,
        row.from_on,
        row.move.room if row.move else _("none"),
        move_text(row) if row.move is None else mind_text(row.move),
        row.block.expected_until or _("until released"),
    )


def _lets(desk: DeskList) -> Listing:
    headings = (
        _("Room"),
        _("Booking"),
        _("First night"),
        _("Nights"),
        _("How"),
        _("Not to sell from"),
        _("Not to sell until"),
        _("Explained"),
    )
    return Listing("lets", headings, tuple(_let(row) for row in desk.lets_against))


def _let(row: LetAgainstBlock) -> tuple[Value, ...]:
    word = explained_text(row)
    return (
        row.room,
        Attention(booking_text(row.stay.booking)),
        row.first_night,
        row.nights,
        how_let_text(row),
        row.from_at,
        row.until_at or _("until released"),
        word if row.explained else Attention(word),
    )


def _nights(desk: DeskList) -> Listing:
    headings = (_("Room"), _("Night of"), _("Costs"), _("Saves"), _("Late days"), _("Answer"))
    return Listing("nights", headings, tuple(_night(row) for row in desk.nights))


def _night(row: KeepFree) -> tuple[Value, ...]:
    answer = answer_text(row)
    return (
        row.room,
        row.night,
        night_cost_text(row),
        night_saves_text(row),
        row.overdue_bed_days,
        Attention(answer) if row.is_kept is None or row.is_sold else answer,
    )
