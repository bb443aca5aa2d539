"""Commands for calendars: leave, extra shifts, closed days, seasons, furniture that moved."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.calendar import change_team_days, close_days, move_furniture, note_season
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.common import DAY, by_option, hotel_argument, opened, said_plainly, span_of
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.round_facts import (
    AS_USUAL,
    FurnitureMoved,
    HouseDaysClosed,
    SeasonNoted,
    TeamDaysChanged,
)
from hotelwatch.core.rounds.days_ahead import HOUSE
from hotelwatch.core.rounds.lost_visits import lost_visits
from hotelwatch.wording.days import lost_visits_sentences
from hotelwatch.wording.language import _

first_day = click.argument("from_on", metavar="FROM", type=DAY)
last_day = click.argument("until_on", metavar="[UNTIL]", type=DAY, required=False, default=None)


@click.command("team-days", short_help="Write down a team's leave, or a shift more.")
@hotel_argument
@click.argument("team")
@first_day
@last_day
@click.option("--minutes", type=click.IntRange(0), default=0, help="Minutes a day. Default: away.")
@click.option("--as-usual", is_flag=True, help="Take back what was said of these days.")
@click.option("--reason", default="", help="Why, as leave or training.")
@by_option
def team_days(
    hotel_file: Path,
    team: str,
    from_on: date | None,
    until_on: date | None,
    *,
    by: str,
    minutes: int,
    as_usual: bool,
    reason: str,
) -> None:
    """Say that a team is away on the days FROM to UNTIL, or has other minutes.

    Without UNTIL it is one day. A day on which the team does not work becomes an extra
    shift if it is named alone; within a longer span it stays off.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        first, last = span_of(hotel, from_on, until_on)
        meant = AS_USUAL if as_usual else minutes
        changed = TeamDaysChanged(TeamName(team), first, last, meant, reason)
        change_team_days(hotel, changed)
        click.echo(_("Written down."))
        _say_lost(hotel, first, last, changed.team)


@click.command("closed-days", short_help="Write down days on which nobody looks at beds.")
@hotel_argument
@first_day
@last_day
@click.option("--reason", default="", help="The holiday, or what the house is closed for.")
@click.option("--open-again", is_flag=True, help="Rounds are made on these days after all.")
@by_option
def closed_days(
    hotel_file: Path,
    from_on: date | None,
    until_on: date | None,
    *,
    reason: str,
    open_again: bool,
    by: str,
) -> None:
    """Say that nobody looks at beds on the days FROM to UNTIL; without UNTIL it is one day."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        first, last = span_of(hotel, from_on, until_on)
        closed = HouseDaysClosed(first, last, reason, is_closed=not open_again)
        close_days(hotel, closed)
        click.echo(_("Written down."))
        _say_lost(hotel, first, last, HOUSE)


@click.command("season", short_help="Note days on which cycles run faster.")
@hotel_argument
@click.argument("name")
@click.argument("from_on", metavar="[FROM]", type=DAY, required=False, default=None)
@last_day
@click.option("--faster", type=int, default=None, help="Percent, as 50: a day counts as 1.5.")
@click.option("--drop", is_flag=True, help="Take the season of this name back.")
@by_option
def season(
    hotel_file: Path,
    name: str,
    from_on: date | None,
    until_on: date | None,
    *,
    faster: int | None,
    drop: bool,
    by: str,
) -> None:
    """Note that cycles run faster on the days FROM to UNTIL: warm nights, after a fair.

    How much faster is your own assumption, and is labelled so.
    """
    if not drop and faster is None:
        raise click.UsageError(_("Say how much faster cycles run: --faster 50."))
    with said_plainly(), opened(hotel_file, by) as hotel:
        first, last = span_of(hotel, from_on, until_on)
        told = SeasonNoted(name, first, last, faster or 0, holds=not drop)
        note_season(hotel, told)
        click.echo(_("Written down."))


@click.command("furniture-moved", short_help="Write down that furniture changed rooms.")
@hotel_argument
@click.argument("from_room")
@click.argument("to_room")
@click.argument("what")
@click.option("--on", "moved_on", type=DAY, default="today", help="When. Default: today.")
@click.option("--bed", default="", help="The bed that it belongs to, as 101/A.")
@by_option
def furniture_moved(
    hotel_file: Path,
    from_room: str,
    to_room: str,
    what: str,
    *,
    moved_on: date | None,
    bed: str,
    by: str,
) -> None:
    """Write down that WHAT went from FROM_ROOM to TO_ROOM: both are wanted sooner."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        day = moved_on or hotel.today()
        move_furniture(hotel, FurnitureMoved(RoomNo(from_room), RoomNo(to_room), day, what, bed))
        click.echo(_("Written down. Both rooms are wanted sooner."))


def _say_lost(hotel: OpenHotel, first: date, last: date, team: TeamName) -> None:
    """Say which published visits of these days are without their team now."""
    lost = lost_visits(hotel.house, max(first, hotel.today()), last, team=team)
    for said in lost_visits_sentences(lost):
        click.echo(said)
