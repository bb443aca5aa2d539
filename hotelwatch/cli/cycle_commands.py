"""What a cycle buys: how long, how large, who finds it, what it costs, what to do next."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.odds.cycles.cycle_rows import Circumstances, CycleRow, Finder, Now
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _

if TYPE_CHECKING:
    from collections.abc import Iterable

    from hotelwatch.core.house import House
    from hotelwatch.core.odds_figures import OddsRules

LONGEST_CYCLE = 1825
IN_ALL = 100


@click.command("cycle-worth", short_help="Say what a cycle buys and costs, shorter and longer.")
@hotel_argument
@click.option(
    "--cycle",
    "cycle_days",
    type=click.IntRange(1, LONGEST_CYCLE),
    default=None,
    help="Days between looks; default: the middle room's cycle.",
)
@click.option("--cover/--no-cover", default=None, help="Dust covers opened, or not.")
@click.option("--headboard/--no-headboard", default=None, help="Headboards taken off, or not.")
@click.option("--encased", is_flag=True, help="All beds encased.")
@click.option("--traps", is_flag=True, help="Traps under the beds.")
@click.option("--let", "let_percent", type=click.IntRange(0, 100), help="Percent of nights let.")
def cycle_worth(
    hotel_file: Path,
    *,
    cycle_days: int | None,
    cover: bool | None,
    headboard: bool | None,
    encased: bool,
    traps: bool,
    let_percent: int | None,
) -> None:
    """Say what a cycle buys: days unseen, insects at find, who finds it, what a year costs.

    Today's way is read from the last year's deep checks unless said otherwise. Three settings
    stand side by side as a range; what nobody measured is assumed and said so.
    """
    from hotelwatch.core.odds.cycles.cycle_hotel import (
        circumstances_of,
        let_nights,
        now_of,
        way_kept,
    )
    from hotelwatch.core.odds.measured import measured
    from hotelwatch.wording.cycle import kept_sentence, rests_lines

    with said_plainly(), opened(hotel_file) as hotel:
        house, today = hotel.house, hotel.today()
        if not house.rooms:
            click.echo(_("No room is known yet: load a roster first."))
            return
        around = circumstances_of(house, today, hotel.neighbours())
        if let_percent is not None:
            around = replace(around, let_share=let_percent / IN_ALL)
        now = now_of(house, today)
        way = replace(
            now.way,
            cover_opened=now.way.cover_opened if cover is None else cover,
            headboard_off=now.way.headboard_off if headboard is None else headboard,
            encased=encased,
            traps=traps,
        )
        now = replace(now, way=way, cycle_days=cycle_days or now.cycle_days)
        odds = measured(house, today).rules
        _say_cycle(house, odds, now, around)
        click.echo("")
        click.echo(_("It rests on:"))
        if cover is None and headboard is None:
            click.echo("  " + kept_sentence(way_kept(house, today)))
        let = let_nights(house, today) if let_percent is None else None
        for line in rests_lines(odds, let):
            click.echo("  " + line)


def _say_cycle(house: House, odds: OddsRules, now: Now, around: Circumstances) -> None:
    from hotelwatch.core.odds.cycles.cycle_hotel import usual_room
    from hotelwatch.core.odds.cycles.cycle_table import cycle_table
    from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS
    from hotelwatch.core.odds.cycles.next_hour import next_hour
    from hotelwatch.wording import cycle as words

    room, rooms = usual_room(house), len(house.rooms)
    answer = next_hour(odds, now, room=room, around=around)
    for line in (
        *words.detection_lines(answer.today, odds),
        *words.year_lines(answer.today, rooms),
    ):
        click.echo(line)
    click.echo("")
    lengths = sorted({*LENGTHS, now.cycle_days})
    rows = cycle_table(odds, (now.way,), lengths, room=room, around=around)
    _say_rows(rows, odds, rooms)
    click.echo("")
    say_table(
        (
            _("One step further"),
            _("Hidden days less a year"),
            _("Hours more"),
            _("Money more for looking"),
            _("In all"),
        ),
        (words.step_cells(worth, rooms) for worth in answer.steps),
        "",
    )
    for line in words.next_hour_lines(answer, rooms):
        click.echo(line)


def _say_rows(rows: Iterable[CycleRow], odds: OddsRules, rooms: int) -> None:
    from hotelwatch.wording import cycle as words

    told = list(rows)
    say_table(
        (
            _("A look every"),
            _("Days unseen"),
            _("Insects, half with up to"),
            _("9 in 10 with up to"),
            _("By a check first"),
            _("By a guest first"),
        ),
        (
            (
                days_text(row.cycle_days),
                words.days_cell(row),
                words.median_insects_cell(row, odds),
                words.many_insects_cell(row, odds),
                words.first_cell(row, Finder.CHECK),
                words.first_cell(row, Finder.GUEST),
            )
            for row in told
        ),
        "",
    )
    click.echo("")
    say_table(
        (
            _("A look every"),
            _("Hidden days a year"),
            _("Nights closed"),
            _("Hours"),
            _("Money for looking"),
            _("Money in all"),
        ),
        (
            (
                days_text(row.cycle_days),
                words.year_cell(row, rooms, lambda year: year.infested_days),
                words.year_cell(row, rooms, lambda year: year.nights_closed),
                words.year_cell(row, rooms, lambda year: year.hours),
                words.year_cell(row, rooms, lambda year: year.spent),
                words.year_cell(row, rooms, lambda year: year.cost),
            )
            for row in told
        ),
        "",
    )
