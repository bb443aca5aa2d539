"""Commands for the hotel's file: start it, choose its rules."""

from __future__ import annotations

from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import click

from hotelwatch.actions import hotel as hotel_actions
from hotelwatch.cli.common import (
    EXISTING,
    by_option,
    desk_at_hand,
    hotel_argument,
    opened,
    said_plainly,
)
from hotelwatch.core.checks.cycles import PLACED, rooms_of_risk
from hotelwatch.core.facts import HotelDescribed, Risk, RoomNo, Scope, TeamDescribed, TeamName
from hotelwatch.core.problems import Refusal
from hotelwatch.intake.settings_files import read_teams, read_wings
from hotelwatch.wording.language import _

RISKS = click.Choice([risk.value for risk in PLACED])


@click.command("new", short_help="Start a hotel's file.")
@hotel_argument
@click.option("--name", required=True, help="The hotel's name.")
@click.option("--zone", required=True, help="Its IANA time zone, as Europe/Vienna.")
@click.option(
    "--paper",
    type=click.Choice(hotel_actions.PAPERS),
    default="A4",
    show_default=True,
    help="What sheets are printed on.",
)
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


@click.command("hotel", short_help="Change what the hotel is called, its zone, paper or hours.")
@hotel_argument
@click.option("--name", default=None, help="The hotel's name.")
@click.option("--zone", default=None, help="Its IANA time zone; it stays once a month is closed.")
@click.option("--paper", type=click.Choice(hotel_actions.PAPERS), default=None)
@click.option("--leave-by", default=None, help="Guests leave by, as 11:00.")
@click.option("--arrive-from", default=None, help="Guests arrive from, as 15:00.")
@by_option
def describe(hotel_file: Path, by: str, **described: str | None) -> None:
    """Change what is given; without options say how the hotel is described."""
    given = {key: value for key, value in described.items() if value is not None}
    with said_plainly(), opened(hotel_file, by) as hotel:
        if given and hotel.house.hotel:
            hotel_actions.describe_hotel(hotel, replace(hotel.house.hotel, **given))
        if known := hotel.house.hotel:
            click.echo(
                _(
                    "{name}, time zone {zone}. Guests leave by {leave_by} and arrive from"
                    " {arrive_from}. Sheets are printed on {paper}."
                ).format(**asdict(known))
            )


@click.command("cycle", short_help="Choose how often an underside is due.")
@hotel_argument
@click.argument("days", type=click.IntRange(0, hotel_actions.LONGEST_CYCLE))
@click.option("--room", default="", help="For one room only.")
@click.option("--type", "room_type", default="", help="For one room type only.")
@click.option("--risk", type=RISKS, default=None, help="For rooms of that risk only.")
@by_option
def cycle(
    hotel_file: Path, days: int, *, room: str, room_type: str, risk: str | None, by: str
) -> None:
    """Choose every how many days an underside is due; 0 takes a choice back.

    Without a room, a risk or a room type it is the whole house's cycle. A room's own
    cycle counts over that of its risk, that over its type's.
    """
    given = {Scope.ROOM: room, Scope.RISK: risk, Scope.ROOM_TYPE: room_type}
    chosen = {scope: which for scope, which in given.items() if which} or {Scope.HOUSE: ""}
    if len(chosen) > 1:
        raise click.UsageError(_("Choose a room, a risk or a room type, not more than one."))
    with said_plainly(), opened(hotel_file, by) as hotel:
        for scope, which in chosen.items():
            hotel_actions.choose_cycle(hotel, scope, which, days)
        click.echo(_("Written down."))


