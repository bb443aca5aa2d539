"""Commands that take a round elsewhere: on one page, and as a calendar."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from hotelwatch.actions import round_papers
from hotelwatch.actions.hotel import check_language
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.common import FILE, hotel_argument, opened, said_plainly
from hotelwatch.core.rounds.team_days import Round
from hotelwatch.wording.language import _

PAGE_DAYS = 35
"""Five whole weeks touch six of a calendar, as many as a page holds."""


def round_options(most_days: int) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Which round is meant: by default what is published from today on."""

    def add(command: Callable[..., Any]) -> Callable[..., Any]:
        days = click.option(
            "--days", type=click.IntRange(1, most_days), default=None, help="Days of the draft."
        )
        draft = click.option("--draft", is_flag=True, help="Draft it first; nobody follows it yet.")
        month = click.option("--month", metavar="YYYY-MM", default="", help="A month's days.")
        return month(draft(days(command)))

    return add


@click.command("round-page", short_help="Print a round, or a month of it, on one page.")
@hotel_argument
@click.option("--to", "target", type=FILE, default=None, help="Default: beside the hotel's file.")
@click.option(
    "--language",
    "languages",
    multiple=True,
    help="As es, ar, zh_Hans. Default: a page in each language of its teams.",
)
@round_options(PAGE_DAYS)
def round_page(
    hotel_file: Path,
    *,
    target: Path | None,
    languages: tuple[str, ...],
    month: str,
    draft: bool,
    days: int | None,
) -> None:
    """Print who looks at which rooms on which day, on one page as PDF.

    What is published from today on, unless a month is named or a draft asked for.
    """
    # Qt is loaded only where something is printed.
    from hotelwatch.printing.application import ensure_application
    from hotelwatch.printing.round_page import print_round

    with said_plainly(), opened(hotel_file) as hotel:
        ahead = round_papers.round_ahead
        told = _meant(hotel, month=month, draft=draft, days=days, ahead=ahead)
        path = target or _beside(hotel_file, told, ".pdf")
        ensure_application()
        for code in languages:
            check_language(code)
        print_round(hotel.house, told, path, now=hotel.now(), languages=languages)
        click.echo(_("Written: {file}").format(file=path))


@click.command("calendar", short_help="Write the round as an iCalendar file.")
@hotel_argument
@click.option("--to", "target", type=FILE, default=None, help="Default: beside the hotel's file.")
@click.option("--team", default="", help="One team only.")
@click.option(
    "--each-team",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="A file for each team, in this folder.",
)
@round_options(90)
def calendar(
    hotel_file: Path,
    *,
    target: Path | None,
    team: str,
    folder: Path | None,
    month: str,
    draft: bool,
    days: int | None,
) -> None:
    """Write the round as an iCalendar file, an event for each team and day.

    What is published from today on, unless a month is named or a draft asked for.
    Importing a later file replaces what an earlier one brought, and cancels what was
    published once and is no more.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        ahead = round_papers.calendar_ahead
        told = _meant(hotel, month=month, draft=draft, days=days, ahead=ahead)
        if folder is not None:
            _refuse_both(team=bool(team), target=target is not None)
            written = round_papers.write_calendars(hotel, told, folder)
        else:
            path = target or _beside(hotel_file, told, ".ics")
            round_papers.write_calendar(hotel, told, path, team=team)
            written = (path,)
        for path in written:
            click.echo(_("Written: {file}").format(file=path))


def _meant(
    hotel: OpenHotel,
    *,
    month: str,
    draft: bool,
    days: int | None,
    ahead: Callable[[OpenHotel], Round],
) -> Round:
    if draft and month:
        raise click.UsageError(_("A draft begins today: leave --month or --draft out."))
    if days and not draft:
        raise click.UsageError(_("--days are those of a draft: add --draft."))
    if draft:
        return round_papers.draft_ahead(hotel, days or 0)
    return round_papers.round_of_month(hotel, month) if month else ahead(hotel)


def _refuse_both(*, team: bool, target: bool) -> None:
    if team or target:
        raise click.UsageError(_("--each-team writes all teams: leave --team and --to out."))


def _beside(hotel_file: Path, told: Round, ending: str) -> Path:
    name = f"{hotel_file.stem}-round-{told.from_on.isoformat()}{ending}"
    return hotel_file.with_name(name)
