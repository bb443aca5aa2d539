"""Commands for checks and cases: record, log, judge, treat, take back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import click

from hotelwatch.actions import cases as case_actions
from hotelwatch.actions.checks import correct_look, record_looks
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.cli.case_lines import say_case
from hotelwatch.cli.common import (
    DAY,
    EXISTING,
    by_option,
    hotel_argument,
    opened,
    said_plainly,
)
from hotelwatch.core.case_facts import CaseJudged, LifeStage, Outcome, Sighted, Sign
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.looking import RoomLook, find, full_look, leave_out
from hotelwatch.core.checks.place_looks import WHY_UNSEEN, as_kind, underside_counts
from hotelwatch.core.days import local_moment
from hotelwatch.core.facts import Aid, CaseNo, CheckKind, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.roles import Sight
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label


def moment_said(hotel: OpenHotel, text: str | None) -> datetime:
    """A moment given in the hotel's local time; now, if none was given."""
    if text is None:
        return hotel.now()
    try:
        return local_moment(datetime.fromisoformat(text), hotel.zone)
    except ValueError as error:
        raise click.BadParameter(
            _("{text} is no moment; write it as 2026-03-09T10:40.").format(text=text)
        ) from error


def _parts(text: str) -> tuple[str, str, str]:
    parts = text.split(":")
    if len(parts) != 3:  # noqa: PLR2004 bed, place and why, as the option's help says
        raise click.BadParameter(
            _("{text}: write bed, place and reason with colons between.").format(text=text)
        )
    return parts[0], parts[1], parts[2]


def _bed(room: str, letter: str) -> str:
    return f"{room}/{letter}" if letter else ""


def _check_bed(look: RoomLook, letter: str) -> None:
    """A letter must be a bed's of this look; none stands for the room beside its beds."""
    bed = _bed(look.room, letter)
    if bed and bed not in {one.bed for one in look.beds}:
        raise Refusal("unknown_bed", bed=bed, room=look.room)


def _told_look(
    look: RoomLook, not_seen: tuple[str, ...], found: tuple[str, ...], letters: tuple[str, ...]
) -> RoomLook:
    if letters:
        wanted = {_bed(look.room, letter) for letter in letters}
        if lost := sorted(wanted - {bed.bed for bed in look.beds}):
            raise Refusal("unknown_bed", bed=lost[0], room=look.room)
        look = replace(look, beds=tuple(bed for bed in look.beds if bed.bed in wanted))
    for letter, place, why in map(_parts, not_seen):
        _check_bed(look, letter)
        if why not in WHY_UNSEEN:
            raise click.BadParameter(
                _("{why} is no reason that is known. Choose one of: {reasons}.").format(
                    why=why, reasons=", ".join(WHY_UNSEEN)
                )
            )
        look = leave_out(look, _bed(look.room, letter), place, why)
    for letter, place, sign in map(_parts, found):
        _check_bed(look, letter)
        if sign not in set(Sign):
            raise click.BadParameter(
                _("{sign} is no known sign. Choose one of: {signs}.").format(
                    sign=sign, signs=", ".join(Sign)
                )
            )
        look = find(look, _bed(look.room, letter), place, Sign(sign))
    return look