@click.command("risk", short_help="Say which rooms are of higher or lower risk.")
@hotel_argument
@click.argument("risk", type=RISKS)
@click.argument("rooms", nargs=-1)
@click.option("--none", "nobody", is_flag=True, help="No room is of that risk any more.")
@by_option
def risk(hotel_file: Path, risk: str, rooms: tuple[str, ...], *, nobody: bool, by: str) -> None:
    """Say which ROOMS are of that risk, and no others; without rooms say what stands.

    It is the hotel's own judgement. With `cycle --risk` they get a cycle of their own. For
    a higher risk the rooms that the record speaks for are named.
    """
    from hotelwatch.core.checks.risk import risky_rooms
    from hotelwatch.wording.names import label
    from hotelwatch.wording.rounds import risky_sentence, rooms_of_risk_sentence

    if rooms and nobody:
        raise click.UsageError(_("Name rooms, or say --none, not both."))
    wanted = Risk(risk)
    with said_plainly(), opened(hotel_file, by) as hotel:
        if rooms or nobody:
            hotel_actions.place_risk(hotel, wanted, [RoomNo(room) for room in rooms])
        house = hotel.house
        placed = rooms_of_risk(house, wanted)
        click.echo(f"{label(wanted)}: {rooms_of_risk_sentence(placed)}")
        risky = risky_rooms(house, hotel.neighbours(), hotel.today())
        others = [one for one in risky if one.room not in placed]
        if wanted is Risk.HIGHER and others:
            click.echo(_("The record speaks for others, too:"))
            for one in others:
                click.echo(f"  {risky_sentence(one)}")


@click.command("team", short_help="Add or change a team.")
@hotel_argument
@click.argument("name")
@click.option("--people", type=int, default=None, help="How many they are. Default: 2.")
@click.option("--minutes", type=int, default=None, help="Minutes a day for deep checks.")
@click.option("--works-on", default=None, help="Weekdays, as mon tue. Default: mon to fri.")
@click.option("--shift-from", "from_clock", default=None, help="Its shift begins, as 08:00.")
@click.option("--shift-until", "until_clock", default=None, help="Its shift ends.")
@click.option("--keep-free", "kept_free", type=int, default=None, help="Minutes for surprises.")
@click.option("--language", default=None, help='Of its sheets, as es, ar, zh_Hans; "": English.')
@click.option("--gone", is_flag=True, help="The team exists no more.")
@by_option
def team(
    hotel_file: Path,
    name: str,
    *,
    works_on: str | None,
    gone: bool,
    by: str,
    **said: str | int | None,
) -> None:
    """Add a team, or change it: what is not named stays as it was."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        known = hotel.house.teams.get(TeamName(name))
        if known is None and gone:
            raise Refusal("unknown_team", team=name)
        if known is None and said["minutes"] is None:
            raise click.UsageError(_("A new team needs its minutes a day: --minutes."))
        changed: dict[str, Any] = {name: value for name, value in said.items() if value is not None}
        if works_on is not None:
            changed["works_on"] = tuple(works_on.split())
        known = known or TeamDescribed(TeamName(name), 2, 0)
        described = replace(known, in_use=not gone, **changed)
        hotel_actions.describe_teams(hotel, [described])
        click.echo(_("Written down."))


@click.command("teams", short_help="Load teams from a table.")
@hotel_argument
@click.argument("teams", type=EXISTING)
@by_option
def teams(hotel_file: Path, teams: Path, by: str) -> None:
    """Load teams from a csv, xlsx or ods table.

    Its headings: team, people, minutes (a day), works_on (as mon tue); and, if you like,
    shift_from and shift_until (as 08:00), kept_free (minutes a day kept for surprises),
    language (of its sheets, as es).
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        hotel_actions.describe_teams(hotel, read_teams(teams))
        click.echo(_("Written down."))


@click.command("wings", short_help="Load where wings lie from a table.")
@hotel_argument
@click.argument("wings", type=EXISTING)
@by_option
def wings(hotel_file: Path, wings: Path, by: str) -> None:
    """Load where wings lie from a csv, xlsx or ods table.

    Its headings: wing, x_m and y_m (where its corridor begins, in metres),
    bearing_deg (where it leads, seen from above: 0 along x, 90 along y).
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        hotel_actions.place_wings(hotel, read_wings(wings))
        click.echo(_("Written down."))
