"""What cases asked to be looked at, and what has been. One check may serve several cases.

A check serves an asked room if it is a deep, asked or clearance check in which a
bed's underside was seen, and if it was made on the day of the asking or later. A
check of an earlier day serves too if it was made on the day of the sign or later
and merely typed in after the asking. A room is done when each of its beds is; a bed that
came after that does not undo it.

A case that was ruled out wants nothing more, nor does one whose sightings were corrected;
nobody can look at a room that left the roster.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.case_facts import CaseJudged, CheckAsked, Outcome, Sighted
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, BedNo, CaseNo, CheckKind, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept

SERVING = frozenset({CheckKind.DEEP, CheckKind.ASKED, CheckKind.CLEARANCE})
"""Kinds of check that answer a case's wish."""


@dataclass(frozen=True, slots=True)
class AskedState:
    """A check that a case asked for, and whether it has been done."""

    asked: CheckAsked
    asked_at: datetime
    """When the wish was written down."""
    due_on: date
    """The hotel's day of the deadline."""
    done_on: date | None
    """The day on which the last of the room's beds was looked at; None while one is left."""
    beds_left: tuple[BedNo, ...]
    """Beds of the room that nobody has looked at for it."""
    is_wanted: bool
    """False once its case was ruled out, its sightings were corrected, or its room is gone."""

    @property
    def is_open(self) -> bool:
        """Whether it is still to be done."""
        return self.is_wanted and self.done_on is None

    def is_late(self, now: datetime) -> bool:
        """Whether it is overdue, or was done on a day after its deadline."""
        if self.done_on is None:
            return self.is_wanted and now > self.asked.by_at
        return self.done_on > self.due_on


def asked_states(house: House, case: CaseNo) -> tuple[AskedState, ...]:
    """Every check that a case asked for, in the order asked."""
    is_wanted = still_asks(house, case)
    return tuple(
        _state(house, row, is_wanted=is_wanted) for row in house.kept_of_case(CheckAsked, case)
    )


def open_asked(house: House) -> tuple[AskedState, ...]:
    """Every asked check still to be done, the earliest deadline first."""
    asking = (case for case in house.asked if still_asks(house, case))
    states = (state for case in asking for state in asked_states(house, case))
    return tuple(
        sorted(
            (state for state in states if state.is_open),
            key=lambda state: (state.asked.by_at, state.asked.case, state.asked.room),
        )
    )


def open_asked_in(house: House, rooms: Collection[RoomNo]) -> tuple[AskedState, ...]:
    """Every asked check of these rooms still to be done, by case, then in the order asked."""
    found: list[AskedState] = []
    for case, rows in house.asked.items():
        here = [row for row in rows if row.fact.room in rooms]
        if here and still_asks(house, case):
            states = (_state(house, row, is_wanted=True) for row in here)
            found += [state for state in states if state.is_open]
    return tuple(found)


def done_for(house: House, wish: CheckAsked, entry: int) -> date | None:
    """When a room was looked at as a wish would want it, were it of that entry; None if not."""
    return _state(house, Kept(entry, wish), is_wanted=True).done_on


# --- judgements ---------------------------------------------------------------------------


def unjudged_sightings(house: House, case: CaseNo) -> tuple[Kept[Sighted], ...]:
    """Signs of a case that no judgement covers.

    A confirmation also covers later signs. "Not a bed bug" and "undetermined" do
    not: who judged so had not seen a sign that was written down afterwards.
    """
    sightings = house.kept_of_case(Sighted, case)
    judged = house.kept_of_case(CaseJudged, case)
    if not judged:
        return sightings
    if judged[-1].fact.outcome is Outcome.CONFIRMED:
        return ()
    return tuple(row for row in sightings if row.entry > judged[-1].entry)


def judgement_of(house: House, case: CaseNo) -> CaseJudged | None:
    """The judgement that stands: the latest one, if it covers every sign."""
    judged = house.kept_of_case(CaseJudged, case)
    return judged[-1].fact if judged and not unjudged_sightings(house, case) else None


def is_ruled_out(house: House, case: CaseNo) -> bool:
    """Whether a case was judged to be no bed bug, and the judgement stands."""
    judged = judgement_of(house, case)
    return judged is not None and judged.outcome is Outcome.NOT_BED_BUG


def still_asks(house: House, case: CaseNo) -> bool:
    """Whether a case still wants what it asked for."""
    return case in house.sightings and not is_ruled_out(house, case)


# --- what serves --------------------------------------------------------------------------


def _state(house: House, row: Kept[CheckAsked], *, is_wanted: bool) -> AskedState:
    asked_at = house.entry_of(row).recorded_at
    served = _served_on(house, row, local_day(asked_at, house.zone))
    left = tuple(bed for bed, day in served.items() if bed and day is None)
    days = [day for day in served.values() if day is not None]
    return AskedState(
        asked=row.fact,
        asked_at=asked_at,
        due_on=local_day(row.fact.by_at, house.zone),
        done_on=max(days) if len(days) == len(served) else None,
        beds_left=left,
        is_wanted=is_wanted and row.fact.room in house.rooms,
    )


def _served_on(
    house: House, row: Kept[CheckAsked], asked_on: date
) -> Mapping[BedNo | None, date | None]:
    """When each bed was first looked at for a wish; under None, of a room without beds, that."""
    sign_on = _sign_on(house, row, asked_on)

    def serves(check: Kept[BedChecked] | Kept[RoomChecked]) -> bool:
        day = check.fact.checked_on
        in_time = day >= asked_on or (day >= sign_on and check.entry > row.entry)
        return in_time and check.fact.kind in SERVING

    beds = house.beds_of(row.fact.room)
    if not beds:
        looks = (look for look in house.kept_of(RoomChecked) if look.fact.room == row.fact.room)
        return {None: min((look.fact.checked_on for look in looks if serves(look)), default=None)}
    served: dict[BedNo | None, date | None] = {
        bed.bed: min(
            (
                check.fact.checked_on
                for check in house.checks_by_bed.get(bed.bed, ())
                if check.fact.room == row.fact.room
                and serves(check)
                and underside_seen(house, check.fact)
            ),
            default=None,
        )
        for bed in beds
    }
    done_on = max((day for day in served.values() if day is not None), default=None)
    left = [bed for bed, day in served.items() if bed and day is None]
    if done_on is not None and all(_came_on(house, bed) > done_on for bed in left):
        return {bed: day for bed, day in served.items() if day is not None}
    return served


def _came_on(house: House, bed: BedNo) -> date:
    """The day on which a bed in use came on the roster, for the last time if it left it."""
    came = None
    for row in house.builds_by_bed[bed]:
        came = (came or row) if row.fact.in_use else None
    return local_day(house.entry_of(came or house.builds_by_bed[bed][-1]).recorded_at, house.zone)


def _sign_on(house: House, row: Kept[CheckAsked], asked_on: date) -> date:
    """The day of the latest sign known when the wish was written down."""
    sightings = house.kept_of_case(Sighted, row.fact.case)
    known = [sighted for sighted in sightings if sighted.entry <= row.entry]
    if not known:
        return asked_on
    return min(asked_on, local_day(known[-1].fact.seen_at, house.zone))
