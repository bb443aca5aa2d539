"""Commands for dogs' visits: write one down, and list what became of alerts."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions.dogs import record_dog_visit
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.case_commands import moment_said
from hotelwatch.cli.common import by_option, hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.checks.dogs import AlertRow, alert_rows
from hotelwatch.core.treatment_facts import DogVisit
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.dogs import dog_rule, dog_trial_text, dog_worth_text, fate_text, firm_text
from hotelwatch.wording.language import _


@click.command("dog-visit", short_help="Write down where a firm's dog was led and alerted.")
@hotel_argument
@click.argument("firm")
@click.argument("rooms", nargs=-1, required=True, metavar="ROOMS...")
@click.option("--alert", "alerts", multiple=True, metavar="ROOM", help="Where it alerted.")
@click.option("--handler", default="", help="Who led it.")
@click.option("--certified", default="", help="The team's certification, as the firm told it.")
@click.option("--at", default=None, metavar="MOMENT", help="Local time, as 2026-03-09T10:40.")
@click.option("--note", default="", help="Anything more; no guest's name.")
@by_option
def dog_visit(
    hotel_file: Path,
    firm: str,
    rooms: tuple[str, ...],
    *,
    alerts: tuple[str, ...],
    handler: str,
    certified: str,
    at: str | None,
    note: str,
    by: str,
) -> None:
    """Write down that FIRM led a dog through ROOMS: every room, where it was silent too.

    Each alert closes its room on suspicion and asks for a look; it is no find. Silence is
    no look.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        visit = DogVisit(
            visited_at=moment_said(hotel, at),
            firm=firm,
            handler=handler,
            certified=certified,
            rooms=rooms,
            alerts=alerts,
            by=hotel.by,
            noted=note,
        )
        record_dog_visit(hotel, visit)
        entry = max(hotel.house.entries)
        lines = [line for line in alert_rows(hotel.house) if line.row.entry == entry]
        _say_lines(hotel, lines)


@click.command("dog-visits")
@hotel_argument
def list_dog_visits(hotel_file: Path) -> None:
    """Dogs' alerts, the latest first, and what became of each."""
    with said_plainly(), opened(hotel_file) as hotel:
        _say_lines(hotel, list(alert_rows(hotel.house)))


def _say_lines(hotel: OpenHotel, lines: list[AlertRow]) -> None:
    figures = hotel.house.rules.figures
    say_table(
        (_("Day"), _("Firm"), _("Rooms"), _("Alert"), _("What became of it"), _("Case")),
        (
            (
                day_text(line.row.on),
                firm_text(line.row),
                str(len(line.row.visit.rooms)),
                line.alert.room if line.alert else "",
                fate_text(line),
                line.alert.case if line.alert else "",
            )
            for line in lines
        ),
        _("No visit of a dog is written down."),
    )
    click.echo(dog_rule())
    click.echo(dog_trial_text(figures.dog_detection, figures.dog_false_positive))
    click.echo(dog_worth_text(hotel.house))
