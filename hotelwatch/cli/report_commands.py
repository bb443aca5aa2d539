"""Commands for rounds, front desk's list and the record."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

import click

from hotelwatch.actions import reports
from hotelwatch.actions.desk import write_front_desk
from hotelwatch.actions.exporting import how_to_verify
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.plan_reading import leanings_of
from hotelwatch.actions.rounds import draft_round, publish_round, weighed, wish_for
from hotelwatch.cli.common import (
    FILE,
    admit,
    by_option,
    hotel_argument,
    opened,
    said_plainly,
    say_table,
)
from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.checks.coverage import first_round, looks
from hotelwatch.core.checks.slots import SlotRow
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.rounds.draft import draft_rows
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.leaning import Leaning
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.wording.dates import day_text, short_day_text
from hotelwatch.wording.forecast import fallback_sentence, leaning_sentence
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.proofs import hand_price_sentence, odds_weigh_sentence, proof_sentences
from hotelwatch.wording.reasons import why_not_sentence
from hotelwatch.wording.rounds import first_round_sentence
from hotelwatch.wording.verification import fault_sentence


@click.command("plan", short_help="Draft each team's rooms day by day; --publish it.")
@hotel_argument
@click.option("--days", type=click.IntRange(1, 90), default=None, help="Days ahead, from today.")
@click.option("--publish", is_flag=True, help="Make it the round that teams follow.")
@click.option("--whole", is_flag=True, help="Publish likely visits too, not only the fixed.")
@click.option("--strict", is_flag=True, help="Fewest overdue in these days, whatever comes later.")
@by_option
def plan(
    hotel_file: Path, *, days: int | None, publish: bool, whole: bool, strict: bool, by: str
) -> None:
    """Draft each team's rooms day by day; --publish makes it the round.

    Publishing fixes the first day and what cannot wait on later ones. What is likely
    is planned again on its morning.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        if not hotel.house.teams:
            raise Refusal("no_team")
        asked = wish_for(hotel, days or 0, is_strict=strict)
        wish = weighed(hotel.house, hotel.occupancy(), asked)
        draft = draft_round(hotel.house, hotel.occupancy(), wish)
        promised = {(slot.on, slot.room) for slot in draft.promised}
        wanted_by = {
            (state.asked.case, state.asked.room): state.due_on for state in open_asked(hotel.house)
        }
        rows = draft_rows(hotel.house, hotel.occupancy(), draft, now=hotel.now())
        say_table(
            (_("Day"), _("Team"), _("Room"), _("Minutes"), _("Why"), _("Fixed or likely")),
            (
                (
                    day_text(row.on),
                    row.team,
                    row.room,
                    str(row.minutes),
                    _why(row, wanted_by),
                    _firm(row, is_promised=(row.on, row.room) in promised),
                )
                for row in rows
            ),
            _("No room is on a sheet; those left out are told below.")
            if draft.left_out
            else _("Nothing is due, or nothing can be entered, on these days."),
        )
        for said in (*proof_sentences(draft.proof), *_price_of_hand(hotel, wish)):
            click.echo(said)
        if draft.weights:
            click.echo(odds_weigh_sentence())
        unseen = first_round(looks(hotel.house, hotel.today()))
        if unseen is not None:
            click.echo(first_round_sentence(unseen))
        for left in (*draft.left_out, *draft.left_again):
            click.echo("  " + why_not_sentence(left.why, room=left.room, beds=left.only_beds))
        for one in leanings_of(hotel.house, hotel.occupancy(), wish, draft.slots):
            click.echo("  " + _uncertain(one))
        if publish:
            publish_round(hotel, draft, whole=whole)
            published = draft.slots if whole else draft.promised
            counted = ngettext("{n} room published.", "{n} rooms published.", len(published))
            click.echo(counted.format(n=len(published)))


def _price_of_hand(hotel: OpenHotel, wish: Wish) -> Iterator[str]:
    """What pins and forbidden days cost the long view, where there are any."""
    choices = Hand(hotel.house).choices(hotel.today())
    if choices and not wish.is_strict:
        from hotelwatch.core.planning.planner import price_of_hand

        price = price_of_hand(hotel.house, hotel.occupancy(), wish)
        yield hand_price_sentence(choices, with_hand=price.with_hand, without=price.without)


def _uncertain(one: Leaning) -> str:
    return _("{room}, {day}: {why} {fallback}").format(
        room=one.room,
        day=short_day_text(one.on),
        why=leaning_sentence(one.chance, nights=one.nights),
        fallback=fallback_sentence(one.fallback),
    )


def _firm(row: SlotRow, *, is_promised: bool) -> str:
    if row.is_done:
        return _("looked at already")
    return _("fixed") if is_promised else _("likely")


def _why(row: SlotRow, wanted_by: Mapping[tuple[CaseNo, RoomNo], date]) -> str:
    if row.sooner is not None:
        return _("{why}: by {day}").format(
            why=label(row.sooner.why), day=day_text(row.sooner.by_on)
        )
    if not row.asked_by:
        return _("due again") if row.is_again else _("due")
    by_on = wanted_by.get((CaseNo(row.asked_by), row.room))
    if by_on is not None and by_on < row.on:
        return _("asked by case {case} (too late: by {day})").format(
            case=row.asked_by, day=day_text(by_on)
        )
    return _("asked by case {case}").format(case=row.asked_by)


@click.command("front-desk", short_help="Write front desk's list as a workbook.")
@hotel_argument
@click.argument("target", type=FILE)
def front_desk_list(hotel_file: Path, target: Path) -> None:
    """Write front desk's list as a workbook; it holds no case details."""
    with said_plainly(), opened(hotel_file) as hotel:
        write_front_desk(hotel, target)
        click.echo(_("Written: {file}").format(file=target))


@click.command("check-file", short_help="Go through the whole record: does it hold?")
@hotel_argument
@click.option(
    "--printed",
    nargs=2,
    multiple=True,
    type=(click.IntRange(1), str),
    metavar="ENTRY DIGEST",
    help="An entry and its digest as a month's book prints them.",
)
@click.option("--how", is_flag=True, help="Print how a stranger checks it with common tools.")
def check_file(hotel_file: Path, printed: tuple[tuple[int, str], ...], *, how: bool) -> None:
    """Go through the whole record; exit status 1 if anything speaks against it."""
    if how:
        click.echo(how_to_verify())
        return
    with said_plainly():
        admit(hotel_file)
        found = reports.check_file(hotel_file, dict(printed))
    for fault in (*found.problems, *found.remarks):
        click.echo("  " + fault_sentence(fault))
    if not found.is_sound:
        raise click.ClickException(_("The record does not hold."))
    click.echo(
        ngettext("{n} entry, unbroken.", "{n} entries, unbroken.", found.entries).format(
            n=found.entries
        )
    )
    click.echo(_("Last digest: {digest}").format(digest=found.last_digest))
