"""Commands for people: who works here, add somebody, another role, a new PIN, has left."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions.people import describe_person, leave_hotel
from hotelwatch.cli.common import by_option, hotel_argument, opened, said_plainly, say_table
from hotelwatch.cli.seat import read_new_pin
from hotelwatch.core.people import people, refused_rows
from hotelwatch.core.people_facts import StaffRole
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.people import refused_what, refused_when, refused_who, refused_why


@click.command("people", short_help="Who works here in which role; what was refused.")
@hotel_argument
@click.option("--refused", is_flag=True, help="What was refused, the latest first.")
def list_people(hotel_file: Path, *, refused: bool) -> None:
    """Who works here in which role; or what was refused, to whom and why."""
    with said_plainly(), opened(hotel_file) as hotel:
        if refused:
            say_table(
                (_("When"), _("Who"), _("What"), _("Why")),
                (
                    (
                        refused_when(row, hotel.zone),
                        refused_who(row),
                        refused_what(row),
                        refused_why(row),
                    )
                    for row in refused_rows(hotel.house)
                ),
                _("Nothing was refused yet."),
            )
            return
        say_table(
            (_("Name"), _("Role")),
            ((one.person, label(one.role)) for one in people(hotel.house).values()),
            _("Nobody is written down: everything is open to everybody."),
        )


@click.command("person", short_help="Add a person with a role and a PIN, or change one.")
@hotel_argument
@click.argument("name")
@click.option("--role", type=click.Choice([role.value for role in StaffRole]), help="Their role.")
@click.option("--new-pin", is_flag=True, help="Ask for a new PIN, without showing it.")
@click.option(
    "--new-pin-file", metavar="FILE", help="Read the new PIN from this file's first line."
)
@click.option("--gone", is_flag=True, help="Works here no more.")
@by_option
def person(
    hotel_file: Path,
    name: str,
    *,
    role: str | None,
    new_pin: bool,
    new_pin_file: str | None,
    gone: bool,
    by: str,
) -> None:
    """Add NAME, or change that person's role or PIN; the first must be executive_housekeeper.

    Who is new needs a role and a PIN. From the first person on, everybody needs a PIN.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        if gone:
            leave_hotel(hotel, name)
            click.echo(_("{name} works here no more.").format(name=name))
            return
        known = people(hotel.house).get(name)
        chosen = StaffRole(role) if role is not None else known.role if known else None
        if chosen is None:
            raise Refusal("person_needs_role", person=name)
        wants_pin = new_pin or new_pin_file is not None or known is None
        pin = read_new_pin(new_pin_file) if wants_pin else ""
        describe_person(hotel, name, chosen, pin=pin)
        click.echo(_("{name} is written down.").format(name=name))
