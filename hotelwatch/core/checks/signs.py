"""Signs and treatments of rooms, as checks and cases read them: what sets a count back.

A suite is let and treated as one, so a find in one of its keys is a find in all.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from hotelwatch.core.case_facts import Sighted, Sign, SpecimenNoted
from hotelwatch.core.checks.asked import is_ruled_out
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.records import Kept
from hotelwatch.core.treatment_facts import MonitorRead, TreatmentRecorded

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Find:
    """A find sets the count back; after a weak sign a check of the same day can count."""

    day: date
    room: RoomNo
    entry: int
    is_weak: bool

    @property
    def counts_from(self) -> date:
        """The first day on which a clean check can count after it."""
        return self.day if self.is_weak else self.day + ONE_DAY

    def is_before(self, day: date, entry: int) -> bool:
        """Whether a check can count after this find: on its day only if written down later."""
        return day >= self.counts_from and (day > self.day or entry > self.entry)


def finds(house: House, room: RoomNo) -> tuple[Find, ...]:
    """Signs in a room and its suite: sighted, found by a check, or caught in a trap.

    Signs of cases that were ruled out are none.
    """
    return tuple(_finds(house, as_one(house, room)))


def rooms_with_signs(house: House) -> frozenset[RoomNo]:
    """Rooms with any sign of any weight, and those of their suites: others have no finds."""
    signed = {row.fact.room for sightings in house.sightings.values() for row in sightings}
    signed |= {look.room for look in house.all_of(BedChecked) if look.found}
    signed |= {look.room for look in house.all_of(RoomChecked) if look.found}
    signed |= {read.room for read in house.all_of(MonitorRead) if read.caught}
    return frozenset(mate for room in signed for mate in as_one(house, room))


def _finds(house: House, rooms: frozenset[RoomNo]) -> Iterator[Find]:
    for case_no, sightings in house.sightings.items():
        here = [row for row in sightings if row.fact.room in rooms]
        if here and not is_ruled_out(house, case_no):
            for row in here:
                day = local_day(row.fact.seen_at, house.zone)
                is_weak = house.rules.evidence[row.fact.sign].weight is Evidence.WEAK
                yield Find(day, row.fact.room, row.entry, is_weak=is_weak)
    beds = (bed.bed for mate in sorted(rooms) for bed in house.beds_of(mate))
    looks: list[Kept[BedChecked] | Kept[RoomChecked]] = [
        check for bed in beds for check in house.checks_by_bed.get(bed, ())
    ]
    looks += [look for mate in sorted(rooms) for look in house.kept_room_checks.get(mate, ())]
    for look in looks:
        if look.fact.found and look.fact.room in rooms:
            yield Find(look.fact.checked_on, look.fact.room, look.entry, is_weak=False)
    for read in house.kept_of(MonitorRead):
        if read.fact.caught and read.fact.room in rooms:
            yield Find(read.fact.read_on, read.fact.room, read.entry, is_weak=False)


class SignClass(StrEnum):
    """What a raw sign counts as; the sign itself is kept as it was seen."""

    SUSPECTED = "suspected"
    OLD_SIGN = "old_sign"
    """It may be left over from before a treatment of its room."""
    INFESTATION_BY_RULE = "infestation_by_rule"
    """The local rules count it as an infestation by itself."""


def class_of(house: House, sighted: Sighted) -> SignClass:
    """What a sign counts as, by the local rules and by whether its room was treated before.

    Source: cast skins and spots may be taken as active where the area was never treated
    before: national pest management association, best management practices for bed bugs
    (2011), 9.4; Kansas K.A.R. 28-36-77(p) (2008) counts them as an infestation.
    """
    if sighted.sign in house.profile.confirming_signs:
        return SignClass.INFESTATION_BY_RULE
    row = house.rules.evidence[sighted.sign]
    if row.after_treatment is not None and was_treated_before(house, sighted):
        return SignClass.OLD_SIGN
    return SignClass.SUSPECTED


def weight_of(house: House, sighted: Sighted) -> Evidence:
    """How much a sighting says, by resources/evidence.toml and the local rules."""
    row = house.rules.evidence[sighted.sign]
    counts_as = class_of(house, sighted)
    if counts_as is SignClass.INFESTATION_BY_RULE:
        return Evidence.STRONG
    if counts_as is SignClass.OLD_SIGN and row.after_treatment is not None:
        return row.after_treatment
    return row.weight


def is_alert_alone(house: House, case: CaseNo, room: RoomNo) -> bool:
    """Whether a case has of a room nothing but a dog's alert, and was judged by other rooms.

    Such an alert is no find: it wants a look, not a treatment. Source: firms should begin on
    confirmed evidence only: national pest management association, best management practices
    for bed bugs (2011), 2.4.
    """
    rooms = as_one(house, room)
    signs = [row.fact for row in house.kept_of_case(Sighted, case)]
    here = [sign for sign in signs if sign.room in rooms]
    if not here or len(here) == len(signs) or any(s.sign is not Sign.DOG_ALERT for s in here):
        return False
    kept = any(row.fact.room in rooms for row in house.kept_of_case(SpecimenNoted, case))
    return not kept and not any(treatments_of(house, case, mate) for mate in rooms)


def was_treated_before(house: House, sighted: Sighted) -> bool:
    """Whether a sign's room, or another key of its suite, was treated before the sign."""
    treated = house.treated_on
    if not treated:
        return False
    seen_on = local_day(sighted.seen_at, house.zone)
    rooms = as_one(house, sighted.room)
    return any(day < seen_on for room in rooms for day in treated.get(room, ()))


def treatments_of(
    house: House, no: CaseNo, room: RoomNo | None = None
) -> tuple[TreatmentRecorded, ...]:
    """Treatments of a case, or of one room of it, by day."""
    of_case = (row.fact for row in house.kept_of_case(TreatmentRecorded, no))
    wanted = [t for t in of_case if room is None or t.room == room]
    return tuple(sorted(wanted, key=lambda t: t.treated_on))


def strong_sign_since(
    house: House, no: CaseNo, day: date, *, rooms: frozenset[RoomNo] | None = None
) -> date | None:
    """The last day after ``day`` with a live insect or eggs in any of these rooms."""
    days = (
        local_day(row.fact.seen_at, house.zone)
        for row in house.kept_of_case(Sighted, no)
        if weight_of(house, row.fact) is Evidence.STRONG
        and (rooms is None or row.fact.room in rooms)
    )
    return max((seen_on for seen_on in days if seen_on > day), default=None)


def suite_mates(house: House, room: RoomNo) -> tuple[RoomNo, ...]:
    """The other keys of a room's suite, in the order of the roster."""
    described = house.rooms.get(room)
    if described is None or not described.suite:
        return ()
    return tuple(
        no for no, other in house.rooms.items() if other.suite == described.suite and no != room
    )


def as_one(house: House, room: RoomNo) -> frozenset[RoomNo]:
    """A room with the other keys of its suite."""
    return frozenset({room, *suite_mates(house, room)})
