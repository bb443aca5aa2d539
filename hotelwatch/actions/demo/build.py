"""The invented demo hotel, with months of record written through the same actions as a real one."""

from __future__ import annotations

import random
import shutil
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from hashlib import sha256
from pathlib import Path

from hotelwatch import paths
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.demo.bookings import Booking, draw_bookings, listed_on
from hotelwatch.actions.demo.coming import SELDOM_LET_CYCLE, look_ahead, with_a_vacant_room
from hotelwatch.actions.demo.drawn import draw_as_built
from hotelwatch.actions.demo.story import CLOSES_ON, Story, cast_story, tell, without_guests
from hotelwatch.actions.desk import rank_types
from hotelwatch.actions.hotel import (
    choose_cycle,
    describe_teams,
    place_stairs,
    place_wings,
    start_hotel,
)
from hotelwatch.actions.open_hotel import OpenHotel, known_zone
from hotelwatch.actions.reports import close_month
from hotelwatch.actions.roster import load_roster, preview_roster
from hotelwatch.actions.rounds import draft_round, publish_round, wish_for
from hotelwatch.core.checks.looking import RoomLook, full_look, leave_out
from hotelwatch.core.days import days_from, local_day, moment_of, month_of
from hotelwatch.core.facts import (
    CheckKind,
    HotelDescribed,
    Scope,
    SlotPublished,
    StaysImported,
    TeamName,
)
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.intake.settings_files import read_stairs, read_teams, read_wings
from hotelwatch.store.kept_files import folder_of

DESCRIBED = HotelDescribed(name="Hotel Drosselwyn (invented)", zone="Europe/Vienna")
DAYS_OF_RECORD = 124
BOOKED_AHEAD = 45
CYCLE_DAYS = 42
CHANCE_FROM = 2026
MISSED_IN_100 = 4
"""Checks in a hundred on which a team leaves a hidden place for want of time."""
PEOPLE = {"Weekend pair": ("Chidi", "Dora")}
WEEKDAY_PEOPLE = ("Ana", "Bogdan")
DESK = "Executive housekeeper"
ROOM_TYPES = (
    "Bunk room", "Single", "Twin", "Double", "Accessible", "Family", "Junior suite", "Suite",
)  # fmt: skip


class DemoClock:
    """A clock that the story sets."""

    def __init__(self, moment: datetime) -> None:
        """Start at a moment."""
        self.moment = moment

    def __call__(self) -> datetime:
        """The moment that the story has reached."""
        return self.moment


@dataclass(frozen=True, slots=True)
class _Tale:
    """What the telling of the demo hotel's months stands on."""

    hotel: OpenHotel
    clock: DemoClock
    chance: random.Random
    bookings: tuple[Booking, ...]
    story: Story


def build_demo(
    hotel_file: Path, rules: Rules, *, now: datetime, progress: Progress = silent
) -> None:
    """Write the demo hotel's file: roster, bookings, and months of record until now.

    Refusal("file_exists") where there is one already. The same moment gives the
    same facts. Stopped on the way, it leaves no file behind.
    """
    if hotel_file.exists():
        raise Refusal("file_exists", file=str(hotel_file))
    begun = hotel_file.with_name(f"{hotel_file.stem}-begun{hotel_file.suffix}")
    begun.unlink(missing_ok=True)
    try:
        _tell_months(begun, rules, now=now, progress=progress)
        begun.rename(hotel_file)
        # Papers there belong to a demo hotel that was deleted.
        shutil.rmtree(folder_of(hotel_file), ignore_errors=True)
        if (papers := folder_of(begun)).is_dir():
            papers.rename(folder_of(hotel_file))
    finally:
        begun.unlink(missing_ok=True)
        shutil.rmtree(folder_of(begun), ignore_errors=True)


def set_aside(hotel_file: Path) -> Path:
    """Put a demo hotel with its kept papers out of the way; one set aside before goes."""
    aside = hotel_file.with_name(f"earlier-{hotel_file.name}")
    hotel_file.replace(aside)
    shutil.rmtree(folder_of(aside), ignore_errors=True)
    if (papers := folder_of(hotel_file)).is_dir():
        papers.rename(folder_of(aside))
    return aside


def _tell_months(hotel_file: Path, rules: Rules, *, now: datetime, progress: Progress) -> None:
    zone = known_zone(DESCRIBED.zone)
    today = local_day(now, zone)
    first = today - timedelta(days=DAYS_OF_RECORD)
    clock = DemoClock(moment_of(first, "06:30", zone))
    hotel = start_hotel(hotel_file, DESCRIBED, rules, clock=clock, by=DESK)
    try:
        tale = _begin(hotel, clock, first=first, today=today)
        for number, day in enumerate(days_from(first, (today - first).days + 1)):
            progress(number / DAYS_OF_RECORD, "building_demo")
            _live_through(tale, day, now)
        progress(1.0, "building_demo")
    finally:
        hotel.close()


