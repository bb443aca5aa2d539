"""Commands for a case's ring, and for what ties rooms: carts and guests who moved."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.links import (
    ask_rooms,
    ask_whole_floor,
    record_guest_move,
    ring,
    serve_with_cart,
)
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.common import DAY, by_option, hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.cases.links import carts, stays_since
from hotelwatch.core.cases.ring import Ring, next_first
from hotelwatch.core.cases.ring_rooms import RingRoom
from hotelwatch.core.choice_facts import CartServes
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.ring import by_when_text, growth_sentence, reasons_text, state_text


@click.command("ring", short_help="List who else must be looked at because of a case.")
@hotel_argument
@click.argument("case")
@click.option("--ask", is_flag=True, help="Ask for the rooms that it wants by now.")
@click.option("--also", "also", multiple=True, metavar="ROOM", help="With --ask: one left out.")
@click.option("--whole-floor", default=None, metavar="FLOOR", help="Ask for all of a floor.")
@click.option("--stays", is_flag=True, help="List who stayed in the rooms with a sign, by number.")
@by_option
def ring_of_case(
    hotel_file: Path,
    case: str,
    *,
    ask: bool,
    also: tuple[str, ...],
    whole_floor: str | None,
    stays: bool,
    by: str,
) -> None:
    """List every room that CASE wants looked at: why, by when, how it stands."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        if ask:
            ask_rooms(hotel, CaseNo(case), struck_out=frozenset(map(RoomNo, also)))
        if whole_floor is not None:
            ask_whole_floor(hotel, CaseNo(case), whole_floor)
        found, now = ring(hotel, CaseNo(case)), hotel.now()

        def row(one: RingRoom) -> tuple[str, ...]:
            return (
                str(one.rank),
                one.room,
                state_text(one),
                by_when_text(one, hotel.zone, now=now),
                str(one.wave),
                reasons_text(one.reasons),
                ", ".join(one.serves),
            )

        say_table(
            (
                _("Rank"),
                _("Room"),
                _("State"),
                _("By when"),
                _("Wave"),
                _("Why"),
                _("Serves also"),
            ),
            map(row, next_first(found.rooms)),
            _("No room."),
        )
        click.echo(growth_sentence(found))
        if stays:
            _say_stays(hotel, found)


def _say_stays(hotel: OpenHotel, found: Ring) -> None:
    """Print the bookings of each room with a sign since the look-back began."""
    today = hotel.today()
    say_table(
        (_("Room"), _("Booking"), _("Arrival"), _("Departure")),
        (
            (centre.room, stay.booking, day_text(stay.arrives_on), day_text(stay.leaves_on))
            for centre in found.centres
            for stay in stays_since(
                hotel.house,
                centre.room,
                sign_on=local_day(centre.since.seen_at, hotel.zone),
                today=today,
            )
        ),
        _("No booking is known of these rooms."),
    )


@click.command("cart", short_help="List carts, or say which rooms one serves.")
@hotel_argument
@click.argument("cart", required=False)
@click.argument("rooms", nargs=-1)
@click.option("--from", "from_on", type=DAY, default="today", show_default=True)
@click.option("--no-longer", is_flag=True, help="The cart is no longer used.")
@by_option
def cart_of(
    hotel_file: Path,
    cart: str | None,
    rooms: tuple[str, ...],
    *,
    from_on: date | None,
    no_longer: bool,
    by: str,
) -> None:
    """Say that CART serves ROOMS from a day on; without ROOMS, list what carts serve."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        if cart is not None and (rooms or no_longer):
            day = from_on or hotel.today()
            serve_with_cart(hotel, CartServes(cart, () if no_longer else rooms, day))
        say_table(
            (_("Cart"), _("Since"), _("Rooms")),
            (
                (one.cart, day_text(one.from_on), join(list(one.rooms)))
                for one in carts(hotel.house, hotel.today())
                if cart in (None, one.cart)
            ),
            _("No cart is known yet."),
        )


@click.command("guest-moved", short_help="Write down that guests changed rooms.")
@hotel_argument
@click.argument("from_room")
@click.argument("to_room")
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--booking", default="", help="Its number; never a guest's name.")
@click.option("--case", default="", help="The case because of which they moved.")
@by_option
def guest_moved(
    hotel_file: Path,
    from_room: str,
    to_room: str,
    *,
    day: date | None,
    booking: str,
    case: str,
    by: str,
) -> None:
    """Write down that guests went from FROM_ROOM to TO_ROOM; open cases ask for both."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        moved_on = day or hotel.today()
        both = RoomNo(from_room), RoomNo(to_room)
        record_guest_move(hotel, GuestMoved(*both, moved_on, booking, by, case))
        click.echo(_("Written down."))
