"""Commands for giving rooms back: what is missing, lift, the word, traps, closing a case."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from hotelwatch.actions import release as release_actions
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.case_commands import moment_said
from hotelwatch.cli.case_lines import say_case, say_missing
from hotelwatch.cli.common import DAY, by_option, hotel_argument, opened, said_plainly
from hotelwatch.core.case_facts import NoticeGiven
from hotelwatch.core.cases.case import Stage, case_of
from hotelwatch.core.cases.conditions import RELEASE_WORD, conditions
from hotelwatch.core.cases.release import release_range
from hotelwatch.core.cases.set_back import set_back
from hotelwatch.core.checks.eggs import egg_dates
from hotelwatch.core.checks.follow_ups import treatments_done, visit_days
from hotelwatch.core.checks.monitors import monitors
from hotelwatch.core.checks.watching import was_closed, watch_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead
from hotelwatch.wording.language import _
from hotelwatch.wording.release import (
    condition_sentence,
    egg_lines,
    missed_sentence,
    monitor_sentence,
    not_confirmed_lines,
    range_lines,
    set_back_sentence,
    visits_sentence,
    watch_lines,
    why_not_empty,
)
from hotelwatch.wording.sheet_cautions import limit_text


@click.command("release", short_help="What is missing before rooms are given back, and when.")
@hotel_argument
@click.argument("case")
@click.argument("room", required=False)
def release(hotel_file: Path, case: str, room: str | None) -> None:
    """Print a case's conditions of release, room by room, its days, or how far its watch is."""
    with said_plainly(), opened(hotel_file) as hotel:
        found = case_of(hotel.house, CaseNo(case))
        if room is not None and room not in found.rooms:
            raise Refusal("room_not_of_case", room=room, case=case)
        for no in found.quarantined:
            if room in (None, no):
                _say_room(hotel, found.no, no)
        if found.stage is Stage.RELEASED:
            for line in watch_lines(watch_of(hotel.house, found.no, hotel.today())):
                click.echo(line)
        elif found.stage is Stage.CLOSED and not was_closed(hotel.house, found.no):
            for line in not_confirmed_lines():
                click.echo(line)
        elif not found.quarantined:
            click.echo(_("No room of case {case} is in quarantine.").format(case=found.no))
        else:
            click.echo(why_not_empty(hotel.house))


def _say_room(hotel: OpenHotel, case: CaseNo, room: RoomNo) -> None:
    house, now = hotel.house, hotel.now()
    click.echo(_("Room {room}:").format(room=room))
    found = conditions(house, case, room, now=now)
    for condition in found:
        mark = _("met") if condition.is_met else _("missing")
        click.echo(f"  [{mark}] {condition_sentence(condition, hotel.zone)}")
    if missed := missed_sentence(found, house):
        click.echo("  " + missed)
    back = set_back(house, case, room, now)
    if back is not None:
        click.echo("  " + set_back_sentence(back))
    done = treatments_done(house, case, room, hotel.today())
    if done:
        for line in egg_lines(egg_dates(house, done[-1].treated_on), house):
            click.echo("  " + line)
        click.echo("  " + visits_sentence(visit_days(house, done[-1])))
    for heading, said in range_lines(release_range(house, case, room, now)):
        click.echo(f"  {heading}: {said}")


@click.command("lift", short_help="Lift a room's quarantine.")
@hotel_argument
@click.argument("case")
@click.argument("room")
@click.option("--reason", default="", help="Needed where the conditions are not met.")
@click.option("--lifted-by", required=True, help="Who answers for giving the room back.")
@click.option("--competence", default="", help="Licence, training or office of that person.")
@by_option
def lift(
    hotel_file: Path,
    case: str,
    room: str,
    *,
    reason: str,
    lifted_by: str,
    competence: str,
    by: str,
) -> None:
    """Lift a room's quarantine: on its conditions, or on a named person's reason."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        try:
            release_actions.lift_quarantine(
                hotel,
                RoomNo(room),
                CaseNo(case),
                by=lifted_by,
                reason=reason,
                competence=competence,
            )
        except Refusal as refusal:
            if refusal.code == "conditions_missing":
                say_missing(hotel, CaseNo(case), RoomNo(room))
            raise
        say_case(hotel, CaseNo(case))
        click.echo(limit_text())


@click.command("release-word", short_help="Write down that a firm or officer gave the word.")
@hotel_argument
@click.argument("case")
@click.argument("giver")
@click.option("--room", default="", help="Only for this room. Default: the whole case.")
@click.option("--at", "moment", default=None, help="As 2026-03-09T10:40. Default: now.")
@click.option("--receipt", default="", help="Number or note of the paper.")
@by_option
def release_word(
    hotel_file: Path,
    case: str,
    giver: str,
    *,
    room: str,
    moment: str | None,
    receipt: str,
    by: str,
) -> None:
    """Write down that GIVER, a firm or an office, said that CASE's rooms may be let."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        given_at = moment_said(hotel, moment)
        given = NoticeGiven(CaseNo(case), RELEASE_WORD, giver, given_at, by, receipt, room=room)
        release_actions.note_release_word(hotel, given)
        click.echo(_("Written down."))


