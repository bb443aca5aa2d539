"""A hundred days of planning on a resort's real bookings, each day knowing what was known then.

Bookings: Antonio, Almeida, Nunes, "Hotel booking demand datasets", Data in Brief 22 (2019),
41-49, CC BY 4.0. The hotel around them, its rooms, beds, teams and checks are invented.
The file is not part of the project; where it is absent the journey is skipped.
"""

from __future__ import annotations

import csv
import gzip
from collections import Counter, defaultdict
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.sheet import team_sheet, visit_minutes
from hotelwatch.core.days import days_from, weekday
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CheckKind,
    CycleChosen,
    RoomDescribed,
    RoomNo,
    RoundPublished,
    Scope,
    Side,
)
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import Occupancy, occupancy
from tests.build import Build, house
from tests.core.overdue import overdue_days

BOOKINGS = Path(__file__).parents[2] / ".." / "shared" / "data" / "resort_bookings.csv.gz"
FIRST, LAST = date(2016, 4, 1), date(2016, 7, 10)
DAYS = (LAST - FIRST).days + 1
ONE_DAY = timedelta(days=1)
CYCLE = 60
WAY = 8
"""Minutes to a corridor and back; shipped assumption. A floor of this hotel is one corridor."""
MINUTES = 75 + WAY
"""A little more than the rooms need in a cycle, if a team stays on one floor a day."""
TEAMS = ("blue", "red")
WORKS_ON = ("mon", "tue", "wed", "thu", "fri")
ROOMS_OF_TYPE = {"A": 75, "D": 53, "E": 33, "C": 13, "F": 13, "G": 9, "I": 8, "H": 4, "B": 2}
"""Most rooms of each type let at once in the file, as the invented hotel has them."""

pytestmark = pytest.mark.skipif(
    not BOOKINGS.is_file(),
    reason="shared/data/resort_bookings.csv.gz does not stand beside the project",
)


# --- what front desk knows ------------------------------------------------------------------


@dataclass(frozen=True)
class Booked:
    """A row of the file; ``fell_through_on`` is the day of a cancellation or a no-show."""

    stay: Stay
    booked_on: date
    fell_through_on: date | None


