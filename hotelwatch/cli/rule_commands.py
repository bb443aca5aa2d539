"""Commands for sets of local rules: what they say, whether they are met, one's own."""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.rule_sets import (
    choose_profile,
    compare_rules,
    judged_rules,
    load_rules,
    write_template,
)
from hotelwatch.cli.common import (
    DAY,
    EXISTING,
    by_option,
    hotel_argument,
    opened,
    said_plainly,
    say_problems,
    say_table,
)
from hotelwatch.core.clocks import holidays
from hotelwatch.core.house import House
from hotelwatch.core.local_rules.compared import compared_of
from hotelwatch.core.problems import Refusal
from hotelwatch.core.rule_facts import RulesCompared
from hotelwatch.core.standing import Standing
from hotelwatch.wording import local_rules as words
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.profiles import rule_lines


@click.command("rules", short_help="Show the rules the hotel works under, and what is met.")
@hotel_argument
@click.option("--sets", is_flag=True, help="List the local sets there are.")
@click.option("--set", "profile", default="", help="Of this set, instead of the one in force.")
@click.option("--month", default="", help="Judge this month's record, as 2026-03.")
@click.option("--figures", "with_figures", is_flag=True, help="List every figure.")
def rules(hotel_file: Path, *, sets: bool, profile: str, month: str, with_figures: bool) -> None:
    """Show the local set with its clauses, single choices, own figures and public holidays.

    With --month each clause is judged by that month's record: met, not met with what is
    missing, or look yourself. Never legal advice.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        house = hotel.house
        if profile and profile not in house.rule_sets:
            raise Refusal("unknown_profile", profile=profile, among=", ".join(house.rule_sets))
        if sets:
            _say_sets(house)
        elif month:
            _say_judged(hotel, profile, month)
        else:
            _say_rules(hotel, profile, with_figures=with_figures)


def _say_sets(house: House) -> None:
    say_table(
        (_("Key"), _("Name"), _("What it is"), _("Clauses"), _("Source")),
        (
            (p.key, p.name, words.whose_text(p), str(len(p.clauses)), p.source)
            for p in house.rule_sets.values()
        ),
        _("None."),
    )
    click.echo(words.no_advice())


def _say_rules(hotel: OpenHotel, profile: str, *, with_figures: bool) -> None:
    house = hotel.house
    shown = house.rule_sets[profile] if profile else house.profile
    for heading, text in rule_lines(shown, house.choices):
        click.echo(f"{heading}: {text}")
    for clause in shown.clauses:
        made = compared_of(house, shown, clause, hotel.today())
        click.echo(f"{clause.clause}: {words.where_text(clause)}: {clause.says}")
        said = (
            words.terms_text(clause),
            words.reading_text(clause),
            words.compared_text(made.by, made.on, is_stale=made.is_stale),
        )
        click.echo("    " + " · ".join(part for part in said if part))
    if shown.clauses:
        click.echo(words.no_advice())
    for day, name in holidays(house).items():
        click.echo(_("Public holiday: {day} {name}").format(day=day.isoformat(), name=name))
    _say_figures(house, every=with_figures)


def _say_judged(hotel: OpenHotel, profile: str, month: str) -> None:
    judged = judged_rules(hotel.path, hotel.house.shipped, month, hotel.now(), profile)
    click.echo(words.rules_sentence(judged))
    for one in judged.judgements:
        verdict = words.verdict_text(one.verdict)
        click.echo(f"{one.clause.clause}: {verdict}. {one.clause.says}")
        click.echo(f"    {words.judged_sentence(one)} {words.how_judged(one.clause.asks)}")
        for item in one.faults:
            click.echo(f"    - {words.fault_sentence(item, hotel.zone)}")
    click.echo(words.no_advice())


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
        choose_profile(hotel, profile, compared_by=checked_by, compared_on=checked_on)
        click.echo(_("Written down."))


@click.command("compare-rules", short_help="Say who compared rules with the law in force.")
@hotel_argument
@click.argument("profile")
@click.argument("clause", default="", required=False)
@click.option("--checked-by", required=True, help="Who compared it with the law in force.")
@click.option("--checked-on", type=DAY, default=None, help="When, as 2026-03-09; else today.")
@click.option("--noted", default="", help="What was found.")
@by_option
def compare_rules_with_law(
    hotel_file: Path,
    profile: str,
    clause: str,
    *,
    checked_by: str,
    checked_on: date | None,
    noted: str,
    by: str,
) -> None:
    """Say who compared the set PROFILE, or its CLAUSE, with the law in force, and when."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        day = checked_on or hotel.today()
        compare_rules(hotel, RulesCompared(profile, clause, checked_by.strip(), day, noted))
        click.echo(_("Written down."))


@click.command("load-rules", short_help="Load a set of local rules of one's own.")
@hotel_argument
@click.argument("source", metavar="FILE", type=EXISTING)
@by_option
def load_own_rules(hotel_file: Path, source: Path, *, by: str) -> None:
    """Keep the sets of a TOML FILE in the hotel's file; “rules-template” writes a sample."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        reading = load_rules(hotel, source)
        say_problems(reading.problems)
        for one in reading.sets:
            said = ngettext(
                "{name} ({key}): {n} clause kept. Choose it with: choose-rules HOTEL {key}",
                "{name} ({key}): {n} clauses kept. Choose it with: choose-rules HOTEL {key}",
                len(one.clauses),
            )
            click.echo(said.format(name=one.name, key=one.key, n=len(one.clauses)))


@click.command("rules-template", short_help="Write a file that explains a set of local rules.")
@click.argument("target", metavar="FILE", type=click.Path(path_type=Path, dir_okay=False))
def rules_template(target: Path) -> None:
    """Write FILE, a sample set that explains each field."""
    with said_plainly():
        click.echo(_("Written: {file}").format(file=write_template(target)))