@click.command("record", short_help="Record a check: all looked at but what you name.")
@hotel_argument
@click.argument("room")
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--who", multiple=True, required=True, help="Who looked; once for each person.")
@click.option(
    "--kind",
    type=click.Choice([k.value for k in CheckKind]),
    default="deep",
    show_default=True,
    help="What kind of check it was.",
)
@click.option("--bed", "letters", multiple=True, help="Only this bed, as A. Default: all of them.")
@click.option(
    "--not-seen",
    multiple=True,
    metavar="BED:PLACE:WHY",
    help="A place not looked at, as A:base_underside:fixed_to_floor.",
)
@click.option(
    "--found", multiple=True, metavar="BED:PLACE:SIGN", help="As A:base_underside:live_insect."
)
@click.option(
    "--found-at",
    default=None,
    metavar="MOMENT",
    help="Local time, as 2026-03-09T10:40; needed for a find of an earlier day.",
)
@click.option("--from", "from_clock", default="", help="Begun at, hotel's clock, as 09:05.")
@click.option("--until", "until_clock", default="", help="Done at, as 09:25.")
@click.option(
    "--aid",
    "aids",
    multiple=True,
    type=click.Choice([aid.value for aid in Aid]),
    help="What was used, once for each.",
)
@click.option(
    "--form",
    "form_version",
    type=int,
    default=None,
    help="Version of the form, as its sheet says. Default: today's.",
)
@click.option("--for-case", default="", help="The case that asked for this check.")
@click.option("--note", default="", help="Anything more; no guest's name.")
@click.option(
    "--corrects", type=int, default=None, help="The entry of the look that this one replaces."
)
@click.option("--reason", default="", help="Why it is replaced.")
@by_option
def record(
    hotel_file: Path,
    room: str,
    *,
    day: date | None,
    who: tuple[str, ...],
    kind: str,
    letters: tuple[str, ...],
    not_seen: tuple[str, ...],
    found: tuple[str, ...],
    found_at: str | None,
    from_clock: str,
    until_clock: str,
    aids: tuple[str, ...],
    form_version: int | None,
    for_case: str,
    note: str,
    corrects: int | None,
    reason: str,
    by: str,
) -> None:
    """Record a check: every place looked at, but for those you name.

    A brief check asks for nothing that must be moved or lies underneath. The codes of
    places, reasons and signs: list places HOTEL_FILE ROOM. A place of the room beside
    its beds has no bed: :night_stands:guest_belongings.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        look = full_look(
            hotel.house, RoomNo(room), on=day or hotel.today(), by=who, kind=CheckKind(kind)
        )
        look = as_kind(hotel.house, look, CheckKind(kind))
        look = _told_look(replace(look, noted=note, asked_by=for_case), not_seen, found, letters)
        look = replace(look, from_clock=from_clock, until_clock=until_clock, aids=aids)
        if form_version is not None:
            look = replace(look, form_version=form_version)
        known = set(hotel.house.sightings)
        if found_at is not None:
            look = replace(look, found_at=moment_said(hotel, found_at))
        with _places_named(hotel, room):
            if corrects is None:
                record_looks(hotel, [look])
            else:
                correct_look(hotel, corrects, look, reason=reason)
        _say_recorded(hotel, look)
        told = {CaseNo(for_case)} if for_case else set()
        for case in sorted(told | (set(hotel.house.sightings) - known)):
            say_case(hotel, case)


@contextmanager
def _places_named(hotel: OpenHotel, room: str) -> Iterator[None]:
    """Where a place is not known, say which are."""
    try:
        yield
    except Refusal as refusal:
        if refusal.code == "unknown_place":
            told = _("See the places with: list places {file} {room}")
            click.echo(told.format(file=hotel.path.name, room=room), err=True)
        raise


def _say_recorded(hotel: OpenHotel, look: RoomLook) -> None:
    """Print which undersides count as looked at and are due when next, and which do not."""
    click.echo(_("Recorded {room}.").format(room=look.room))
    due = {one.bed: one.due_on for one in looks(hotel.house, hotel.today())}
    for count in underside_counts(hotel.house, look):
        told = {
            "bed": count.bed,
            "places": join([label(lack.place.code).lower() for lack in count.lacks]),
            "day": day_text(due[count.bed]),
        }
        if count.counts:
            said = _("{bed}: underside looked at; next due {day}.")
        else:
            said = _("{bed}: underside not looked at, for want of: {places}. Still due {day}.")
        click.echo("  " + said.format(**told))


@click.command("sighting", short_help="Log a sighting and all that follows from it.")
@hotel_argument
@click.argument("room")
@click.argument("sign", metavar="SIGN", type=click.Choice([sign.value for sign in Sign]))
@click.option("--place", default="", help="A place's code, as base_underside.")
@click.option("--bed", "letter", default="", help="The bed's letter.")
@click.option("--count", type=click.IntRange(0), default=0, help="How many; 0 if not counted.")
@click.option("--stage", type=click.Choice([s.value for s in LifeStage]), help="Of an insect.")
@click.option("--by-guest", is_flag=True, help="A guest told it and waits for an answer.")
@click.option("--specimen", metavar="LABEL:WHERE", help="Kept, as T-7:housekeeper's safe.")
@click.option("--seen-by", default="", help="Who saw it. Default: who writes this down.")
@click.option("--at", default=None, metavar="MOMENT", help="Local time, as 2026-03-09T10:40.")
@click.option("--photo", "photos", type=EXISTING, multiple=True, help="JPEG, PNG or WebP.")
@click.option("--not-asked", multiple=True, metavar="ROOM", help="A neighbour to strike out.")
@click.option("--note", default="", help="Anything more; no guest's name.")
@by_option
def sighting(
    hotel_file: Path,
    room: str,
    sign: str,
    *,
    place: str,
    letter: str,
    count: int,
    stage: str | None,
    by_guest: bool,
    specimen: str | None,
    seen_by: str,
    at: str | None,
    photos: tuple[Path, ...],
    not_asked: tuple[str, ...],
    note: str,
    by: str,
) -> None:
    """Log a sighting: the room goes into quarantine, its neighbours are to be checked.

    SIGN is one of: live_insect, eggs, cast_skin, dark_spots, blood_spot, dead_insect,
    dog_alert, bites_reported, guest_word. A weak sign asks for its own room only.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        sighted = Sighted(
            case=CaseNo(""),
            room=RoomNo(room),
            bed=_bed(room, letter),
            place=place,
            sign=Sign(sign),
            count=count,
            seen_by=seen_by or hotel.by,
            seen_at=moment_said(hotel, at),
            noted=note,
            life_stage=stage or "",
            by_guest=by_guest,
        )
        kept = _specimen(specimen) if specimen else None
        struck = frozenset(RoomNo(no) for no in not_asked)
        before = set(hotel.house.sightings)
        with _places_named(hotel, room):
            case = case_actions.log_sighting(
                hotel, sighted, photos=photos, not_asked=struck, specimen=kept
            )
        if not hotel.sees(Sight.CASES):
            click.echo(_("Written down; housekeeping knows."))
            click.echo(_("Room {room} is not to be sold: block it now.").format(room=room))
            return
        if case in before:
            click.echo(_("Added to case {case}, which was open.").format(case=case))
        say_case(hotel, case)