def bookings():
    with gzip.open(BOOKINGS, "rt", encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            arrival = date.fromisoformat(row["arrival"])
            leaves = arrival + timedelta(days=int(row["nights"]))
            if leaves <= FIRST or arrival == leaves:
                continue
            yield Booked(
                Stay(row["booking"], "", row["booked_type"], arrival, leaves),
                date.fromisoformat(row["booked_on"]),
                None if row["status"] == "stayed" else date.fromisoformat(row["status_on"]),
            )


def rooms_let(booked):
    """Rooms let on each night of the journey, counted from the file's rows alone."""
    nights = Counter(
        night
        for row in booked
        if row.fell_through_on is None
        for night in days_from(row.stay.arrives_on, (row.stay.leaves_on - row.stay.arrives_on).days)
    )
    return {day: nights[day] for day in days_from(FIRST, DAYS)}


@dataclass
class Desk:
    """Front desk: who has booked by today, and who has been given which room."""

    to_come: list[Booked]
    """By the day of booking, the latest first, to be taken from the end."""
    known: dict[str, Booked] = field(default_factory=dict)
    given: dict[str, str] = field(default_factory=dict)
    asleep: dict[tuple[str, date], str] = field(default_factory=dict)
    """Who in truth slept in a room on a night, kept apart from the program's own answers."""
    without_own_room: int = 0

    def read(self, today):
        """Bookings known on a day."""
        while self.to_come and self.to_come[-1].booked_on <= today:
            booked = self.to_come.pop()
            self.known[booked.stay.booking] = booked
        self.known = {
            name: booked
            for name, booked in self.known.items()
            if booked.stay.leaves_on >= today
            and (booked.fell_through_on is None or booked.fell_through_on > today)
        }
        return [self._as_known(booked.stay) for booked in self.known.values()]

    def _as_known(self, stay):
        room = self.given.get(stay.booking, "")
        return replace(stay, room=room, status=StayStatus.IN_HOUSE) if room else stay

    def welcome(self, today, seen: Occupancy):
        """Whoever arrives keeps the room guessed for the first night; then all go to bed."""
        guessed = {
            stay.booking: room
            for room, stays in seen.stays_by_room.items()
            for stay in stays
            if stay.arrives_on == today and stay.booking in seen.provisional
        }
        present = [b.stay for b in self.known.values() if b.stay.arrives_on <= today]
        present = [stay for stay in present if stay.leaves_on > today]
        taken = {self.given.get(stay.booking) or guessed.get(stay.booking) for stay in present}
        for stay in present:
            if stay.booking not in self.given and stay.booking not in guessed:
                # Overbooked on a later night: it gets a room that is empty tonight.
                self.without_own_room += 1
                guessed[stay.booking] = next(room for room in ROOM_TYPES if room not in taken)
                taken.add(guessed[stay.booking])
            room = self.given.setdefault(stay.booking, guessed.get(stay.booking, ""))
            assert (room, today) not in self.asleep, "two guests in one room"
            self.asleep[room, today] = stay.booking

    def stays_over(self, room, today):
        """Whether the same guest slept there last night and will tonight."""
        last_night = self.asleep.get((room, today - ONE_DAY))
        return last_night is not None and last_night == self.asleep.get((room, today))


# --- the hotel ---------------------------------------------------------------------------------


def room_types():
    """Room labels with their types: types mixed along the corridors of five floors."""
    order = sorted(
        (number / count, kind)
        for kind, count in ROOMS_OF_TYPE.items()
        for number in range(1, count + 1)
    )
    labels = [f"{floor}{bay:02d}" for floor in range(1, 6) for bay in range(1, 43)]
    return dict(zip(labels, (kind for _, kind in order), strict=True))


ROOM_TYPES = room_types()


def a_resort() -> Build:
    built = house().floors("1", "2", "3", "4", "5").record(CycleChosen(Scope.HOUSE, "", CYCLE))
    for team in TEAMS:
        built.team(team, MINUTES, works_on=WORKS_ON)
    rooms, beds, checks = [], [], []
    for number, (label, kind) in enumerate(ROOM_TYPES.items()):
        room, bay = RoomNo(label), int(label[1:])
        side = Side.LEFT if bay % 2 else Side.RIGHT
        rooms.append(RoomDescribed(room, label[0], "", side, bay, kind))
        for letter in "AB"[: 1 + number % 2]:
            bed = BedDescribed(
                BedNo(f"{label}/{letter}"), room, "box_spring", encased=number % 5 == 0
            )
            beds.append(bed)
            # Last looked at on days spread over one cycle, in no order of rooms.
            last_on = FIRST - timedelta(days=1 + number * 37 % CYCLE)
            checks.append(a_full_check(built, bed, last_on))
    return built.record(*rooms, *beds).record(*checks)


def a_full_check(built, bed, on):
    kind = built.house.rules.bed_kinds[bed.kind]
    seen = tuple(place.code for place in kind.places_of(encased=bed.encased))
    return BedChecked(bed.bed, bed.room, on, CheckKind.DEEP, ("anna", "boris"), kind.minutes, seen)


@dataclass
class Sheet:
    """A team's day being filled: rooms, and once for each floor the way there."""

    minutes_of: dict[str, int]
    left: int = MINUTES
    floors: set[str] = field(default_factory=set)

    def takes(self, room):
        """Whether a room still fits; then it stands on the sheet."""
        spent = self.minutes_of[room] + (0 if room[0] in self.floors else WAY)
        if spent > self.left:
            return False
        self.left -= spent
        self.floors.add(room[0])
        return True


@dataclass
class RoundRobin:
    """The rule to beat: rooms by number, round and round; an occupied one waits a round.

    Its teams spend minutes on ways to corridors as ours do.
    """

    rooms: list[str]
    minutes_of: dict[str, int]
    at: int = 0
    looked_on: dict[str, list[date]] = field(default_factory=lambda: defaultdict(list))

    def day(self, today, seen: Occupancy):
        for _ in TEAMS:
            sheet = Sheet(self.minutes_of)
            for _ in range(len(self.rooms)):
                room = self.rooms[self.at]
                if seen.opening(RoomNo(room), today) is not None:
                    if not sheet.takes(room):
                        break
                    self.looked_on[room].append(today)
                self.at = (self.at + 1) % len(self.rooms)


@dataclass
class RoundRobinWithList(RoundRobin):
    """The same, but rooms that were occupied go on a list, looked through before going on."""

    skipped: list[str] = field(default_factory=list)
    """The one that has waited the longest first."""

    def day(self, today, seen: Occupancy):
        for _ in TEAMS:
            sheet = Sheet(self.minutes_of)
            for room in list(self.skipped):
                if seen.opening(RoomNo(room), today) is not None and sheet.takes(room):
                    self.looked_on[room].append(today)
                    self.skipped.remove(room)
            for _ in range(len(self.rooms)):
                room = self.rooms[self.at]
                if room not in self.skipped:
                    if seen.opening(RoomNo(room), today) is None:
                        self.skipped.append(room)
                    elif not sheet.takes(room):
                        break
                    else:
                        self.looked_on[room].append(today)
                self.at = (self.at + 1) % len(self.rooms)


# --- the journey ----------------------------------------------------------------------------------


def now_on(built, today):
    return datetime.combine(today, time(6), tzinfo=built.house.zone)


def plan_and_publish(built, today, seen):
    planned = plan_rounds(built.house, seen, Wish(today, 14, now_on(built, today)))
    built.on((today - date(2026, 1, 5)).days)
    built.record(RoundPublished(planned.from_on, planned.until_on), *planned.promised)
    return planned


def do_the_sheets(built, desk, today, seen):
    """Both teams do their sheet; every room on it is looked at in full."""
    checks = []
    for team in built.house.teams:
        sheet = team_sheet(built.house, seen, on=today, team=team)
        assert sheet.minutes <= MINUTES
        for room in sheet.rooms:
            assert room.opening is not None
            assert not desk.stays_over(room.room, today), f"{room.room} on {today}: occupied"
            checks += [a_full_check(built, built.house.beds[bed.bed], today) for bed in room.beds]
    if checks:
        built.record(*checks)
    return len(checks)


def overdue_bed_days(looked_on):
    """Over the whole journey, for the days on which each bed was looked at."""
    return sum(
        overdue_days(days, CYCLE, from_on=FIRST, until_on=LAST) for days in looked_on.values()
    )


def test_a_hundred_days_of_rounds_on_real_bookings(capsys):
    built = a_resort()
    rows = sorted(bookings(), key=lambda b: (b.booked_on, b.stay.booking), reverse=True)
    desk = Desk(list(rows))
    beds = list(built.house.beds.values())
    start = {
        bed.bed: [check.checked_on for check in built.house.checks_of(bed.bed)] for bed in beds
    }
    minutes_of = {
        room: visit_minutes(built.house, built.house.beds_of(room)) for room in built.house.rooms
    }
    robins = [rule(sorted(ROOM_TYPES), minutes_of) for rule in (RoundRobin, RoundRobinWithList)]
    told: Counter[str] = Counter()
    for today in days_from(FIRST, DAYS):
        built.house = built.house.with_stays(desk.read(today))
        seen = occupancy(built.house, today)
        desk.welcome(today, seen)
        planned = plan_and_publish(built, today, seen)
        assert all(used.used <= used.minutes == MINUTES for used in planned.minutes_by_day)
        told["checks"] += do_the_sheets(built, desk, today, seen)
        if weekday(today) in WORKS_ON:
            for robin in robins:
                robin.day(today, seen)
    ours = overdue_bed_days(
        {bed.bed: [c.checked_on for c in built.house.checks_of(bed.bed)] for bed in beds}
    )
    plain, with_list = (
        overdue_bed_days({bed.bed: [*start[bed.bed], *robin.looked_on[bed.room]] for bed in beds})
        for robin in robins
    )
    # Kinder to it: as though it had gone round before, so that rooms are due by number.
    by_number = {
        room: FIRST - timedelta(days=CYCLE - number * CYCLE // len(ROOM_TYPES))
        for number, room in enumerate(sorted(ROOM_TYPES))
    }
    settled = overdue_bed_days(
        {bed.bed: [by_number[bed.room], *robins[1].looked_on[bed.room]] for bed in beds}
    )
    late = sum(look.is_overdue(LAST) for look in looks(built.house, LAST))
    let = Counter(night for _, night in desk.asleep)
    with capsys.disabled():
        print(
            f"\n{DAYS} days, {len(beds)} beds, {told['checks']} bed checks, up to"
            f" {max(let.values())} rooms let; overdue bed-days {ours} of {len(beds) * DAYS},"
            f" round robin by room number {plain}, with a list of skipped rooms {with_list},"
            f" {settled} had it gone round before;"
            f" overdue on the last day {late} beds;"
            f" {desk.without_own_room} arrivals without a guessed room"
        )
    # Nobody was lost or slept twice: the file's own rows give the same rooms let each night.
    assert dict(let) == rooms_let(rows)
    assert ours < min(plain, with_list, settled)
