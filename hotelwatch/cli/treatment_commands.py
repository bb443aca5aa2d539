"""Commands for treatment: firms, orders, visits, logs of probes, papers, care of things."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.treatment import (
    LogOfRoom,
    describe_firm,
    discard_item,
    keep_paper,
    keep_probe_log,
    note_care,
    order_treatment,
    record_treatment,
)
from hotelwatch.cli.case_commands import moment_said
from hotelwatch.cli.case_lines import say_case
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
from hotelwatch.core.cases.treatment import doubts_of_case, firms
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.lethal.logs import logs_of_case, shown_by
from hotelwatch.core.lethal.verdict import LogVerdict
from hotelwatch.core.treatment_facts import (
    CareDone,
    CareStep,
    FirmDescribed,
    ItemDiscarded,
    PaperKind,
    TreatmentOrdered,
    TreatmentRecorded,
)
from hotelwatch.intake.probe_file import read_probe_log, with_answers
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.lethal import (
    doses_text,
    explanation,
    headline,
    lack_sentence,
    place_name,
    plain_rule_text,
    stretch_text,
)
from hotelwatch.wording.treatment import BEDDING, PREPARATION, doubt_sentence, paper_sentence

METHODS = [method.value for method in Method]


@click.command("firm", short_help="Write down a licensed firm, or list those there are.")
@hotel_argument
@click.argument("name", required=False, default="")
@click.option("--licence", default="", help="Its licence number, as it gave it.")
@click.option("--expires", type=DAY, default=None, help="When the licence runs out.")
@click.option("--scope", default="", help="What the licence covers, in its words.")
@click.option("--gone", is_flag=True, help="It is no longer used.")
@by_option
def firm(
    hotel_file: Path,
    name: str,
    *,
    licence: str,
    expires: date | None,
    scope: str,
    gone: bool,
    by: str,
) -> None:
    """Write down the licensed firm NAME; without NAME list the firms."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        if name:
            describe_firm(hotel, FirmDescribed(name, licence, expires, scope, in_use=not gone))
        say_table(
            (_("Firm"), _("Licence"), _("Runs out"), _("Covers")),
            (
                (f.firm, f.licence, day_text(f.expires_on) if f.expires_on else "", f.scope)
                for f in firms(hotel.house).values()
            ),
            _("No firm is written down."),
        )


@click.command("order-treatment", short_help="Write down a visit ordered from a firm.")
@hotel_argument
@click.argument("case")
@click.argument("rooms", nargs=-1, required=True)
@click.option("--firm", "firm_name", required=True, help="The licensed firm.")
@click.option("--at", "moment", required=True, help="When it comes, as 2026-03-09T10:40.")
@click.option("--preparation", default="", help="What it told the hotel to prepare.")
@by_option
def order(
    hotel_file: Path,
    case: str,
    rooms: tuple[str, ...],
    *,
    firm_name: str,
    moment: str,
    preparation: str,
    by: str,
) -> None:
    """Write down that a firm comes to ROOMS of CASE."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        at = moment_said(hotel, moment)
        order_treatment(
            hotel, TreatmentOrdered(CaseNo(case), rooms, firm_name, at, preparation, by)
        )
        say_case(hotel, CaseNo(case))


@click.command("treatment", short_help="Write down licensed work in rooms.")
@hotel_argument
@click.argument("case")
@click.argument("rooms", nargs=-1, required=True)
@click.option("--method", required=True, help="As the firm reported it.")
@click.option("--firm", required=True, help="The licensed firm.")
@click.option("--licence", required=True, help="Its licence number.")
@click.option("--reenter", required=True, metavar="MOMENT", help="Not to be entered before.")
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--technician", default="", help="Who did it, as reported.")
@click.option("--product", default="", help="As reported.")
@click.option("--registration", default="", help="The product's number, as reported.")
@click.option("--amount", default="", help="How much of it was used, as reported.")
@click.option("--receipt", default="", help="The number on the firm's receipt.")
@click.option("--area", "areas", multiple=True, help="A part that was treated, as reported.")
@click.option("--preparation", type=click.Choice(list(PREPARATION)), help="How it was prepared.")
@click.option("--bedding", type=click.Choice(list(BEDDING)), help="What became of the bedding.")
@click.option("--note", default="", help="Anything more; no guest's name.")
@by_option
def treatment(
    hotel_file: Path,
    case: str,
    rooms: tuple[str, ...],
    *,
    day: date | None,
    reenter: str,
    areas: tuple[str, ...],
    by: str,
    **told: str | None,
) -> None:
    """Write down licensed work in ROOMS, as the firm reported it."""
    said = {key: value or "" for key, value in told.items()}
    with said_plainly(), opened(hotel_file, by) as hotel:
        treated = TreatmentRecorded(
            case=CaseNo(case),
            room=RoomNo(rooms[0]),
            treated_on=day or hotel.today(),
            method=said["method"],
            firm=said["firm"],
            licence=said["licence"],
            reenter_at=moment_said(hotel, reenter),
            noted=said["note"],
            technician=said["technician"],
            product=said["product"],
            registration_no=said["registration"],
            areas=areas,
            preparation=said["preparation"],
            bedding=said["bedding"],
            amount=said["amount"],
            receipt_no=said["receipt"],
        )
        record_treatment(hotel, treated, also=[RoomNo(room) for room in rooms[1:]])
        say_case(hotel, CaseNo(case))
        _say_doubts(hotel.house, CaseNo(case))


@click.command("probe-log", short_help="Read a log of heat or cold and say what it shows.")
@hotel_argument
@click.argument("case")
@click.argument("room")
@click.argument("log_file", type=EXISTING)
@click.option("--method", type=click.Choice(METHODS), default="heat", show_default=True)
@click.option("--day", type=DAY, default="today", show_default=True, help="Day of the treatment.")
@click.option("--unit", type=click.Choice(["c", "f"]), help="Where no heading says it.")
@click.option("--begins", default=None, help="When it began, where the file names no day.")
@click.option("--day-first/--month-first", default=None, help="How 03/04/2026 is read.")
@click.option("--look", is_flag=True, help="Only say what it shows; keep nothing.")
@by_option
def probe_log(
    hotel_file: Path,
    case: str,
    room: str,
    log_file: Path,
    *,
    method: str,
    day: date | None,
    unit: str | None,
    begins: str | None,
    day_first: bool | None,
    look: bool,
    by: str,
) -> None:
    """Read LOG_FILE, keep it with CASE, and say which dose each probe shows."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        begins_at = moment_said(hotel, begins) if begins else None
        read = read_probe_log(log_file, hotel.zone)
        mapping = with_answers(
            read.mapping, unit=unit or "", begins_at=begins_at, day_first=day_first
        )
        read = read_probe_log(log_file, hotel.zone, mapping=mapping)
        say_problems(read.problems)
        if look and read.is_good:
            _say_verdict(shown_by(hotel.house, read.probes, Method(method)), hotel.house)
            return
        of = LogOfRoom(CaseNo(case), RoomNo(room), day or hotel.today(), Method(method))
        label = keep_probe_log(hotel, log_file, read, of)
        kept = next(k for k in logs_of_case(hotel.house, of.case) if k.kept.log == label)
        _say_verdict(kept.verdict, hotel.house)


