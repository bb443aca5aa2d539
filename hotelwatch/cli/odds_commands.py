"""How sure one may be: the hotel, where to look next, what a room's odds rest on."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions.odds import (
    OddsView,
    OddsWish,
    measured_rules,
    odds_checked,
    odds_view,
    story_of,
)
from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds_figures import OddsRules, Stance
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.cycle import stance_text
from hotelwatch.wording.dates import day_text, minutes_text
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import (
    central_text,
    hotel_lines,
    number_text,
    numbers_text,
    percents_text,
    range_text,
    room_lines,
)
from hotelwatch.wording.simulation import calibration_cells, calibration_lines, check_headings

ROOMS_SHOWN = 20


@click.command("odds", short_help="Say how sure one may be, and where to look next.")
@hotel_argument
@click.option("--room", default="", help="Say on what this room's odds rest.")
@click.option(
    "--most",
    type=click.IntRange(1),
    default=ROOMS_SHOWN,
    show_default=True,
    help="So many rooms are listed.",
)
@click.option(
    "--check", is_flag=True, help="Hold the odds against simulated rooms: do they come true?"
)
def odds(hotel_file: Path, *, room: str, most: int, check: bool) -> None:
    """Say how likely something was missed: in the hotel, its floors, room by room.

    Three settings stand side by side as a range; what nobody measured is assumed and said so.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        if room and room not in hotel.house.rooms:
            raise Refusal("unknown_room", room=room)
        if check:
            _say_check(measured_rules(hotel.house, hotel.today()))
            return
        wish = OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today())
        view = odds_view(wish)
        if room:
            _say_room(view, RoomNo(room))
        else:
            _say_hotel(view, most)


def _say_check(rules: OddsRules) -> None:
    for stance, rows in odds_checked(rules).items():
        click.echo(_("By the {stance} settings:").format(stance=stance_text(stance)))
        say_table(check_headings(), [calibration_cells(row) for row in rows], "")
        for line in calibration_lines(rows):
            click.echo(line)
        click.echo("")


def _say_room(view: OddsView, room: RoomNo) -> None:
    row = next(row for row in view.rooms if row.room == room)
    for line in room_lines(story_of(view, room), row.chance, is_found=row.is_found):
        click.echo(line)


def _say_hotel(view: OddsView, most: int) -> None:
    for line in hotel_lines(view.hotel, view.reckoning.rules):
        click.echo(line)
    click.echo("")
    say_table(
        [_("Floor"), _("Rooms"), _("Expected infested"), _("None there (assumed)")],
        [
            (row.name, str(row.rooms), numbers_text(row.expected), percents_text(row.none))
            for row in view.floors
        ],
        _("No room is known yet: load a roster first."),
    )
    click.echo("")
    click.echo(_("Where a look saves most for its minutes (all of it rests on assumptions):"))
    say_table(
        [_("Room"), _("Missed"), _("Range"), _("Days an hour"), _("Takes"), _("Due")],
        [
            (
                row.room,
                _("confirmed find") if row.is_found else central_text(row.chance),
                "" if row.is_found else range_text(row.chance),
                "" if row.is_found else number_text(row.saves_per_hour[Stance.CENTRAL]),
                minutes_text(row.minutes),
                day_text(row.due_on) if row.due_on else "",
            )
            for row in view.rooms[:most]
        ],
        _("No room is known yet: load a roster first."),
    )
