"""Since when a case's finds may have been there, by command."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from hotelwatch.actions.odds import OddsWish, case_odds
from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import chance_text
from hotelwatch.wording.since import (
    booking_text,
    case_lines,
    find_heading,
    kinds_text,
    limit_lines,
    move_text,
    neighbour_text,
    neighbours_note,
    rests_text,
    since_lines,
    stays_note,
)

if TYPE_CHECKING:
    from hotelwatch.core.odds.since import FindSince


@click.command("since", short_help="Say since when a case's finds may have been there.")
@hotel_argument
@click.argument("case")
@click.option("--stays", is_flag=True, help="List the stays of those days, by booking.")
def since(hotel_file: Path, case: str, *, stays: bool) -> None:
    """Say when what CASE found may have come in, what moved, and the odds next door.

    Three settings stand side by side as a range; all of it is assumed and said so.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        if CaseNo(case) not in hotel.house.sightings:
            raise Refusal("unknown_case", case=case)
        wish = OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today())
        odds = case_odds(wish, CaseNo(case))
        for found in odds.finds:
            _say_find(found)
            if odds.is_latest(found):
                _say_neighbours(found)
            if stays:
                _say_stays(found)
            click.echo()
        for line in case_lines(odds):
            click.echo(line)
        if odds.finds:
            click.echo(rests_text())


def _say_find(found: FindSince) -> None:
    click.echo(find_heading(found))
    for line in (*since_lines(found), *limit_lines(found)):
        click.echo(line)
    for move in found.moves:
        click.echo(f"{day_text(move.moved_on)}: {move_text(move)}")


def _say_neighbours(found: FindSince) -> None:
    click.echo()
    say_table(
        (_("Next door"), _("Chance today (assumed)"), _("Without this find"), _("Where it is")),
        (
            (
                row.room,
                neighbour_text(row),
                "" if row.is_found else chance_text(row.without),
                kinds_text(row),
            )
            for row in found.neighbours
        ),
        _("No room next door is known."),
    )
    if found.neighbours:
        click.echo(neighbours_note(found))


def _say_stays(found: FindSince) -> None:
    click.echo()
    say_table(
        (_("Booking"), _("Arrival"), _("Departure"), _("Came in that day (assumed)")),
        (
            (
                booking_text(row),
                day_text(row.arrives_on),
                day_text(row.leaves_on),
                chance_text(row.chance),
            )
            for row in found.stays
        ),
        _("No stay is known for these days."),
    )
    click.echo(stays_note())
