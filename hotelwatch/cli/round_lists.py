"""Lists about rounds: who works when, and what a person decided or agreed by hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

import click

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.checks.seasons import seasons_noted
from hotelwatch.core.checks.sooner import pulls
from hotelwatch.core.facts import TeamName
from hotelwatch.core.rounds.backlog import backlog
from hotelwatch.core.rounds.days_ahead import DayAhead, DayKind, rows_of_days
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.to_arrange import ToArrange, to_arrange
from hotelwatch.core.stays.agreed import arranged_visits
from hotelwatch.core.stays.kept_nights import nights_as_booked
from hotelwatch.wording.asked import declined_text
from hotelwatch.wording.backlog import backlog_sentence
from hotelwatch.wording.dates import day_text, minutes_text
from hotelwatch.wording.days import team_day_text
from hotelwatch.wording.doubts import doubt_sentence
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.reasons import pull_sentence
from hotelwatch.wording.rounds import (
    forbidden_text,
    night_sentence,
    pin_text,
    season_sentence,
    visit_sentence,
)


@click.command("calendar", short_help="Who works on which day, closed days, seasons.")
@hotel_argument
@click.option("--days", type=click.IntRange(1, 366), default=14, show_default=True, help="Days.")
def list_calendar(hotel_file: Path, days: int) -> None:
    """Who has how many minutes on each day from today on; closed days and seasons."""
    with said_plainly(), opened(hotel_file) as hotel:
        whole, *teams = rows_of_days(hotel.house, hotel.today(), days)
        names = [row.team for row in teams]
        say_table(
            (_("Day"), *names, _("What is special")),
            (
                (
                    day_text(day.on),
                    *(
                        minutes_text(of_team.minutes) if of_team.minutes else "–"
                        for of_team in of_teams
                    ),
                    "; ".join(_special(day, dict(zip(names, of_teams, strict=True)))),
                )
                for day, *of_teams in zip(whole.days, *(row.days for row in teams), strict=True)
            ),
            _("There is no team yet."),
        )
        for season in seasons_noted(hotel.house):
            if season.until_on >= whole.days[0].on and season.from_on <= whole.days[-1].on:
                click.echo(season_sentence(season))


@click.command("by-hand", short_help="Pins, forbidden days, agreed visits, asked nights.")
@hotel_argument
def list_by_hand(hotel_file: Path) -> None:
    """What holds for the days to come: pins, forbidden days, agreed visits, asked nights."""
    with said_plainly(), opened(hotel_file) as hotel:
        _say_group(_("Pinned:"), list(_pinned(hotel)))
        _say_group(_("Forbidden:"), list(_forbidden(hotel)))
        visits = arranged_visits(hotel.house).values()
        ahead = sorted((one.on, one.room, one) for one in visits if one.on >= hotel.today())
        _say_group(_("Agreed with guests:"), [visit_sentence(one) for _on, _room, one in ahead])
        nights = nights_as_booked(hotel.house, hotel.occupancy(), hotel.today())
        _say_group(_("Asked of front desk:"), [night_sentence(one) for one in nights])


@click.command("sooner", short_help="Rooms wanted earlier than their cycle, and why.")
@hotel_argument
def list_sooner(hotel_file: Path) -> None:
    """Rooms wanted earlier than their cycle: vacant for weeks, or furniture moved."""
    with said_plainly(), opened(hotel_file) as hotel:
        found = pulls(hotel.house, hotel.occupancy(), hotel.today())
        say_table(
            (_("Room"), _("By"), _("Why")),
            (
                (pull.room, day_text(pull.by_on), pull_sentence(pull))
                for pull in sorted(found.values(), key=lambda pull: pull.by_on)
            ),
            _("No room is wanted earlier than its cycle."),
        )


@click.command("to-arrange", short_help="Looks to agree with guests who stay.")
@hotel_argument
def list_to_arrange(hotel_file: Path) -> None:
    """Rooms let past the day they are due: a look to agree with the guest, or to wait for."""
    with said_plainly(), opened(hotel_file) as hotel:
        say_table(
            (_("Room"), _("Due by"), _("Go in from"), _("Late days"), _("Agreed")),
            (
                (
                    row.room,
                    day_text(row.due_on),
                    day_text(row.next_open_on) if row.next_open_on else _("not known"),
                    str(row.overdue_bed_days),
                    _agreed_text(row),
                )
                for row in to_arrange(hotel.house, hotel.occupancy(), hotel.now())
            ),
            _("No guest is in the way of a look that is due, or only for a few days."),
        )


def _agreed_text(row: ToArrange) -> str:
    if row.visit is None:
        return _("not yet") if row.declined is None else declined_text(row.declined)
    return " ".join((f"{visit_sentence(row.visit)}.", *map(doubt_sentence, row.doubts)))


@click.command("backlog", short_help="By when every underside will have been seen.")
@hotel_argument
def list_backlog(hotel_file: Path) -> None:
    """By when every underside will have been seen within its cycle, at the present pace."""
    with said_plainly(), opened(hotel_file) as hotel:
        told = backlog(hotel.house, hotel.today())
        click.echo(
            ngettext(
                "{n} underside is overdue.", "{n} undersides are overdue.", told.overdue_beds
            ).format(n=told.overdue_beds)
        )
        click.echo(backlog_sentence(told))


def _special(whole: DayAhead, teams: Mapping[TeamName, DayAhead]) -> Iterator[str]:
    if whole.kind is DayKind.CLOSED:
        yield _("no rounds: {reason}").format(reason=whole.reason)
        return
    for team, day in teams.items():
        is_worked = day.kind is DayKind.USUAL and day.minutes
        if not is_worked and day.kind is not DayKind.FREE:
            yield team_day_text(team, day)


def _pinned(hotel: OpenHotel) -> Iterator[str]:
    hand, today = Hand(hotel.house), hotel.today()
    for room in hand.pinned_rooms(today):
        yield pin_text(room, hand.pinned_day(room, today), hand.pinned_team(room, today))


def _forbidden(hotel: OpenHotel) -> Iterator[str]:
    hand = Hand(hotel.house)
    for room in hotel.house.rooms:
        for day in sorted(hand.forbidden(room)):
            if day >= hotel.today():
                yield forbidden_text(room, day)


def _say_group(heading: str, lines: list[str]) -> None:
    click.echo(heading if lines else f"{heading} {_('nothing')}")
    for line in lines:
        click.echo(f"  {line}")
