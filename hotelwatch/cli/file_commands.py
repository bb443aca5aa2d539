"""Commands for the hotel's file: start it, load into it, choose its rules, check it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import click

from hotelwatch.actions import hotel as hotel_actions
from hotelwatch.actions import roster as roster_actions
from hotelwatch.cli.common import (
    EXISTING,
    FILE,
    by_option,
    desk_at_hand,
    hotel_argument,
    opened,
    said_plainly,
    say_problems,
)
from hotelwatch.core.facts import HotelDescribed, Scope, TeamDescribed, TeamName
from hotelwatch.intake.settings_files import read_teams, read_wings
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.roster import roster_change_sentence

MOST_SHOWN = 20


@click.command("new")
@hotel_argument
@click.option("--name", required=True, help="The hotel's name.")
@click.option("--zone", required=True, help="Its IANA time zone, as Europe/Vienna.")
@click.option("--paper", type=click.Choice(hotel_actions.PAPERS), default="A4", show_default=True)
@click.option("--leave-by", default="11:00", show_default=True, help="Guests leave by.")
@click.option("--arrive-from", default="15:00", show_default=True, help="Guests arrive from.")
@by_option
def new_hotel(hotel_file: Path, by: str, **described: str) -> None:
    """Start a hotel's file."""
    desk = desk_at_hand()
    with said_plainly():
        hotel = hotel_actions.start_hotel(
            hotel_file, HotelDescribed(**described), desk.rules(), clock=desk.clock, by=by
        )
        hotel.close()
    click.echo(_("Started {file}. Next: load its roster.").format(file=hotel_file))


def _mapping(pairs: tuple[str, ...]) -> Mapping[str, str] | None:
    if not pairs:
        return None
    for pair in pairs:
        if "=" not in pair:
            raise click.BadParameter(_("Write a heading as room=Zimmer: field, =, heading."))
    return dict(pair.split("=", 1) for pair in pairs)


keep_good_option = click.option(
    "--keep-good/--refuse-whole",
    default=False,
    help="Take good rows and leave bad ones, or take nothing (default).",
)
heading_option = click.option(
    "--heading",
    "headings",
    multiple=True,
    metavar="FIELD=HEADING",
    help="Say which heading holds a field, where it was not understood.",
)
look_option = click.option("--look", is_flag=True, help="Say what would change; change nothing.")


@click.group("load")
def load() -> None:
    """Load a roster or bookings from xlsx, ods or csv."""


@load.command("roster")
@hotel_argument
@click.argument("roster", type=EXISTING)
@heading_option
@keep_good_option
@look_option
@by_option
def load_roster(
    hotel_file: Path,
    roster: Path,
    headings: tuple[str, ...],
    *,
    keep_good: bool,
    look: bool,
    by: str,
) -> None:
    """Load rooms and beds; the same file again changes nothing."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        preview = roster_actions.preview_roster(hotel.house, roster, _mapping(headings))
        for field, heading in preview.reading.mapping.items():
            click.echo(f"  {field}: {heading}")
        say_problems(preview.reading.problems)
        for change in preview.changes[:MOST_SHOWN]:
            click.echo(f"  {roster_change_sentence(change)}")
        if (more := len(preview.changes) - MOST_SHOWN) > 0:
            click.echo(ngettext("  and {n} more", "  and {n} more", more).format(n=more))
        if look:
            click.echo(_("Nothing was written down."))
            return
        roster_actions.load_roster(hotel, preview, keep_good=keep_good)
        click.echo(
            _("The roster holds {rooms} rooms and {beds} beds.").format(
                rooms=len(hotel.house.rooms), beds=len(hotel.house.beds)
            )
        )


@load.command("bookings")
@hotel_argument
@click.argument("bookings", type=EXISTING)
@heading_option
@click.option(
    "--day-first/--month-first", default=None, help="How 03/04/2026 is meant, where it is unclear."
)
@keep_good_option
@look_option
@by_option
def load_bookings(
    hotel_file: Path,
    bookings: Path,
    headings: tuple[str, ...],
    *,
    day_first: bool | None,
    keep_good: bool,
    look: bool,
    by: str,
) -> None:
    """Load bookings; they replace what was known from today on. No names are kept."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        preview = roster_actions.preview_stays(
            hotel.house, bookings, _mapping(headings), day_first=day_first
        )
        say_problems(preview.reading.problems)
        taken = len(preview.reading.stays)
        if look:
            click.echo(_("{n} bookings read. Nothing was written down.").format(n=taken))
            return
        roster_actions.load_stays(hotel, preview, keep_good=keep_good)
        click.echo(ngettext("{n} booking taken.", "{n} bookings taken.", taken).format(n=taken))


@click.command("cycle")
@hotel_argument
@click.argument("days", type=click.IntRange(0, hotel_actions.LONGEST_CYCLE))
@click.option("--room", default="", help="For one room only.")
@click.option("--type", "room_type", default="", help="For one room type only.")
@by_option
def cycle(hotel_file: Path, days: int, *, room: str, room_type: str, by: str) -> None:
    """Choose every how many days an underside is due; 0 takes a choice back."""
    scope = Scope.ROOM if room else Scope.ROOM_TYPE if room_type else Scope.HOUSE
    with said_plainly(), opened(hotel_file, by) as hotel:
        hotel_actions.choose_cycle(hotel, scope, room or room_type, days)
        click.echo(_("Written down."))


@click.command("team")
@hotel_argument
@click.argument("name")
@click.option("--people", type=int, default=2, show_default=True)
@click.option("--minutes", type=int, required=True, help="Minutes a day for deep checks.")
@click.option(
    "--works-on", default="mon tue wed thu fri", show_default=True, help="Weekdays, as mon tue."
)
@click.option("--gone", is_flag=True, help="The team exists no more.")
@by_option
def team(hotel_file: Path, name: str, *, by: str, gone: bool, works_on: str, **more: int) -> None:
    """Add or change a team."""
    described = TeamDescribed(
        TeamName(name), more["people"], more["minutes"], tuple(works_on.split()), in_use=not gone
    )
    with said_plainly(), opened(hotel_file, by) as hotel:
        hotel_actions.describe_teams(hotel, [described])
        click.echo(_("Written down."))


@click.command("teams")
@hotel_argument
@click.argument("teams", type=EXISTING)
@by_option
def teams(hotel_file: Path, teams: Path, by: str) -> None:
    """Load teams from a csv: team, people, minutes, works_on."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        hotel_actions.describe_teams(hotel, read_teams(teams))
        click.echo(_("Written down."))


@click.command("wings")
@hotel_argument
@click.argument("wings", type=EXISTING)
@by_option
def wings(hotel_file: Path, wings: Path, by: str) -> None:
    """Load where wings lie from a csv: wing, x_m, y_m, bearing_deg."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        hotel_actions.place_wings(hotel, read_wings(wings))
        click.echo(_("Written down."))


@click.command("back-up")
@hotel_argument
@click.argument("copy", type=FILE)
def back_up(hotel_file: Path, copy: Path) -> None:
    """Copy the file while it is in use; the copy is checked."""
    with said_plainly(), opened(hotel_file) as hotel:
        hotel.journal.backup(copy)
        click.echo(_("Backed up to {file}.").format(file=copy))