def _begin(hotel: OpenHotel, clock: DemoClock, *, first: date, today: date) -> _Tale:
    files = paths.demo_hotel()
    preview = preview_roster(hotel.house, files / "roster.xlsx")
    load_roster(hotel, preview, keep_good=False)
    place_wings(hotel, read_wings(files / "wings.csv"))
    place_stairs(hotel, read_stairs(files / "stairs.csv"))
    draw_as_built(hotel)
    describe_teams(hotel, read_teams(files / "teams.csv"))
    choose_cycle(hotel, Scope.HOUSE, "", CYCLE_DAYS)
    rank_types(hotel, ROOM_TYPES)
    story = cast_story(hotel, today=today, first=first)
    chance = random.Random(CHANCE_FROM)
    bookings = draw_bookings(
        tuple(hotel.house.rooms.values()),
        first=first - timedelta(days=7),
        last=today + timedelta(days=BOOKED_AHEAD),
        rng=chance,
    )
    others = {room.room for room in hotel.house.rooms.values() if not room.suite} - story.rooms
    bookings, seldom_let = with_a_vacant_room(bookings, today=today, rooms=others)
    if seldom_let is not None:
        choose_cycle(hotel, Scope.ROOM, seldom_let, SELDOM_LET_CYCLE)
    return _Tale(hotel, clock, chance, bookings, story)


def _live_through(tale: _Tale, day: date, now: datetime) -> None:
    hotel = tale.hotel

    def at(clock: str) -> datetime:
        return min(now, moment_of(day, clock, hotel.zone))

    tale.clock.moment = at("06:50")
    if day.day == CLOSES_ON and day > tale.story.first + timedelta(days=CLOSES_ON):
        close_month(hotel, month_of(day - timedelta(days=CLOSES_ON)))
    _read_bookings(tale, day)
    if day == tale.story.today:
        tale.clock.moment = at("07:00")
        look_ahead(hotel, aside=tale.story.rooms)
    tale.clock.moment = at("07:10")
    if day.weekday() == 0 or day in (tale.story.first, tale.story.today):
        draft = draft_round(hotel.house, hotel.occupancy(), wish_for(hotel))
        # Before today the pair went by whole weeks; from today on each morning plans anew.
        publish_round(hotel, draft, whole=day < tale.story.today)
    if day < tale.story.today:
        tale.clock.moment = at("14:45")
        _do_rounds(tale, day)
        tell(tale.story, hotel, tale.clock, day)
    else:
        tale.clock.moment = now


def _read_bookings(tale: _Tale, day: date) -> None:
    listed = listed_on(tale.bookings, day)
    current = [stay for stay in listed if stay.leaves_on >= day]
    known = without_guests(listed if day == tale.story.first else current, tale.story)
    text = "\n".join(f"{stay.booking};{stay.room};{stay.arrives_on}" for stay in known)
    imported = StaysImported(
        file_name=f"bookings-{day.isoformat()}.csv",
        file_sha256=sha256(text.encode()).hexdigest(),
        replaces_from=day,
        taken=len(known),
        refused=0,
    )
    tale.hotel.record_stays(known, imported)


def _do_rounds(tale: _Tale, day: date) -> None:
    hotel = tale.hotel
    slots = hotel.house.slots.get(day, ())
    for team in sorted({slot.team for slot in slots}):
        looks = list(_looks_of(tale, day, [slot for slot in slots if slot.team == team]))
        if looks:
            record_looks(hotel, looks)
    if day == tale.story.wrong_entry_on:
        _make_a_mistake(tale, day)


def _looks_of(tale: _Tale, day: date, slots: Sequence[SlotPublished]) -> Iterable[RoomLook]:
    hotel = tale.hotel
    closed = hotel.house.quarantined(hotel.now())
    for slot in slots:
        if hotel.occupancy().opening(slot.room, day) is None or slot.room in closed:
            continue
        look = full_look(hotel.house, slot.room, on=day, by=_pair(slot.team), kind=CheckKind.DEEP)
        # A room too long for one visit has only a part of its beds on a sheet.
        look = replace(look, beds=tuple(bed for bed in look.beds if bed.bed in slot.beds))
        is_hurried = tale.chance.randrange(100) < MISSED_IN_100
        # The seldom-let room is looked at whole: its one look is what it shows.
        if is_hurried and (Scope.ROOM, slot.room) not in hotel.house.chosen_cycles:
            look = _hurried(hotel, look)
        yield replace(look, asked_by=slot.asked_by)


def _hurried(hotel: OpenHotel, look: RoomLook) -> RoomLook:
    for bed in look.beds:
        described = hotel.house.beds[bed.bed]
        kind = hotel.house.rules.bed_kinds[described.kind]
        hidden = sorted(kind.underside_of(encased=described.encased))
        if hidden:
            return leave_out(look, bed.bed, hidden[0], "no_time")
    return look


def _make_a_mistake(tale: _Tale, day: date) -> None:
    hotel = tale.hotel
    room = tale.story.wrong_room
    look = full_look(hotel.house, room, on=day, by=WEEKDAY_PEOPLE, kind=CheckKind.DEEP)
    record_looks(hotel, [look])
    number = max(hotel.house.entries)
    take_back(hotel, number, reason="Typed for the wrong room; nobody was in this one.")


def _pair(team: TeamName) -> tuple[str, ...]:
    return PEOPLE.get(team, WEEKDAY_PEOPLE)
