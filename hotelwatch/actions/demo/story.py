"""What happens in the demo hotel: three cases, one of each ending, one of them open today."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Protocol

from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.demo.treated import (
    keep_log,
    lead_dog,
    order,
    place_trap,
    take_care,
    treated,
)
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.release import lift_quarantine
from hotelwatch.actions.treatment import record_treatment
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.checks.looking import find, full_look
from hotelwatch.core.days import local_day, moment_of
from hotelwatch.core.facts import BedDescribed, CaseNo, CheckKind, RoomNo
from hotelwatch.core.records import Stay

CLOSES_ON = 4
"""The day of a month on which the month before is closed."""
LOOKALIKE = 76
FOUND = 50
TREATED = 48
CLEARANCES = (41, 34, 27, 20)
GIVEN_BACK = 19
REPORTED = 1
WRONG_ENTRY = 60
AIDS = ("bright_light", "thin_card")


class SetClock(Protocol):
    """The demo hotel's clock."""

    moment: datetime


@dataclass(frozen=True, slots=True)
class Story:
    """Which rooms play which part, and the first and last day."""

    first: date
    today: date
    lookalike_room: RoomNo
    found_room: RoomNo
    reported_room: RoomNo
    wrong_room: RoomNo

    def ago(self, days: int) -> date:
        """A day so many days before today."""
        return self.today - timedelta(days=days)

    @property
    def rooms(self) -> frozenset[RoomNo]:
        """Every room that plays a part."""
        return frozenset(
            (self.lookalike_room, self.found_room, self.reported_room, self.wrong_room)
        )

    @property
    def wrong_entry_on(self) -> date:
        """The day on which somebody types a check for the wrong room."""
        return self.ago(WRONG_ENTRY)


def cast_story(hotel: OpenHotel, *, today: date, first: date) -> Story:
    """Choose rooms with a bare box spring, with neighbours above and below, floors apart."""
    neighbours = hotel.neighbours()
    bare = [
        room
        for room in hotel.house.rooms
        if any(_is_bare_box_spring(bed) for bed in hotel.house.beds_of(room))
        and not hotel.house.rooms[room].suite
    ]
    bare.sort(key=lambda room: (-len(neighbours.get(room, ())), room))
    floors: dict[str, RoomNo] = {}
    for room in bare:
        floors.setdefault(hotel.house.rooms[room].floor, room)
    chosen = [*floors.values(), *(room for room in bare if room not in floors.values())]
    found, reported, lookalike, wrong = chosen[:4]
    return Story(first, today, lookalike, found, reported, wrong)


def _is_bare_box_spring(bed: BedDescribed) -> bool:
    return bed.kind == "box_spring" and not bed.encased


def without_guests(stays: Iterable[Stay], story: Story) -> tuple[Stay, ...]:
    """The bookings less those that front desk moved out of rooms in quarantine."""
    closed = {
        story.lookalike_room: (story.ago(LOOKALIKE), story.ago(LOOKALIKE - 2)),
        story.found_room: (story.ago(FOUND), story.ago(GIVEN_BACK)),
    }

    def is_moved(stay: Stay) -> bool:
        span = closed.get(RoomNo(stay.room))
        return span is not None and stay.arrives_on <= span[1] and stay.leaves_on >= span[0]

    return tuple(stay for stay in stays if not is_moved(stay))


def tell(story: Story, hotel: OpenHotel, clock: SetClock, day: date) -> None:
    """Whatever the story holds for a day that is over."""
    ago = (story.today - day).days
    if ago in (LOOKALIKE, LOOKALIKE - 1, LOOKALIKE - 2):
        _lookalike(story, hotel, clock, ago)
    elif ago in (FOUND, FOUND - 1, TREATED, *CLEARANCES, GIVEN_BACK):
        _find(story, hotel, clock, ago)
    elif ago == REPORTED:
        _report(story, hotel, clock, day)