def _specimen(text: str) -> tuple[str, str]:
    name, colon, where = text.partition(":")
    if not colon:
        raise click.BadParameter(
            _("{text}: write label and place with a colon between.").format(text=text)
        )
    return name.strip(), where.strip()


@click.command("judge", short_help="Write down a competent person's judgement.")
@hotel_argument
@click.argument("case")
@click.argument("outcome", type=click.Choice([outcome.value for outcome in Outcome]))
@click.option("--judged-by", required=True, help="The competent person's name.")
@click.option("--competence", required=True, help="What makes the person competent.")
@click.option("--day", type=DAY, default="today", show_default=True, help="As 2026-03-09.")
@click.option("--was", default="", help="What it was, if no bed bug; a look-alike's code or words.")
@click.option("--note", default="", help="Anything more.")
@by_option
def judge(
    hotel_file: Path, case: str, outcome: str, *, day: date | None, note: str, by: str, **who: str
) -> None:
    """Write down a competent person's judgement of a case."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        judged = CaseJudged(
            case=CaseNo(case),
            outcome=Outcome(outcome),
            judged_by=who["judged_by"],
            competence=who["competence"],
            judged_on=day or hotel.today(),
            noted=note,
            was=_lookalike(hotel, who["was"]),
        )
        case_actions.judge_case(hotel, judged)
        say_case(hotel, CaseNo(case))


def _lookalike(hotel: OpenHotel, text: str) -> str:
    known = hotel.house.rules.lookalikes.get(text)
    return known.name if known else text


@click.command("take-back", short_help="Take an entry back; it stays in the file.")
@hotel_argument
@click.argument("entry", type=int)
@click.option("--reason", required=True, help="Why; it stays in the record.")
@by_option
def take_back_entry(hotel_file: Path, entry: int, *, reason: str, by: str) -> None:
    """Take an entry back: its facts count no more, and stay in the file."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        take_back(hotel, entry, reason=reason)
        click.echo(_("Entry {entry} counts no more.").format(entry=entry))
