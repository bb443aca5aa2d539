"""Commands for stairs and lifts: place them, list them with what is assumed of the way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from hotelwatch.actions.hotel import place_stairs
from hotelwatch.cli.common import (
    EXISTING,
    by_option,
    hotel_argument,
    opened,
    said_plainly,
    say_table,
)
from hotelwatch.core.building.walking import Ways
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import Climb, StairPlaced
from hotelwatch.intake.settings_files import read_stairs
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.ways import assumed_sentences


@click.command("stairs", short_help="Load where stairs and lifts are from a table.")
@hotel_argument
@click.argument("stairs", type=EXISTING)
@by_option
def stairs(hotel_file: Path, stairs: Path, by: str) -> None:
    """Load where stairs and lifts are from a csv, xlsx or ods table.

    Its headings: name, wing, along_m (metres from where the wing's corridor begins),
    kind (stair or lift). Each opens on every floor that its wing has.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        place_stairs(hotel, read_stairs(stairs))
        click.echo(_("Written down."))


@click.command("stair", short_help="Place a stair or a lift, or take it away.")
@hotel_argument
@click.argument("name")
@click.option("--wing", default=None, help="The wing on whose corridor it lies.")
@click.option("--along", "along_m", type=float, default=None, help="Metres from its beginning.")
@click.option("--kind", type=click.Choice([kind.value for kind in Climb]), default=None)
@click.option("--gone", is_flag=True, help="It exists no more.")
@by_option
def stair(hotel_file: Path, name: str, *, gone: bool, by: str, **said: str | float | None) -> None:
    """Place a stair or a lift, or change it: what is not named stays as it was."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        known = hotel.house.stairs.get(name)
        if known is None and gone:
            raise Refusal("unknown_stair", stair=name)
        if known is None and said["along_m"] is None:
            raise click.UsageError(_("A new stair needs its place: --wing and --along."))
        changed: dict[str, Any] = {key: value for key, value in said.items() if value is not None}
        if "kind" in changed:
            changed["kind"] = Climb(changed["kind"])
        known = known or StairPlaced(name, "", 0.0)
        place_stairs(hotel, [replace(known, in_use=not gone, **changed)])
        click.echo(_("Written down."))


@click.command("stairs", short_help="Where stairs and lifts are, and what ways assume.")
@hotel_argument
def list_stairs(hotel_file: Path) -> None:
    """Where stairs and lifts are, and what is assumed of the way from room to room."""
    with said_plainly(), opened(hotel_file) as hotel:
        house = hotel.house
        say_table(
            (_("Name"), _("Kind"), _("Wing"), _("Metres along it")),
            (
                (stair.name, label(stair.kind), stair.wing, f"{stair.along_m:g}")
                for stair in house.stairs.values()
            ),
            _("There is no stair or lift yet."),
        )
        for said in assumed_sentences(Ways(house, hotel.building), house.rules.figures):
            click.echo(said)
