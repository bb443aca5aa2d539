"""Why a round can't be in time, what would mend it, and what a change would bring."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions.rounds import weighed, wish_for
from hotelwatch.actions.what_if import prepare_trials, try_out
from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.problems import Refusal
from hotelwatch.core.rounds.able import let_go
from hotelwatch.core.rounds.outlook import Change
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.proofs import again_sentence
from hotelwatch.wording.what_if import openings_sentence, outcome_sentence, trial_text

DAYS = click.option(
    "--days", type=click.IntRange(1, 90), default=None, help="Days ahead, from today."
)


@click.command("why-not", short_help="Say why rooms can't be in time, and what would help.")
@hotel_argument
@DAYS
@click.option("--sums", "with_sums", is_flag=True, help="Show every item of each sum.")
def why_not(hotel_file: Path, *, days: int | None, with_sums: bool) -> None:
    """Say why rooms can't be looked at in time, with sums, and what would help."""
    from hotelwatch.core.planning.reasons import reasons
    from hotelwatch.wording.late_before import (
        late_before_sentence,
        late_sum_sentence,
        told_together,
    )
    from hotelwatch.wording.repairs import ranking_sentence, repair_sentence
    from hotelwatch.wording.shortfalls import (
        load_sentence,
        sum_lines,
    )

    with said_plainly(), opened(hotel_file) as hotel:
        if not hotel.house.teams:
            raise Refusal("no_team")
        house, occupancy = hotel.house, hotel.occupancy()
        found = reasons(house, occupancy, weighed(house, occupancy, wish_for(hotel, days or 0)))
        roster = tuple(hotel.house.rooms)
        click.echo(load_sentence(found.load))
        if not found.shortfalls:
            click.echo(
                _("Nothing keeps a room from being in time on these days.")
                if found.late_before is None
                else _("Nothing keeps another room from being in time on these days.")
            )
        if found.late_before is not None:
            click.echo(late_before_sentence(found.late_before))
        if said := late_sum_sentence(found.late):
            click.echo(said)
        for said, some in told_together(found.shortfalls, roster):
            click.echo("  " + said)
            sums = [line for one in some for line in sum_lines(one)] if with_sums else []
            for line in sums:
                click.echo("    " + line)
        if found.repairs:
            click.echo(_("What would help:"))
            click.echo("  " + ranking_sentence(hotel.house.rules.figures))
        for number, repair in enumerate(found.repairs, 1):
            click.echo(f"  {number}. " + repair_sentence(repair, roster))


@click.command("what-if", short_help="Say what more teams, minutes or days would bring.")
@hotel_argument
@DAYS
@click.option("--teams", type=click.IntRange(-9, 9), default=0, help="More teams, or fewer.")
@click.option(
    "--minutes", type=click.IntRange(0, 500), default=100, help="Percent of each team's minutes."
)
@click.option(
    "--cycle", type=click.IntRange(10, 500), default=100, help="Percent of every room's cycle."
)
@click.option(
    "--kept", type=click.IntRange(0, 50), default=0, help="Rooms a day that are left unsold."
)
def what_if(
    hotel_file: Path, *, days: int | None, teams: int, minutes: int, cycle: int, kept: int
) -> None:
    """Say what more teams, minutes, other cycles or rooms left unsold would bring."""
    with said_plainly(), opened(hotel_file) as hotel:
        if not hotel.house.teams:
            raise Refusal("no_team")
        prepared = prepare_trials(hotel.house, hotel.occupancy(), wish_for(hotel, days or 0))
        as_it_is = prepared.as_is
        outlook = try_out(prepared, Change(teams, minutes, cycle, kept))
        say_table(
            (_("Day"), _("Rooms"), _("Minutes"), _("Of"), _("Beds late"), _("As it is")),
            (
                (
                    day_text(day.on),
                    str(day.rooms),
                    str(day.used),
                    str(day.minutes),
                    str(day.late_beds),
                    str(usual.late_beds),
                )
                for day, usual in zip(outlook.days, as_it_is.days, strict=True)
            ),
            "",
        )
        tried = trial_text(
            teams,
            minutes,
            cycle_percent=cycle,
            kept_rooms=kept,
            gone=let_go(hotel.house, teams),
        )
        last = outlook.days[-1].on
        as_is = as_it_is.overdue_bed_days
        click.echo(outcome_sentence(tried, outlook.overdue_bed_days, as_is=as_is, last=last))
        click.echo(openings_sentence(outlook.fewest))
        if outlook.again:
            click.echo(again_sentence(outlook.again))
