"""Commands that say what is known: due beds, cases, quarantines, neighbours, front desk."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import click

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.cases.case import case_of, cases
from hotelwatch.core.cases.desk import desk_list
from hotelwatch.core.cases.steps import next_steps
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import neighbour_reasons
from hotelwatch.wording.steps import step_sentence


@click.group("list")
def listing() -> None:
    """Say what is known: due, cases, quarantine, neighbours, front desk, teams, entries."""


@listing.command("due")
@hotel_argument
@click.option("--within", type=click.IntRange(0), default=14, show_default=True, help="Days.")
def due(hotel_file: Path, within: int) -> None:
    """Beds whose underside is due, earliest first."""
    with said_plainly(), opened(hotel_file) as hotel:
        today = hotel.today()
        soon = [
            look
            for look in looks(hotel.house, today)
            if look.due_on <= today + timedelta(days=within)
        ]
        soon.sort(key=lambda look: (look.due_on, look.bed))
        say_table(
            (_("Bed"), _("Last looked at"), _("Due"), _("Cycle")),
            (
                (
                    look.bed,
                    day_text(look.last_on) if look.last_on else _("never"),
                    day_text(look.due_on) + (_(" (late)") if look.is_overdue(today) else ""),
                    _("{n} days").format(n=look.cycle_days),
                )
                for look in soon
            ),
            _("No underside is due within these days."),
        )


@listing.command("cases")
@hotel_argument
@click.option("--all", "closed_too", is_flag=True, help="Closed ones too.")
def list_cases(hotel_file: Path, *, closed_too: bool) -> None:
    """Cases and what is next in each."""
    with said_plainly(), opened(hotel_file) as hotel:
        shown = [case for case in cases(hotel.house) if case.is_open or closed_too]
        if not shown:
            click.echo(_("No case is open."))
        for case in shown:
            say_case(hotel, case.no)


def say_case(hotel: OpenHotel, number: CaseNo) -> None:
    """Print a case: its stage, its room, who is to be checked and what is next."""
    house, now = hotel.house, hotel.now()
    case = case_of(house, number)
    click.echo(
        _("Case {case}, room {room}: {stage}. Evidence: {evidence}.").format(
            case=case.no, room=case.room, stage=label(case.stage), evidence=label(case.evidence)
        )
    )
    if case.quarantined:
        rooms = ", ".join(case.quarantined)
        click.echo("  " + _("In quarantine: {rooms}").format(rooms=rooms))
    for state in case.asked:
        if state.is_open:
            click.echo(
                "  "
                + _("Check {room} by {moment}: {reasons}").format(
                    room=state.asked.room,
                    moment=moment_text(state.asked.by_at, hotel.zone),
                    reasons=neighbour_reasons(state.asked.reasons, source=case.room),
                )
            )
    for step in next_steps(house, case, now=now):
        click.echo("  " + _("Next: {step}").format(step=step_sentence(step, hotel.zone)))


@listing.command("neighbours")
@hotel_argument
@click.argument("room")
def list_neighbours(hotel_file: Path, room: str) -> None:
    """A room's neighbours, each with the reason."""
    with said_plainly(), opened(hotel_file) as hotel:
        if room not in hotel.house.rooms:
            raise Refusal("unknown_room", room=room)
        say_table(
            (_("Room"), _("Why")),
            (
                (neighbour.room, neighbour_reasons(neighbour.kinds, source=room))
                for neighbour in hotel.neighbours().get(RoomNo(room), ())
            ),
            _("Room {room} has no neighbours.").format(room=room),
        )


@listing.command("front-desk")
@hotel_argument
def front_desk(hotel_file: Path) -> None:
    """What front desk must not sell, and which arrivals that touches."""
    with said_plainly(), opened(hotel_file) as hotel:
        wanted = desk_list(hotel.house, hotel.occupancy(), hotel.now())
        say_table(
            (_("Room"), _("Do not sell from"), _("Not before")),
            (
                (
                    block.room,
                    moment_text(block.from_at, hotel.zone),
                    day_text(block.earliest_until)
                    if block.earliest_until
                    else label(block.condition),
                )
                for block in wanted.blocks
            ),
            _("Nothing is blocked."),
        )
        for touched in wanted.arrivals:
            click.echo(
                _("{room}: booking {booking} arrives {day} and needs another room.").format(
                    room=touched.stay.room,
                    booking=touched.stay.booking,
                    day=day_text(touched.stay.arrives_on),
                )
            )


@listing.command("teams")
@hotel_argument
def list_teams(hotel_file: Path) -> None:
    """Teams, their minutes and their days."""
    with said_plainly(), opened(hotel_file) as hotel:
        say_table(
            (_("Team"), _("People"), _("Minutes a day"), _("Works on")),
            (
                (team.team, str(team.people), str(team.minutes), " ".join(team.works_on))
                for team in hotel.house.teams.values()
            ),
            _("There is no team yet."),
        )


@listing.command("entries")
@hotel_argument
@click.option("--last", type=click.IntRange(1), default=20, show_default=True)
def list_entries(hotel_file: Path, last: int) -> None:
    """What was written down lately: number, when, who, what."""
    with said_plainly(), opened(hotel_file) as hotel:
        entries = sorted(hotel.house.entries.values(), key=lambda entry: entry.number)[-last:]
        say_table(
            (_("Entry"), _("When"), _("Who"), _("What"), _("Note")),
            (
                (
                    str(entry.number),
                    moment_text(entry.recorded_at, hotel.zone),
                    entry.by,
                    label(entry.action),
                    entry.note,
                )
                for entry in entries
            ),
            _("Nothing was written down yet."),
        )
