"""Commands for front desk: move a guest, rank types of room, explain a let, write calendars."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.desk import (
    explain_let,
    front_desk,
    let_of,
    move_guest,
    rank_types,
    touched_guest,
    write_desk_calendar,
)
from hotelwatch.cli.common import (
    DAY,
    FILE,
    by_option,
    hotel_argument,
    opened,
    said_plainly,
)
from hotelwatch.core.choice_facts import RoomTypesRanked
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.roles import Sight
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.problems import booking_text


@click.command("move-guest", short_help="Agree to the room proposed for a guest.")
@hotel_argument
@click.argument("from_room")
@click.option("--to", "to_room", default="", help="Another room than the one proposed.")
@click.option("--booking", default="", help="Which booking, where several are touched.")
@by_option
def move_guest_from(
    hotel_file: Path, from_room: str, *, to_room: str, booking: str, by: str
) -> None:
    """Write down that the guest of FROM_ROOM moves to the room that front desk's list proposes.

    The bookings stay front desk's: change the booking in your booking system too.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        row = touched_guest(front_desk(hotel), RoomNo(from_room), booking)
        if not to_room and row.move is None:
            raise Refusal("no_room_to_move_to", room=from_room)
        chosen = RoomNo(to_room) if to_room or row.move is None else row.move.room
        move_guest(hotel, row, chosen)
        told = _("Written down: {booking} to {room}. Change it in your booking system too.")
        click.echo(told.format(booking=booking_text(row.stay.booking), room=chosen))


@click.command("rank-types", short_help="Say which types of room are better ones.")
@hotel_argument
@click.argument("types", nargs=-1)
@click.option("--none", "is_none", is_flag=True, help="Take the order back.")
@by_option
def rank_room_types(hotel_file: Path, types: tuple[str, ...], *, is_none: bool, by: str) -> None:
    """Put TYPES of room in order, the plainest first: a guest may be moved to a better one.

    Without TYPES the order that holds is shown. Types left out are moved within only.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        if types or is_none:
            rank_types(hotel, () if is_none else types)
        ranked = hotel.house.all_of(RoomTypesRanked)
        if not ranked or not ranked[-1].types:
            click.echo(_("No order: guests are moved within a type only."))
            return
        click.echo(_("From plain to best: {types}").format(types=" < ".join(ranked[-1].types)))


@click.command("explain-let", short_help="Say how a blocked room came to be let.")
@hotel_argument
@click.argument("room")
@click.argument("night", type=DAY)
@click.argument("note")
@by_option
def explain_let_of(hotel_file: Path, room: str, night: date | None, note: str, *, by: str) -> None:
    """Write down in NOTE how ROOM came to be let the NIGHT although it was blocked.

    --by names who says so. A month with a let that nobody explained can't be closed.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        let = let_of(hotel, RoomNo(room), night or hotel.today())
        explain_let(hotel, let, note=note, by=by)
        click.echo(_("Written down why room {room} was let.").format(room=room))


@click.command("desk-calendar", short_help="Write blocked rooms as an iCalendar file.")
@hotel_argument
@click.argument("target", type=FILE)
@click.option("--deadlines", is_flag=True, help="Housekeeping's deadlines; not for front desk.")
def desk_calendar(hotel_file: Path, target: Path, *, deadlines: bool) -> None:
    """Write blocked rooms to TARGET, a file that ends in .ics.

    Load it into a calendar again after every change: it replaces what it wrote before.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        if deadlines:
            hotel.require_sight(Sight.CASES)
        count = write_desk_calendar(hotel, target, deadlines=deadlines)
        counted = ngettext("{file}: {n} event", "{file}: {n} events", count)
        click.echo(counted.format(file=target, n=count))
