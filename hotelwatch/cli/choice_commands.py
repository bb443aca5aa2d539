"""Commands for house rules: local set, single choices, figures, public holidays."""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.choices import (
    choose_figure,
    choose_profile,
    choose_rule,
    follow_shipped_figure,
    note_holiday,
)
from hotelwatch.cli.common import DAY, by_option, hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.clocks import holidays
from hotelwatch.core.house import House
from hotelwatch.core.standing import Standing
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.profiles import rule_lines


@click.command("rules", short_help="Show the rules the hotel works under.")
@hotel_argument
@click.option("--sets", is_flag=True, help="List the local sets there are.")
@click.option("--figures", "with_figures", is_flag=True, help="List every figure.")
def rules(hotel_file: Path, *, sets: bool, with_figures: bool) -> None:
    """Show the local set, single choices, own figures and public holidays."""
    with said_plainly(), opened(hotel_file) as hotel:
        house = hotel.house
        if sets:
            say_table(
                (_("Key"), _("Name"), _("Source")),
                ((p.key, p.name, p.source) for p in house.shipped.profiles.values()),
                _("None."),
            )
            return
        for heading, text in rule_lines(house.profile, house.choices):
            click.echo(f"{heading}: {text}")
        for day, name in holidays(house).items():
            click.echo(_("Public holiday: {day} {name}").format(day=day.isoformat(), name=name))
        _say_figures(house, every=with_figures)


def _say_figures(house: House, *, every: bool) -> None:
    figures = [getattr(house.rules.figures, field.name) for field in fields(house.rules.figures)]
    wanted = [f for f in figures if every or f.standing is Standing.CHOSEN]
    say_table(
        (_("Figure"), _("Value"), _("Unit"), _("Standing"), _("What it is")),
        ((f.key, f"{f.value:g}", f.unit, label(f.standing), f.note) for f in wanted),
        _("No figure of the hotel's own."),
    )


@click.command("choose-rules", short_help="Work under a set of local rules.")
@hotel_argument
@click.argument("profile")
@click.option("--checked-by", default="", help="Who compared it with the law in force.")
@click.option("--checked-on", type=DAY, default=None, help="When, as 2026-03-09.")
@by_option
def choose_rules(
    hotel_file: Path, profile: str, *, checked_by: str, checked_on: date | None, by: str
) -> None:
    """Work under the local set PROFILE; “rules --sets” lists them."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        choose_profile(hotel, profile, checked_by=checked_by, checked_on=checked_on)
        click.echo(_("Written down."))


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
