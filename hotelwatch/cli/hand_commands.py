"""Commands for a supervisor's hand on the plan, agreed visits, and nights kept free."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import click

from hotelwatch.actions import by_hand
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.common import DAY, by_option, hotel_argument, is_given, opened, said_plainly
from hotelwatch.core.checks.slots import published_rows
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import (
    CheckPinned,
    DayForbidden,
    NightAnswered,
    NightAsked,
    TeamPinned,
    VisitArranged,
    VisitDeclined,
)
from hotelwatch.core.rounds.doubts import doubts
from hotelwatch.core.rounds.moving import Moving, swapped
from hotelwatch.core.stays.openings import Occupancy
from hotelwatch.wording.desk import still_booked_sentence
from hotelwatch.wording.doubts import doubt_sentence
from hotelwatch.wording.language import _

room_argument = click.argument("room")
day_argument = click.argument("day", type=DAY)


@click.command("pin", short_help="Pin a room's check to a day, a team, or both.")
@hotel_argument
@room_argument
@click.option("--on", "day", type=DAY, default=None, help="The day.")
@click.option("--team", default="", help="The team.")
@click.option("--drop", is_flag=True, help="Take the pins of the room away.")
@by_option
def pin(hotel_file: Path, room: str, *, day: date | None, team: str, drop: bool, by: str) -> None:
    """Pin a room's check to a day, to a team, or both; plans keep it and say what it costs.

    The pin lapses once the room was looked at, or its day is past.
    """
    is_day_given = is_given("day")
    if not (is_day_given or team or drop):
        raise click.UsageError(_("Name a day (--on), a team (--team), or --drop."))
    with said_plainly(), opened(hotel_file, by) as hotel:
        if drop:
            by_hand.drop_pins(hotel, RoomNo(room))
        elif is_day_given:
            by_hand.pin_check(hotel, CheckPinned(RoomNo(room), day or hotel.today(), team))
        else:
            by_hand.pin_team(hotel, TeamPinned(RoomNo(room), TeamName(team)))
        click.echo(_("Written down."))
        if is_day_given and not drop:
            _warn(hotel, room, [day or hotel.today()], team=team, seen=hotel.occupancy())


@click.command("forbid-day", short_help="Keep a room's check off a day.")
@hotel_argument
@room_argument
@day_argument
@click.option("--allow", is_flag=True, help="Allow the day again.")
@by_option
def forbid_day(hotel_file: Path, room: str, day: date | None, *, allow: bool, by: str) -> None:
    """Keep a room's check off a day; plans keep to it."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        told = DayForbidden(RoomNo(room), day or hotel.today(), holds=not allow)
        by_hand.forbid_day(hotel, told)
        click.echo(_("Written down."))


@click.command("swap", short_help="Let two teams swap their published sheets of a day.")
@hotel_argument
@day_argument
@click.argument("team")
@click.argument("other")
@by_option
def swap(hotel_file: Path, day: date | None, team: str, other: str, *, by: str) -> None:
    """Give two teams one another's published rooms of a day; plans keep it. All rooms, or none."""
    from hotelwatch.wording.plan_calendar import no_swap_sentence

    with said_plainly(), opened(hotel_file, by) as hotel:
        on, house, seen = day or hotel.today(), hotel.house, hotel.occupancy()
        for name in (team, other):
            if name not in house.teams:
                raise Refusal("unknown_team", team=name)
        rows = published_rows(house, seen, from_on=on, until_on=on, now=hotel.now())
        mine, theirs = (tuple(row for row in rows if row.team == name) for name in (team, other))
        teams = swapped(mine, theirs, (TeamName(team), TeamName(other)))
        if not teams:
            raise click.ClickException(_("Neither team has a published room left that day."))
        moving = Moving(house, seen, today=hotel.today(), now=hotel.now())
        if found := moving.of_swap((*mine, *theirs), teams):
            raise click.ClickException(no_swap_sentence(*found))
        by_hand.swap_sheets(hotel, [CheckPinned(room, on, to) for room, to in teams.items()])
        click.echo(_("Written down."))
        click.echo(_("The sheets follow once a plan is published again."))


