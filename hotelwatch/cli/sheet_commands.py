"""Commands that print sheets for teams: a day's rounds, and what a case wants looked at."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from hotelwatch.cli.common import DAY, FILE, hotel_argument, opened, said_plainly
from hotelwatch.core.facts import CaseNo, TeamName
from hotelwatch.wording.language import ngettext

language_option = click.option(
    "--language", default="", help="As es, ar, zh_Hans. Default: the team's own."
)
day_option = click.option(
    "--day", type=DAY, default="today", show_default=True, help="As 2026-03-09."
)


@click.command("sheet", short_help="Print each team's sheet of a day as PDF.")
@hotel_argument
@day_option
@click.option("--team", default="", help="One team only.")
@click.option(
    "--folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path(),
    help="Where the PDFs go. Default: here.",
)
@language_option
def sheet(hotel_file: Path, *, day: date | None, team: str, folder: Path, language: str) -> None:
    """Print each team's sheet of a day as PDF, in its team's language."""
    with said_plainly():
        printed = print_sheets(hotel_file, folder, day=day, team=team, language=language)
        for target, pages in printed:
            click.echo(pages_text(target, pages))


def print_sheets(
    hotel_file: Path,
    folder: Path,
    *,
    day: date | None = None,
    team: str = "",
    language: str = "",
) -> tuple[tuple[Path, int], ...]:
    """Print the sheets of a day; each PDF with its number of pages.

    Refused where no team has a room that day.
    """
    # Qt is loaded only where something is printed.
    from hotelwatch.printing.application import ensure_application
    from hotelwatch.printing.day_sheets import print_sheets as print_all

    with opened(hotel_file) as hotel:
        ensure_application()
        today = hotel.today()
        return print_all(
            hotel.house,
            hotel.occupancy(),
            folder,
            on=day or today,
            today=today,
            team=team,
            language=language,
        )


@click.command("case-sheet", short_help="Print what a team looks at because of a case, as PDF.")
@hotel_argument
@click.argument("case")
@click.argument("target", type=FILE)
@click.option("--team", required=True, help="Who goes.")
@day_option
@language_option
def case_sheet(
    hotel_file: Path, case: str, target: Path, *, team: str, day: date | None, language: str
) -> None:
    """Print the rooms that CASE wants looked at, for the team that goes, in its language."""
    from hotelwatch.printing.case_walk import CaseWish, print_case_walk

    with said_plainly(), opened(hotel_file) as hotel:
        wish = CaseWish(CaseNo(case), TeamName(team), day or hotel.today(), language)
        click.echo(pages_text(target, print_case_walk(hotel, wish, target)))


def pages_text(target: Path, pages: int) -> str:
    """Where a paper lies, and how many pages it has."""
    return ngettext("{file}: {n} page", "{file}: {n} pages", pages).format(file=target, n=pages)
