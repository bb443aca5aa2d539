"""Commands that join cases, split one, and say where a specimen is."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions.joining import join_cases, note_specimen, split_case
from hotelwatch.cli.case_commands import moment_said
from hotelwatch.cli.case_lines import say_case
from hotelwatch.cli.common import FILE, by_option, hotel_argument, opened, said_plainly
from hotelwatch.cli.sheet_commands import pages_text
from hotelwatch.core.case_facts import CasesJoined, SpecimenNoted, SpecimenStep
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.wording.language import _


@click.command("join-cases", short_help="Let one case go into another.")
@hotel_argument
@click.argument("from_case")
@click.argument("into_case")
@click.option("--reason", required=True, help="Why; it stays in the record.")
@by_option
def join(hotel_file: Path, from_case: str, into_case: str, *, reason: str, by: str) -> None:
    """Let FROM_CASE go into INTO_CASE; its story goes along."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        joined = CasesJoined(CaseNo(from_case), CaseNo(into_case), by, reason)
        join_cases(hotel, joined)
        say_case(hotel, CaseNo(into_case))


@click.command("split-case", short_help="Take signs out of a case into a new one.")
@hotel_argument
@click.argument("case")
@click.argument("entries", nargs=-1, required=True, type=int)
@click.option("--reason", required=True, help="Why; it stays in the record.")
@by_option
def split(hotel_file: Path, case: str, entries: tuple[int, ...], *, reason: str, by: str) -> None:
    """Take the signs of ENTRIES out of CASE; “case-paper” and “list entries” number them."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        say_case(hotel, split_case(hotel, CaseNo(case), entries, reason=reason))


@click.command("specimen", short_help="Say where a specimen is.")
@hotel_argument
@click.argument("case")
@click.argument("label")
@click.argument("step", type=click.Choice([step.value for step in SpecimenStep]))
@click.argument("where")
@click.option("--room", default="", help="Where it was found. Default: the case's first room.")
@click.option("--at", "moment", default=None, help="As 2026-03-09T10:40. Default: now.")
@click.option("--note", default="", help="Anything more.")
@by_option
def specimen(
    hotel_file: Path,
    case: str,
    label: str,
    step: str,
    where: str,
    *,
    room: str,
    moment: str | None,
    note: str,
    by: str,
) -> None:
    """Say that the specimen LABEL of CASE is kept, sent, back or discarded, and WHERE."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        found_in = RoomNo(room) if room else case_of(hotel.house, CaseNo(case)).room
        at = moment_said(hotel, moment)
        noted = SpecimenNoted(
            CaseNo(case), label, found_in, SpecimenStep(step), where, by, at, note
        )
        note_specimen(hotel, noted)
        click.echo(_("Written down."))


@click.command("specimen-label", short_help="Print labels for a case's specimens, as PDF.")
@hotel_argument
@click.argument("case")
@click.argument("target", type=FILE)
@click.option("--label", "labels", multiple=True, help="Of this specimen only, as T-7.")
@click.option("--copies", type=click.IntRange(1), default=1, show_default=True, help="Of each.")
def specimen_label(
    hotel_file: Path, case: str, target: Path, *, labels: tuple[str, ...], copies: int
) -> None:
    """Print labels for the specimens of CASE to TARGET: six to a page, to cut out."""
    # Qt is loaded only where something is printed.
    from hotelwatch.printing.specimen_label import LabelWish, print_labels

    with said_plainly(), opened(hotel_file) as hotel:
        wish = LabelWish(CaseNo(case), labels, copies)
        click.echo(pages_text(target, print_labels(hotel.house, wish, target)))
