"""Front desk's list as a workbook: what not to sell, whom it touches, nights; no case details."""

from __future__ import annotations

from pathlib import Path
from zoneinfo import ZoneInfo

from openpyxl import Workbook

from hotelwatch.core.cases.desk import Block, DeskList, LetAgainstBlock, Touched, TouchedArrival
from hotelwatch.core.cases.keep_free import KeepFree
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.papers.listings import Attention, Frame, Listing, Value
from hotelwatch.papers.target import refuse_target, write_safely
from hotelwatch.papers.workbook import add_sheet, new_book, write_listing
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.desk import night_answer_text, night_cost_text, night_saves_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.problems import booking_text


def write_desk_list(path: Path, desk: DeskList, *, hotel: HotelDescribed, program: str) -> None:
    """Write front desk's list to ``path``. Raises Refusal as ``target.write_safely`` says."""
    refuse_target(path)
    write_safely(desk_book(desk, hotel=hotel, program=program), path)


def desk_book(desk: DeskList, *, hotel: HotelDescribed, program: str) -> Workbook:
    """Front desk's list in memory: what to block, whom it touches, what was let all the same."""
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
    book = new_book(frame, desk.made_at)
    earliest = _("“Earliest until” moves as work goes on; a named person gives a room back.")
    asked = _("For a room check in time. As booked now; a night is named by the day it begins.")
    for title, note, listing in (
        (_("Not to sell"), earliest, _blocks(desk)),
        (_("Guests touched"), _("Most urgent first."), _arrivals(desk)),
        (_("Let all the same"), _("There should be none."), _lets(desk)),
        (_("Please keep free"), asked, _nights(desk)),
    ):
        write_listing(add_sheet(book, frame, title, [note]), frame, listing)
    return book


def _blocks(desk: DeskList) -> Listing:
    headings = (_("Room"), _("Not to sell from"), _("Earliest until"), _("Waits for"))
    return Listing("blocks", headings, tuple(_block(block) for block in desk.blocks))


def _block(block: Block) -> tuple[Value, ...]:
    until: Value = block.earliest_until or _("until released")
    return block.room, block.from_at, until, label(block.condition)


def _arrivals(desk: DeskList) -> Listing:
    headings = (
        _("What to do"),
        _("Room"),
        _("Booking"),
        _("Arrival"),
        _("Departure"),
        _("Other room wanted from"),
        _("Rooms that would do"),
        _("Room not to sell until"),
    )
    return Listing("arrivals", headings, tuple(_arrival(row) for row in desk.arrivals))


def _arrival(row: TouchedArrival) -> tuple[Value, ...]:
    move = _("Move the guest") if row.touched is Touched.IN_HOUSE else _("Give another room")
    if row.is_provisional:
        move = _("Give any other room (this one is a guess)")
    return (
        Attention(move) if row.touched is Touched.IN_HOUSE else move,
        row.room,
        booking_text(row.stay.booking),
        row.stay.arrives_on,
        row.stay.leaves_on,
        row.from_on,
        ", ".join(row.candidates) or _("none of this type"),
        row.block.earliest_until or _("until released"),
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
    )
    return Listing("lets", headings, tuple(_let(row) for row in desk.lets_against))


def _let(row: LetAgainstBlock) -> tuple[Value, ...]:
    return (
        row.room,
        Attention(booking_text(row.stay.booking)),
        row.first_night,
        row.nights,
        _("let anew") if row.was_let_blocked else _("guest in house stayed on"),
        row.from_at,
        row.until_at or _("until released"),
    )


def _nights(desk: DeskList) -> Listing:
    headings = (_("Room"), _("Night of"), _("Costs"), _("Saves"), _("Bed-days"), _("Answer"))
    return Listing("nights", headings, tuple(_night(row) for row in desk.nights))


def _night(row: KeepFree) -> tuple[Value, ...]:
    answer = night_answer_text(row)
    return (
        row.room,
        row.night,
        night_cost_text(row),
        night_saves_text(row),
        row.overdue_bed_days,
        Attention(answer) if row.is_kept is None else answer,
    )