def _lookalike(story: Story, hotel: OpenHotel, clock: SetClock, ago: int) -> None:
    day, room = story.ago(ago), story.lookalike_room
    if ago == LOOKALIKE:
        clock.moment = moment_of(day, "15:20", hotel.zone)
        sighted = _sighted(room, "headboard_front", Sign.CAST_SKIN, "Esther", clock.moment)
        log_sighting(hotel, replace(sighted, noted="Two small striped skins behind the lamp."))
        return
    case = _case_in(hotel, room)
    if ago == LOOKALIKE - 1:
        _look_around(hotel, clock, case, day)
        return
    clock.moment = moment_of(day, "15:30", hotel.zone)
    judged = CaseJudged(
        case=case,
        outcome=Outcome.NOT_BED_BUG,
        judged_by="J. Marder",
        competence="Entomologist of the district's extension office",
        judged_on=day,
        was=hotel.house.rules.lookalikes["carpet_beetle"].name,
    )
    judge_case(hotel, judged)
    lift_quarantine(hotel, room, case, by="Executive housekeeper")


def _find(story: Story, hotel: OpenHotel, clock: SetClock, ago: int) -> None:
    day, room = story.ago(ago), story.found_room
    clock.moment = moment_of(day, "15:10", hotel.zone)
    if ago == FOUND:
        look = full_look(hotel.house, room, on=day, by=("Ana", "Bogdan"), kind=CheckKind.DEEP)
        bed = next(bed for bed in hotel.house.beds_of(room) if _is_bare_box_spring(bed))
        look = replace(look, from_clock="14:20", until_clock="15:05", aids=AIDS)
        record_looks(hotel, [find(look, bed.bed, "base_staple_line", Sign.LIVE_INSECT)])
        return
    case = _case_in(hotel, room)
    if ago == FOUND - 1:
        _look_around(hotel, clock, case, day)
        clock.moment = moment_of(day, "16:30", hotel.zone)
        judge_case(
            hotel,
            CaseJudged(case, Outcome.CONFIRMED, "J. Marder", "Entomologist, extension office", day),
        )
        take_care(hotel, case, room, clock.moment)
        order(hotel, case, room, story.ago(TREATED))
    elif ago == TREATED:
        reenter = moment_of(day + timedelta(days=1), "10:00", hotel.zone)
        record_treatment(hotel, treated(case, room, day, reenter))
        keep_log(hotel, case, room, day)
    elif ago in CLEARANCES:
        look = full_look(hotel.house, room, on=day, by=("Chidi", "Dora"), kind=CheckKind.CLEARANCE)
        record_looks(hotel, [replace(look, asked_by=case)])
    else:
        lift_quarantine(
            hotel, room, case, by="J. Marder", competence="Entomologist, extension office"
        )
        place_trap(hotel, room, day)
        lead_dog(hotel, hotel.house.rooms[room].floor, clock.moment)


def _report(story: Story, hotel: OpenHotel, clock: SetClock, day: date) -> None:
    room = story.reported_room
    clock.moment = moment_of(day, "15:40", hotel.zone)
    bed = hotel.house.beds_of(room)[0].bed
    sighted = _sighted(room, "mattress_top", Sign.BITES_REPORTED, "Front desk", clock.moment)
    log_sighting(hotel, replace(sighted, place="", noted="Told at the desk this afternoon."))
    clock.moment = moment_of(day, "16:05", hotel.zone)
    spots = _sighted(room, "mattress_label", Sign.DARK_SPOTS, "Esther", clock.moment)
    log_sighting(hotel, replace(spots, bed=bed))


def _look_around(hotel: OpenHotel, clock: SetClock, case: CaseNo, day: date) -> None:
    """The pair looks at every room that a case asked for, one after another."""
    clock.moment = moment_of(day, "14:55", hotel.zone)
    rooms = [
        row.fact.room
        for row in hotel.house.asked.get(case, ())
        if local_day(row.fact.by_at, hotel.zone) >= day
    ]
    looks = [
        replace(
            full_look(hotel.house, room, on=day, by=("Ana", "Bogdan"), kind=CheckKind.ASKED),
            asked_by=case,
        )
        for room in rooms
    ]
    record_looks(hotel, looks)


def _sighted(room: RoomNo, place: str, sign: Sign, by: str, at: datetime) -> Sighted:
    return Sighted(
        case=CaseNo(""),
        room=room,
        bed="",
        place=place,
        sign=sign,
        count=0,
        seen_by=by,
        seen_at=at,
    )


def _case_in(hotel: OpenHotel, room: RoomNo) -> CaseNo:
    return max(case for case, rows in hotel.house.sightings.items() if rows[0].fact.room == room)