@click.command("arrange-visit", short_help="Write down that a guest who stays agreed to a look.")
@hotel_argument
@room_argument
@day_argument
@click.option("--from", "from_clock", default="10:00", show_default=True, help="Not before.")
@click.option("--until", "until_clock", default="12:00", show_default=True, help="Done by.")
@click.option("--call-off", is_flag=True, help="The visit is called off.")
@by_option
def arrange_visit(
    hotel_file: Path,
    room: str,
    day: date | None,
    *,
    from_clock: str,
    until_clock: str,
    call_off: bool,
    by: str,
) -> None:
    """Write down that the guest of a room agreed to a look while staying.

    --by is who of the staff asked. The guest is never named.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        visit = VisitArranged(
            RoomNo(room), day or hotel.today(), from_clock, until_clock, by, holds=not call_off
        )
        by_hand.arrange_visit(hotel, visit)
        click.echo(_("Written down."))
        if visit.holds:
            _warn(hotel, room, [visit.on], seen=hotel.occupancy())


@click.command("decline-visit", short_help="Write down that a guest said no to a look.")
@hotel_argument
@room_argument
@click.option("--on", "day", type=DAY, default=None, help="The day asked. Default: today.")
@by_option
def decline_visit(hotel_file: Path, room: str, *, day: date | None, by: str) -> None:
    """Write down that the guest of a room was asked for a look and said no.

    --by is who of the staff asked. The guest is never named, nor asked why. The room remains
    due; looks to which this guest agreed before are called off. Whether anybody may go in
    without consent is for local law and the hotel's terms.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        by_hand.decline_visit(hotel, VisitDeclined(RoomNo(room), day or hotel.today(), by))
        click.echo(_("Written down. The room remains due."))


@click.command("ask-night", short_help="Ask front desk to keep a room free for a night.")
@hotel_argument
@room_argument
@day_argument
@click.option("--reason", default="", help="Why rounds need it.")
@click.option("--withdraw", is_flag=True, help="It is no longer needed.")
@by_option
def ask_night(
    hotel_file: Path, room: str, day: date | None, *, reason: str, withdraw: bool, by: str
) -> None:
    """Ask front desk to keep a room free for the night that begins on DAY."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        night = NightAsked(RoomNo(room), day or hotel.today(), reason, holds=not withdraw)
        by_hand.ask_nights(hotel, [night])
        click.echo(_("Written down."))
        if night.holds:
            _warn(hotel, room, [night.night, night.night + timedelta(days=1)])


@click.command("answer-night", short_help="Write down front desk's answer about a night.")
@hotel_argument
@room_argument
@day_argument
@click.option("--kept/--not-kept", "is_kept", required=True, help="Whether it is kept free.")
@click.option("--note", default="", help="A few words to it; no guest's name.")
@by_option
def answer_night(
    hotel_file: Path, room: str, day: date | None, *, is_kept: bool, note: str, by: str
) -> None:
    """Write down whether front desk keeps the room free for the night that begins on DAY."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        answer = NightAnswered(RoomNo(room), day or hotel.today(), is_kept, by, note.strip())
        by_hand.answer_night(hotel, answer)
        is_waiting = is_kept and hotel.occupancy().is_given(answer.room, answer.night)
        click.echo(still_booked_sentence(answer.room) if is_waiting else _("Written down."))


def _warn(
    hotel: OpenHotel, room: str, days: list[date], *, team: str = "", seen: Occupancy | None = None
) -> None:
    """Say what stands against a look on the days of what was just written down."""
    for doubt in doubts(hotel.house, RoomNo(room), days, now=hotel.now(), team=team, seen=seen):
        click.echo(_("But: {doubt}").format(doubt=doubt_sentence(doubt)))
