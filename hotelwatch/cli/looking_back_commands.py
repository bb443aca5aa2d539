"""What the record shows, by command: finds, where they recur, the cycle kept, what finds cost."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from hotelwatch.actions.looking_back import BackWish, LookingBack, look_back
from hotelwatch.actions.odds import OddsWish, odds_view
from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.looking_back import (
    again_note,
    cost_lines,
    find_heading,
    find_lines,
    finds_lines,
    group_name,
    groups_line,
    kept_lines,
    kept_note,
    money_text,
    treated_cell,
    year_text,
)
from hotelwatch.wording.names import label

if TYPE_CHECKING:
    from collections.abc import Iterable


@click.command("looking-back", short_help="Say what the record shows: cycle, finds, cost so far.")
@hotel_argument
def looking_back(hotel_file: Path) -> None:
    """Say whether the cycle is kept, when finds came in, where they recur and what they cost.

    Looks, finds, nights and treatments are counted; when a find came in is reckoned, assumed.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        view = odds_view(
            OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today())
        )
        back = look_back(BackWish(view, hotel.now()))
        _say_kept(back)
        _say_finds(back)
        _say_again(back)
        _say_cost(back)


def _say(heading: str, lines: Iterable[str]) -> None:
    click.echo(heading)
    for line in lines:
        click.echo(f"  {line}")


def _say_kept(back: LookingBack) -> None:
    _say(_("Is the cycle kept"), (*kept_lines(back.kept), kept_note()))
    for look in back.kept.never:
        click.echo(
            _("  {bed}: no whole look on record, first due on {day}").format(
                bed=look.bed, day=day_text(look.due_on)
            )
        )


def _say_finds(back: LookingBack) -> None:
    click.echo("")
    _say(_("Finds"), finds_lines(back.in_all))
    for find in back.finds:
        click.echo("")
        _say(f"  {find_heading(find)}", (f"  {line}" for line in find_lines(find)))


def _say_again(back: LookingBack) -> None:
    click.echo("")
    _say(_("Found again"), (groups_line(back.groups, back.in_all.finds), again_note()))
    for group in back.groups:
        click.echo(
            ngettext(
                "  {what} {which}: {finds} finds in {n} of {rooms} room",
                "  {what} {which}: {finds} finds in {n} of {rooms} rooms",
                group.rooms,
            ).format(
                what=label(group.of),
                which=group_name(group),
                finds=group.finds,
                n=len(group.found_in),
                rooms=group.rooms,
            )
        )


def _say_cost(back: LookingBack) -> None:
    click.echo("")
    _say(_("What finds cost"), cost_lines(back.years, back.rules))
    if back.years:
        say_table(
            [_("Year"), _("Finds"), _("Nights"), _("Not confirmed"), _("Treated"), _("Money")],
            [
                (
                    year_text(row),
                    str(row.finds),
                    str(row.nights),
                    str(row.nights_of_others),
                    treated_cell(row),
                    money_text(row.money),
                )
                for row in back.years
            ],
            "",
        )
    click.echo(_("For other rules see cycle-worth and simulate."))
