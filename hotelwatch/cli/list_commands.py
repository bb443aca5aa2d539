"""Commands that say what is known: due beds, cases, quarantines, neighbours, front desk."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import click

from hotelwatch.actions.desk import front_desk as desk
from hotelwatch.cli.case_lines import say_case
from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.cli.entry_lines import about_entries
from hotelwatch.core.case_facts import Sign
from hotelwatch.core.cases.case import cases
from hotelwatch.core.cases.release import missing_for_release, release_range
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.checks.place_looks import WHY_UNSEEN, place_looks
from hotelwatch.core.facts import CheckKind, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.dates import day_text, days_text, moment_text
from hotelwatch.wording.desk import (
    cost_text,
    latest_text,
    let_sentence,
    night_line,
    release_by_text,
    state_text,
    total_text,
    touched_sentence,
    until_text,
    without_room_text,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import neighbour_reasons
from hotelwatch.wording.release import range_sentence
from hotelwatch.wording.rounds import shift_text
from hotelwatch.wording.steps import missing_sentence


@click.group("list", short_help="Say what is known: due beds, cases, front desk.")
def listing() -> None:
    """Say what is known; each list has its own command."""


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
                    days_text(look.cycle_days),
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


@listing.command("quarantine", short_help="Rooms in quarantine, and what is missing to lift it.")
@hotel_argument
def list_quarantine(hotel_file: Path) -> None:
    """Rooms in quarantine: since when, because of which case, what is missing, until when."""
    with said_plainly(), opened(hotel_file) as hotel:
        held = [placed for placed, lifted in hotel.house.quarantines if lifted is None]
        if not held:
            click.echo(_("No room is in quarantine."))
        for placed in held:
            click.echo(
                _("{room}: case {case}, since {moment}").format(
                    room=placed.room,
                    case=placed.case,
                    moment=moment_text(placed.from_at, hotel.zone),
                )
            )
            missing = missing_for_release(hotel.house, placed.case, placed.room, now=hotel.now())
            for lack in missing:
                click.echo("  " + missing_sentence(lack, hotel.zone))
            if not missing:
                click.echo("  " + _("The conditions are met: it may be lifted."))
            when = release_range(hotel.house, placed.case, placed.room, hotel.now())
            click.echo("  " + range_sentence(when))


@listing.command("places", short_help="Codes of a room's places, reasons and signs.")
@hotel_argument
@click.argument("room")
def list_places(hotel_file: Path, room: str) -> None:
    """A room's places with the codes that record and sighting take, beds first."""
    with said_plainly(), opened(hotel_file) as hotel:
        look = full_look(hotel.house, RoomNo(room), on=hotel.today(), by=(), kind=CheckKind.DEEP)
        say_table(
            (_("Bed"), _("Code"), _("Place"), _("Underside"), _("People")),
            (
                (
                    one.bed.partition("/")[2],
                    one.place.code,
                    label(one.place.code),
                    _("yes") if one.place.underside else "",
                    str(one.place.people),
                )
                for one in place_looks(hotel.house, look)
            ),
            _("Room {room} has no places.").format(room=room),
        )
        click.echo(_("Why a place was not looked at:"))
        for why in WHY_UNSEEN:
            click.echo(f"  {why}: {label(why)}")
        click.echo(_("Signs:"))
        for sign in Sign:
            click.echo(f"  {sign.value}: {label(sign)}")


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


@listing.command("front-desk", short_help="What not to sell, and whom that touches.")
@hotel_argument
def front_desk(hotel_file: Path) -> None:
    """What front desk must not sell, whom that touches, what was let, nights to keep free."""
    with said_plainly(), opened(hotel_file) as hotel:
        wanted = desk(hotel)
        say_table(
            (
                _("Room"),
                _("Do not sell from"),
                _("Earliest"),
                _("Expected"),
                _("Latest"),
                _("Waits for"),
                _("Given back by"),
                _("Cost"),
            ),
            (
                (
                    row.block.room,
                    moment_text(row.block.from_at, hotel.zone),
                    until_text(row.block.earliest_until),
                    until_text(row.block.expected_until),
                    latest_text(row.block),
                    state_text(row.block),
                    release_by_text(row.block),
                    cost_text(row.cost),
                )
                for row in wanted.blocks
            ),
            _("Nothing is blocked."),
        )
        if wanted.blocks:
            click.echo(_("All together: {cost}").format(cost=total_text(wanted.total)))
        for touched in wanted.arrivals:
            click.echo(touched_sentence(touched))
        if wanted.without_room:
            click.echo(without_room_text(wanted.without_room))
        for let in wanted.lets_against:
            click.echo(let_sentence(let, hotel.zone))
        for night in wanted.nights:
            click.echo(night_line(night))


@listing.command("teams")
@hotel_argument
def list_teams(hotel_file: Path) -> None:
    """Teams, their minutes and their days."""
    with said_plainly(), opened(hotel_file) as hotel:
        say_table(
            (
                _("Team"),
                _("People"),
                _("Minutes a day"),
                _("In reserve"),
                _("Shift"),
                _("Works on"),
            ),
            (
                (
                    team.team,
                    str(team.people),
                    str(team.minutes),
                    str(team.kept_free),
                    shift_text(team),
                    " ".join(team.works_on),
                )
                for team in hotel.house.teams.values()
            ),
            _("There is no team yet."),
        )


@listing.command("entries", short_help="What was written down lately.")
@hotel_argument
@click.option(
    "--last", type=click.IntRange(1), default=20, show_default=True, help="How many entries."
)
def list_entries(hotel_file: Path, last: int) -> None:
    """What was written down lately: number, when, who, what, about what."""
    with said_plainly(), opened(hotel_file) as hotel:
        house = hotel.house
        numbers = sorted(house.entries)[-last:]
        about = about_entries(house, numbers)
        say_table(
            (_("Entry"), _("When"), _("Who"), _("What"), _("About"), _("Note")),
            (
                (
                    str(entry.number),
                    moment_text(entry.recorded_at, hotel.zone),
                    entry.by,
                    label(entry.action),
                    about[entry.number],
                    entry.note,
                )
                for entry in (house.entries[number] for number in numbers)
            ),
            _("Nothing was written down yet."),
        )
