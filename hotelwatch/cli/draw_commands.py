"""The command that draws a room, or says where it lies."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions.drawing import draw_room
from hotelwatch.actions.hotel import check_room
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.common import by_option, hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.building.outlines import signed_area
from hotelwatch.core.facts import RoomNo
from hotelwatch.wording.language import _


class Corner(click.ParamType[tuple[float, float]]):
    """Metres to the east and to the north, as "4.5,-7"."""

    name = "east,north"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[float, float]:
        """Read the two numbers."""
        try:
            east, north = (float(part) for part in str(value).split(","))
        except ValueError:
            self.fail(
                _("{value} is no corner; write metres east,north as 4.5,-7").format(value=value)
            )
        return east, north


@click.command(
    "draw-room",
    short_help="Draw a room, or say where it lies.",
    context_settings={"ignore_unknown_options": True},
)
@hotel_argument
@click.argument("room")
@click.argument("corners", nargs=-1, type=Corner())
@click.option("--as-laid-out", is_flag=True, help="Back to where the roster lays it out.")
@by_option
def draw(
    hotel_file: Path,
    room: str,
    *,
    corners: tuple[tuple[float, float], ...],
    as_laid_out: bool,
    by: str,
) -> None:
    """Draw a room as it is built, seen from above: its corners one after the other.

    Each corner is written as metres east,north from the hotel's own zero. Corners may
    turn inward, around a shaft; walls must meet at corners alone, and the room must lie
    on no other. Without corners it says where the room lies.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        check_room(hotel.house, RoomNo(room))
        if corners or as_laid_out:
            numbers = [] if as_laid_out else [number for corner in corners for number in corner]
            draw_room(hotel, RoomNo(room), numbers)
            click.echo(_("Written down."))
        _say_where(hotel, RoomNo(room))


def _say_where(hotel: OpenHotel, room: RoomNo) -> None:
    shape = hotel.building.shapes[room]
    say_table(
        (_("Corner"), _("East, m"), _("North, m")),
        ((str(number), f"{x:.2f}", f"{y:.2f}") for number, (x, y) in enumerate(shape.outline, 1)),
        "",
    )
    size = f"{signed_area(shape.outline):.1f}"
    click.echo(
        _("Room {room}: {m2} square metres, drawn by hand.").format(room=room, m2=size)
        if shape.is_drawn
        else _("Room {room}: {m2} square metres, laid out from the roster.").format(
            room=room, m2=size
        )
    )
