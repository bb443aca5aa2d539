"""Commands for what is next: duties of all cases, who sees to them, who was told."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions.duties import give_notice, name_owner
from hotelwatch.cli.case_commands import moment_said
from hotelwatch.cli.common import FILE, by_option, hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.case_facts import NoticeGiven, OwnerNamed
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.desk_duties import what_is_next
from hotelwatch.core.cases.duties import Duty
from hotelwatch.core.cases.notices import NOTICES
from hotelwatch.core.facts import CaseNo
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.notices import ready_text
from hotelwatch.wording.steps import deadline_text, step_sentence


@click.command("next", short_help="List what is to be done next in all cases.")
@hotel_argument
def list_next(hotel_file: Path) -> None:
    """List every duty of every open case, the overdue first."""
    with said_plainly(), opened(hotel_file) as hotel:
        now = hotel.now()

        def row(duty: Duty) -> tuple[str, ...]:
            return (
                duty.case,
                label(duty.state),
                duty.owner or label(duty.role),
                step_sentence(duty.step, hotel.zone),
                deadline_text(duty.step, hotel.zone, now=now),
                duty.step.code,
            )

        say_table(
            (_("Case"), _("State"), _("Who"), _("What"), _("By when"), _("Duty")),
            map(row, what_is_next(hotel.house, hotel.occupancy(), now)),
            _("No case is open."),
        )


@click.command("told", short_help="Write down that a guest or an authority was told.")
@hotel_argument
@click.argument("case")
@click.argument("notice", type=click.Choice(NOTICES))
@click.argument("to")
@click.option("--at", "moment", default=None, help="As 2026-03-09T10:40. Default: now.")
@click.option("--receipt", default="", help="Number or note of the receipt.")
@by_option
def told(
    hotel_file: Path,
    case: str,
    notice: str,
    to: str,
    *,
    moment: str | None,
    receipt: str,
    by: str,
) -> None:
    """Write down that TO was told about CASE; name an office, never a guest."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        given_at = moment_said(hotel, moment)
        give_notice(hotel, NoticeGiven(CaseNo(case), notice, to, given_at, by, receipt))
        click.echo(_("Written down."))


@click.command("notice-text", short_help="Print a text ready to be said or sent.")
@hotel_argument
@click.argument("case")
@click.argument("notice", type=click.Choice(NOTICES))
def notice_text(hotel_file: Path, case: str, notice: str) -> None:
    """Print the text of a notice about CASE; read it over before it leaves the house."""
    with said_plainly(), opened(hotel_file) as hotel:
        click.echo(ready_text(notice, hotel.house, case_of(hotel.house, CaseNo(case))).whole)


@click.command("owner", short_help="Say who sees to a duty of a case.")
@hotel_argument
@click.argument("case")
@click.argument("duty")
@click.argument("owner")
@click.option("--room", default="", help="Only this room's.")
@by_option
def owner_of(hotel_file: Path, case: str, duty: str, owner: str, *, room: str, by: str) -> None:
    """Say that OWNER sees to DUTY of CASE, as “next” names it; "" takes it back."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        name_owner(hotel, OwnerNamed(CaseNo(case), duty, room, owner))
        click.echo(_("Written down."))


@click.command("case-paper", short_help="Print a case as PDF, for insurer or inspector.")
@hotel_argument
@click.argument("case")
@click.argument("target", type=FILE)
def case_paper(hotel_file: Path, case: str, target: Path) -> None:
    """Print CASE with its story, photos and corrections; no guest is named."""
    from hotelwatch.printing.case_sheet import print_case_of

    with said_plainly(), opened(hotel_file) as hotel:
        print_case_of(hotel, CaseNo(case), target)
        click.echo(_("Written: {file}").format(file=target))