def _say_verdict(verdict: LogVerdict, house: House) -> None:
    figures = house.rules.figures
    click.echo(headline(verdict))
    for one in verdict.probes:
        stretch = stretch_text(one, figures, verdict.method)
        said = _("  {probe} ({place}): {doses}").format(
            probe=one.probe.name,
            place=place_name(one.probe.place).lower(),
            doses=doses_text(one, verdict.method),
        )
        click.echo(f"{said}; {stretch}" if stretch else said)
    for lack in verdict.lacks:
        click.echo("  " + lack_sentence(lack, house.zone))
    click.echo(explanation(figures, verdict.method))
    if plain := plain_rule_text(figures, verdict.method):
        click.echo(plain)


@click.command("keep-paper", short_help="Keep a report or a receipt with a case.")
@hotel_argument
@click.argument("case")
@click.argument("file", type=EXISTING)
@click.option(
    "--what",
    type=click.Choice([kind.value for kind in PaperKind]),
    default=PaperKind.REPORT.value,
    show_default=True,
    help="What it is.",
)
@by_option
def paper(hotel_file: Path, case: str, file: Path, *, what: str, by: str) -> None:
    """Keep a copy of FILE with CASE, unchanged; say its digest."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        kept = keep_paper(hotel, CaseNo(case), file, what=PaperKind(what))
        click.echo(paper_sentence(kept))
        click.echo(_("Whole digest: {digest}").format(digest=kept.sha256))


@click.command("care", short_help="Write down what was done with luggage, linen or tools.")
@hotel_argument
@click.argument("case")
@click.argument("room")
@click.argument("steps", nargs=-1, required=True, type=click.Choice([s.value for s in CareStep]))
@click.option("--who", required=True, help="Who did it.")
@click.option("--at", "moment", default=None, help="As 2026-03-09T10:40. Default: now.")
@click.option("--celsius", type=float, default=0.0, help="Of a wash or a dryer.")
@click.option("--minutes", type=click.IntRange(0), default=0, help="Of a wash or a dryer.")
@click.option("--note", default="", help="Anything more; no guest's name.")
@by_option
def care(
    hotel_file: Path,
    case: str,
    room: str,
    steps: tuple[str, ...],
    *,
    who: str,
    moment: str | None,
    celsius: float,
    minutes: int,
    note: str,
    by: str,
) -> None:
    """Write down that STEPS of ROOM were taken care of."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        at = moment_said(hotel, moment)
        done = [
            CareDone(CaseNo(case), RoomNo(room), CareStep(step), at, who, celsius, minutes, note)
            for step in steps
        ]
        note_care(hotel, done)
        click.echo(_("Written down."))
        _say_doubts(hotel.house, CaseNo(case))


@click.command("discard", short_help="Write down a thing that was thrown away.")
@hotel_argument
@click.argument("case")
@click.argument("room")
@click.argument("what")
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--unusable", is_flag=True, help="It was made unusable.")
@click.option("--labelled", is_flag=True, help="It was wrapped and labelled.")
@by_option
def discard(
    hotel_file: Path,
    case: str,
    room: str,
    what: str,
    *,
    day: date | None,
    unusable: bool,
    labelled: bool,
    by: str,
) -> None:
    """Write down that WHAT of ROOM was thrown away, so that nobody takes it."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        on = day or hotel.today()
        item = ItemDiscarded(CaseNo(case), RoomNo(room), what, on, unusable, labelled, by)
        discard_item(hotel, item)
        click.echo(_("Written down."))


def _say_doubts(house: House, case: CaseNo) -> None:
    for doubt in doubts_of_case(house, case):
        click.echo(_("Look twice: {doubt}").format(doubt=doubt_sentence(doubt)))
