"""Commands for blind trials: hide a dummy, end its trial, list them, say what they show.

They are the supervisor's: nothing of this shows on a sheet or among what is to be done.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from hotelwatch.actions.trials import TrialEnding, end_trial, hide_dummy, note_blind_pair
from hotelwatch.cli.case_commands import moment_said
from hotelwatch.cli.common import DAY, by_option, hotel_argument, opened, said_plainly
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds.learning.learned import learned
from hotelwatch.core.odds.learning.occupancy import by_numbers, occupancy
from hotelwatch.core.odds.learning.trials import TrialState, trials
from hotelwatch.core.problems import Refusal
from hotelwatch.core.trial_facts import BlindPair, DummyFate, DummyHidden
from hotelwatch.wording.language import _
from hotelwatch.wording.trials import (
    dummy_caution,
    finds_sentence,
    found_elsewise_sentence,
    learned_lines,
    lifting_caution,
    repeats_sentence,
    trial_sentence,
)

FATES = [fate.value for fate in DummyFate]


@click.group("trial", short_help="Blind trials: how well your own checks find what is there.")
def trial() -> None:
    """Blind trials with hidden dummies, for the supervisor; each step has its own command."""


@trial.command("hide", short_help="Write down that a harmless dummy was hidden.")
@hotel_argument
@click.argument("dummy")
@click.argument("room")
@click.argument("place")
@click.option("--bed", default="", help="Letter of the bed; without it, a place of the room.")
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--who", required=True, help="Who hid it; that person's look does not count.")
@by_option
def hide(
    hotel_file: Path,
    dummy: str,
    room: str,
    place: str,
    *,
    bed: str,
    day: date | None,
    who: str,
    by: str,
) -> None:
    """Write down that the dummy labelled DUMMY was hidden at PLACE of ROOM, for the next look.

    A harmless marked object, never an insect; nobody who looks may know of it, and it must be
    collected. "list places" has the codes of places.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        label = f"{room}/{bed}" if bed else ""
        on = day or hotel.today()
        try:
            hide_dummy(hotel, DummyHidden(dummy, RoomNo(room), label, place, on, who))
        except Refusal as refusal:
            if refusal.code == "unknown_place":
                told = _("See the places with: list places {file} {room}")
                click.echo(told.format(file=hotel.path.name, room=room), err=True)
            raise
        for one in trials(hotel.house):
            if one.state is TrialState.HIDDEN and one.hidden.dummy == dummy:
                click.echo(trial_sentence(one))
        click.echo(dummy_caution())
        click.echo(lifting_caution())


@trial.command("end", short_help="Write down that a dummy was found or missed, and collected.")
@hotel_argument
@click.argument("dummy")
@click.option("--found/--missed", "was_found", required=True, help="Whether a look found it.")
@click.option("--fate", type=click.Choice(FATES), help="Collected, or lost.")
@click.option("--looked-by", multiple=True, metavar="NAME", help="Who looked; may be repeated.")
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--note", default="", help="Anything more; no guest's name.")
@by_option
def end(
    hotel_file: Path,
    dummy: str,
    *,
    was_found: bool,
    fate: str | None,
    looked_by: tuple[str, ...],
    day: date | None,
    note: str,
    by: str,
) -> None:
    """Write down that DUMMY's trial is over. Whether its place was looked at the checks tell."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        on = day or hotel.today()
        ending = TrialEnding(
            dummy, on, was_found, DummyFate(fate) if fate else None, looked_by, note
        )
        before = {one.entry for one in trials(hotel.house) if one.ended is not None}
        end_trial(hotel, ending)
        for one in trials(hotel.house):
            if one.ended is not None and one.entry not in before:
                click.echo(trial_sentence(one))
                if doubt := found_elsewise_sentence(one):
                    click.echo(_("Look twice: {doubt}").format(doubt=doubt))


@trial.command("pair", short_help="Write down what two people found apart in one room.")
@hotel_argument
@click.argument("room")
@click.option("--first", required=True, metavar="NAME", help="Who looked first.")
@click.option("--first-at", required=True, metavar="MOMENT", help="As 2026-03-09T10:40.")
@click.option("--first-found/--first-nothing", required=True, help="What the first found.")
@click.option("--second", required=True, metavar="NAME", help="Who looked second.")
@click.option("--second-at", default=None, metavar="MOMENT", help="Default: now.")
@click.option("--second-found/--second-nothing", required=True, help="What the second found.")
@click.option("--note", default="", help="Anything more; no guest's name.")
@by_option
def pair(
    hotel_file: Path,
    room: str,
    *,
    first: str,
    first_at: str,
    first_found: bool,
    second: str,
    second_at: str | None,
    second_found: bool,
    note: str,
    by: str,
) -> None:
    """Write down two looks at ROOM, neither person knowing what the other found.

    A find is recorded as a check or a sighting besides, as always.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        told = BlindPair(
            room=RoomNo(room),
            first_by=first,
            first_at=moment_said(hotel, first_at),
            first_found=first_found,
            second_by=second,
            second_at=moment_said(hotel, second_at),
            second_found=second_found,
            noted=note,
        )
        note_blind_pair(hotel, told)
        click.echo(_("Written down."))


@trial.command("list", short_help="Dummies: where they lie and how each trial ended.")
@hotel_argument
@click.option("--all", "with_ended", is_flag=True, help="Trials that have ended too.")
def list_trials(hotel_file: Path, *, with_ended: bool) -> None:
    """List dummies that are to be collected. Not for those who look."""
    with said_plainly(), opened(hotel_file) as hotel:
        shown = [one for one in trials(hotel.house) if with_ended or one.ended is None]
        for one in shown:
            told = _("{trial} (entry {entry})")
            click.echo(told.format(trial=trial_sentence(one), entry=one.entry))
        if not shown:
            click.echo(_("No dummy lies hidden anywhere."))


@trial.command("learned", short_help="What trials and the record say of your own checks.")
@hotel_argument
@click.option(
    "--found-share",
    type=click.FloatRange(0, 1, min_open=True),
    default=None,
    help="Share of introductions that would be found by now; else as the cycle's model has it.",
)
def say_learned(hotel_file: Path, *, found_share: float | None) -> None:
    """Say how well a look sees, each figure marked as measured here or assumed."""
    from hotelwatch.core.odds.learning.finds import notice_of_finds
    from hotelwatch.core.odds.measured import found_share as usual_share

    with said_plainly(), opened(hotel_file) as hotel:
        house = hotel.house
        share = usual_share(house, hotel.today()) if found_share is None else found_share
        known = learned(house, hotel.today(), found_share=share)
        figures = house.rules.odds.figures
        assumed = (figures.notice_deep, figures.introductions_per_room_year)
        for line in learned_lines(known, assumed):
            click.echo(line)
        by_finds = notice_of_finds(house, hotel.occupancy(), hotel.today())
        click.echo(finds_sentence(by_finds, figures.notice_deep))
        fit = occupancy(known.repeats) if known.repeats else None
        if fit is not None:
            click.echo(repeats_sentence(fit, by_numbers(known.repeats)))
