"""Surveys by command: how many rooms would show something, and what looks already done show."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import click

from hotelwatch.actions.odds import OddsView, OddsWish, odds_view
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.surveys import PlanAsked, SpanAsked, survey_planned, survey_shown
from hotelwatch.cli.common import DAY, hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.odds.surveys.survey_wish import (
    PlannedRoom,
    SurveyLook,
    SurveyOrder,
    SurveyQuestion,
    SurveyWish,
    usual_question,
)
from hotelwatch.core.odds_figures import OddsRules
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import chance_text
from hotelwatch.wording.survey_plan import (
    in_100_text,
    left_out_lines,
    looked_sentence,
    plan_headline,
    plan_lines,
    plan_rests,
    span_lines,
)

IN_ALL = 100
LEAST_SHARE = 0.1
LEAST_TIMES, MOST_TIMES = 50, 99.9
MOST_INSECTS = 1000
WEEK, FORTNIGHT, QUARTER = 7, 14, 92

share_option = click.option(
    "--share",
    "share_percent",
    type=click.FloatRange(LEAST_SHARE, IN_ALL),
    help="Percent of the rooms that are infested; default: 1 (common practice).",
)
number_option = click.option(
    "--number", type=click.IntRange(1), help="So many infested rooms, in place of a share."
)
insects_option = click.option(
    "--insects",
    type=click.IntRange(1, MOST_INSECTS),
    help="At least so many in each; default: 12.",
)
times_option = click.option(
    "--times",
    "times_in_100",
    type=click.FloatRange(LEAST_TIMES, MOST_TIMES),
    help="So often in 100 one of them is to be found; default: 95 (common practice).",
)


@click.group("survey", short_help="Surveys: what it takes to show something, and what looks show.")
def survey() -> None:
    """Say how likely looks find one of so many rooms with so many bed bugs, were they there."""


@survey.command("plan", short_help="Say how many rooms to look at, which, and what it takes.")
@hotel_argument
@share_option
@number_option
@insects_option
@times_option
@click.option(
    "--look",
    type=click.Choice([look.value for look in SurveyLook]),
    default=SurveyLook.SHEET.value,
    show_default=True,
    help="As the sheet asks; with dust covers opened; headboards off; both.",
)
@click.option(
    "--order",
    type=click.Choice([order.value for order in SurveyOrder]),
    default=SurveyOrder.BY_ODDS.value,
    show_default=True,
    help="Likeliest rooms first, by today's odds; or drawn by lot.",
)
@click.option("--from", "first_on", type=DAY, default="today", help="The first day of it.")
@click.option(
    "--within",
    "days",
    type=click.IntRange(1, QUARTER),
    default=WEEK,
    show_default=True,
    help="Days in which the rooms are to be entered.",
)
@click.option("--minutes", type=click.IntRange(1), help="A team's minutes at most.")
def plan(
    hotel_file: Path,
    *,
    share_percent: float | None,
    number: int | None,
    insects: int | None,
    times_in_100: float | None,
    look: str,
    order: str,
    first_on: date | None,
    days: int,
    minutes: int | None,
) -> None:
    """Say how many rooms a survey must look at, which, and how long that takes.

    Three settings stand side by side as a range; what was asked for counts as reached only
    with each of them. Nothing is written down and nobody is asked to look.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        view = _view(hotel)
        begins_on = first_on or hotel.today()
        asked = _question(view.reckoning.rules, share_percent, number, insects, times_in_100)
        wish = SurveyWish(
            question=asked,
            first_on=begins_on,
            days=days,
            look=SurveyLook(look),
            order=SurveyOrder(order),
            minutes_at_most=minutes,
            draw=begins_on.toordinal(),
        )
        _say_plan(PlanAsked(view, hotel.occupancy(), wish))


@survey.command("shown", short_help="Say what the looks of some days show.")
@hotel_argument
@share_option
@number_option
@insects_option
@times_option
@click.option("--from", "from_on", type=DAY, help="The first day; default: two weeks back.")
@click.option("--until", "until_on", type=DAY, default="today", help="The last day.")
def shown(
    hotel_file: Path,
    *,
    share_percent: float | None,
    number: int | None,
    insects: int | None,
    times_in_100: float | None,
    from_on: date | None,
    until_on: date | None,
) -> None:
    """Say what the looks of some days show, taken together as one survey.

    Only if nothing was found or told on these days that may be bed bugs.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        view = _view(hotel)
        last_on = until_on or hotel.today()
        first_on = from_on or last_on - timedelta(days=FORTNIGHT - 1)
        if first_on > last_on:
            raise click.UsageError(_("The first day comes after the last one."))
        rules = view.reckoning.rules
        asked = _question(rules, share_percent, number, insects, times_in_100)
        span = survey_shown(SpanAsked(view, asked, first_on, last_on))
        click.echo(looked_sentence(span))
        for line in span_lines(span, rules):
            click.echo(line)


def _view(hotel: OpenHotel) -> OddsView:
    return odds_view(OddsWish(hotel.house, hotel.occupancy(), hotel.neighbours(), hotel.today()))


def _question(
    rules: OddsRules,
    share_percent: float | None,
    number: int | None,
    insects: int | None,
    times_in_100: float | None,
) -> SurveyQuestion:
    usual = usual_question(rules)
    return SurveyQuestion(
        insects=insects or usual.insects,
        confidence=times_in_100 / IN_ALL if times_in_100 else usual.confidence,
        share=share_percent / IN_ALL if share_percent else usual.share,
        number=number,
    )


def _say_plan(asked: PlanAsked) -> None:
    made = survey_planned(asked)
    if made is None:
        click.echo(_("There is no room of which a survey could speak."))
        return
    rules = asked.view.reckoning.rules
    click.echo(plan_headline(made))
    for line in (*plan_lines(made), *left_out_lines(made), *plan_rests(made, rules)):
        click.echo(line)
    if made.chosen:
        click.echo("")
        say_table(
            (
                _("Room"),
                _("Floor"),
                _("Can go in"),
                _("Takes"),
                _("Sees it, in 100"),
                _("Something was missed"),
            ),
            map(_cells, made.chosen),
            "",
        )


def _cells(row: PlannedRoom) -> tuple[str, ...]:
    return (
        row.room,
        row.floor,
        short_day_text(row.on),
        minutes_text(row.minutes),
        in_100_text(row.seen),
        chance_text(row.chance),
    )