@click.command("close-case", short_help="End the watch over a case's rooms.")
@hotel_argument
@click.argument("case")
@click.option("--closed-by", required=True, help="Who answers for closing it.")
@click.option("--reason", default="", help="Needed where the watch is not over.")
@by_option
def close_case(hotel_file: Path, case: str, *, closed_by: str, reason: str, by: str) -> None:
    """End the watch: as it is over, or on a named person's reason before."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        try:
            release_actions.close_case(hotel, CaseNo(case), by=closed_by, reason=reason)
        except Refusal as refusal:
            if refusal.code == "watch_not_over":
                for line in watch_lines(watch_of(hotel.house, CaseNo(case), hotel.today())):
                    click.echo("  " + line, err=True)
            raise
        say_case(hotel, CaseNo(case))


# --- traps --------------------------------------------------------------------------------


@click.command("monitor", short_help="Write down that a trap was placed or taken away.")
@hotel_argument
@click.argument("label")
@click.argument("room", required=False)
@click.option("--where", default="", help="As under a leg of bed A.")
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--who", required=True, help="Who had it in hand.")
@click.option("--taken", is_flag=True, help="It was taken away.")
@by_option
def monitor(
    hotel_file: Path,
    label: str,
    room: str | None,
    *,
    where: str,
    day: date | None,
    who: str,
    taken: bool,
    by: str,
) -> None:
    """Write down that trap LABEL was put into ROOM; with --taken, that it was taken away."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        on = day or hotel.today()
        if taken:
            release_actions.take_monitor(hotel, label, on=on, by=who)
        elif room is None:
            raise click.UsageError(_("Name the room in which the trap stands."))
        else:
            placed = MonitorPlaced(label, RoomNo(room), where, on, who)
            release_actions.place_monitor(hotel, placed)
        _say_monitors(hotel, label)


@click.command("read-monitor", short_help="Write down what was in a trap.")
@hotel_argument
@click.argument("label")
@click.argument("caught", type=click.IntRange(0))
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--who", required=True, help="Who looked into it.")
@click.option("--replaced", is_flag=True, help="A fresh one was put in its place.")
@click.option("--note", default="", help="Anything more; no guest's name.")
@by_option
def read_monitor(
    hotel_file: Path,
    label: str,
    caught: int,
    *,
    day: date | None,
    who: str,
    replaced: bool,
    note: str,
    by: str,
) -> None:
    """Write down how many insects were CAUGHT in trap LABEL; 0 if it was empty.

    A catch is a sighting at once: the room is closed until a competent person has judged.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        on = day or hotel.today()
        known = {case: len(rows) for case, rows in hotel.house.sightings.items()}
        read = MonitorRead(label, RoomNo(""), on, who, caught, replaced, note)
        release_actions.read_monitor(hotel, read)
        _say_monitors(hotel, label)
        for case, rows in hotel.house.sightings.items():
            if known.get(case, 0) < len(rows):
                say_case(hotel, case)


@click.command("monitors", short_help="Traps: where each stands and what was in it.")
@hotel_argument
@click.option("--all", "with_gone", is_flag=True, help="Those taken away too.")
def list_monitors(hotel_file: Path, *, with_gone: bool) -> None:
    """List traps. An empty one is no proof that nothing is there."""
    with said_plainly(), opened(hotel_file) as hotel:
        shown = [one for one in monitors(hotel.house) if one.is_there or with_gone]
        for one in shown:
            click.echo(monitor_sentence(one, hotel.today()))
        if not shown:
            click.echo(_("No trap stands anywhere."))


def _say_monitors(hotel: OpenHotel, label: str) -> None:
    for one in monitors(hotel.house):
        if one.monitor == label and one.is_there:
            click.echo(monitor_sentence(one, hotel.today()))
