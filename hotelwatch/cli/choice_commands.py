"""Commands for house rules: single choices, figures, public holidays."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.choices import (
    choose_figure,
    choose_rule,
    follow_shipped_figure,
    note_holiday,
)
from hotelwatch.cli.common import DAY, by_option, hotel_argument, opened, said_plainly
from hotelwatch.wording.language import _


@click.command("choose", short_help="Choose a single rule over the local set.")
@hotel_argument
@click.argument("rule")
@click.argument("choice")
@by_option
def choose(hotel_file: Path, rule: str, choice: str, *, by: str) -> None:
    """Choose CHOICE for RULE, as: choose hold inspect. "" follows the local set again."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        choose_rule(hotel, rule, choice)
        click.echo(_("Written down."))


@click.command("figure", short_help="Put the hotel's own value in place of a figure.")
@hotel_argument
@click.argument("key")
@click.argument("value", type=float, required=False, default=None)
@click.option("--reason", default="", help="Why; it stands in the month's book.")
@by_option
def figure(hotel_file: Path, key: str, value: float | None, *, reason: str, by: str) -> None:
    """Choose VALUE for the figure KEY; without VALUE the shipped one counts again."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        if value is None:
            follow_shipped_figure(hotel, key)
        else:
            choose_figure(hotel, key, value, reason=reason)
        click.echo(_("Written down."))


@click.command("holiday", short_help="Say that a day is a public holiday.")
@hotel_argument
@click.argument("on", metavar="DAY", type=DAY)
@click.argument("name", default="", required=False)
@click.option("--not-one", is_flag=True, help="It is no public holiday after all.")
@by_option
def holiday(hotel_file: Path, on: date | None, name: str, *, not_one: bool, by: str) -> None:
    """Say that DAY is a public holiday, which clocks in business days leave out."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        note_holiday(hotel, on or hotel.today(), name, holds=not not_one)
        click.echo(_("Written down."))
