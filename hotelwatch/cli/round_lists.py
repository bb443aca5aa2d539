"""Lists about rounds: who works when, and what a person decided or agreed by hand."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.seasons import seasons_noted
from hotelwatch.core.checks.sooner import pulls
from hotelwatch.core.days import days_from
from hotelwatch.core.rounds.backlog import backlog
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.to_arrange import ToArrange, to_arrange
from hotelwatch.core.stays.agreed import arranged_visits, asked_nights
from hotelwatch.wording.asked import declined_text
from hotelwatch.wording.backlog import backlog_sentence
from hotelwatch.wording.dates import day_text, minutes_text
from hotelwatch.wording.doubts import doubt_sentence
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.reasons import pull_sentence
from hotelwatch.wording.rounds import (
    forbidden_text,
    night_sentence,
    pin_text,
    season_sentence,
    team_days_text,
    visit_sentence,
)


@click.command("calendar", short_help="Who works on which day, closed days, seasons.")
@hotel_argument
@click.option("--days", type=click.IntRange(1, 366), default=14, show_default=True, help="Days.")
def list_calendar(hotel_file: Path, days: int) -> None:
    """Who has how many minutes on each day from today on; closed days and seasons."""
    with said_plainly(), opened(hotel_file) as hotel:
        calendar = Calendar(hotel.house)
        span = list(days_from(hotel.today(), days))
        teams = list(hotel.house.teams)
        say_table(
            (_("Day"), *teams, _("What is special")),
            (
                (
                    day_text(day),
                    *(
                        minutes_text(minutes) if (minutes := calendar.minutes(team, day)) else "–"
                        for team in teams
                    ),
                    "; ".join(_special(hotel, calendar, day)),
                )
                for day in span
            ),
            _("There is no team yet."),
        )
        for season in seasons_noted(hotel.house):
            if season.until_on >= span[0] and season.from_on <= span[-1]:
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
        nights = asked_nights(hotel.house, hotel.today())
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


def _special(hotel: OpenHotel, calendar: Calendar, day: date) -> Iterator[str]:
    if (closed := calendar.closed_reason(day)) is not None:
        yield _("no rounds: {reason}").format(reason=closed)
    for team in hotel.house.teams:
        if (changed := calendar.changed(team, day)) is not None:
            yield team_days_text(changed)


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
