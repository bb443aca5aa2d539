"""The watch over released rooms: how many clean covered days have gone by, and until when.

The count runs from the last sign or the last treatment of the case, whichever is later: a
treatment begins it anew, and a sign of an earlier day that is written down late moves it.
Only days count on which every room of the case was covered: by a clean check of each bed
not older than figures.watch_check_days, or by a trap that was looked into later and was
empty. A check covers no day before the one on which it was written down, so that a check
typed in late moves nothing. An empty trap is no proof, and neither is this count.

Source: no activity for 60 days with monitoring and inspection: StopPests in Housing,
Confirming bed bug elimination.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.case_facts import CaseClosed, Outcome, QuarantinePlaced, Sighted
from hotelwatch.core.checks.asked import SERVING, judgement_of
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.checks.follow_ups import RING_HELD, DueBy, FollowUp, quarantine_follow_ups
from hotelwatch.core.checks.monitors import Monitor, monitors_in, standing_in
from hotelwatch.core.checks.signs import finds, treatments_of
from hotelwatch.core.days import days_from, local_day
from hotelwatch.core.facts import BedNo, CaseNo, CheckKind, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal

ONE_DAY = timedelta(days=1)
SIGN = "sign"
TREATMENT = "treatment"


@dataclass(frozen=True, slots=True)
class Gap:
    """Days that do not count, since a room was not covered; both ends included."""

    from_on: date
    until_on: date
    rooms: tuple[RoomNo, ...]
    """Rooms that were not covered on one of them."""


@dataclass(frozen=True, slots=True)
class Watch:
    """How far the watch of a case has come on a day."""

    case: CaseNo
    rooms: tuple[RoomNo, ...]
    """Rooms that have to be covered."""
    since_on: date
    """The day of the last sign or treatment: the count begins on the day after."""
    because: str
    """"sign" or "treatment"; the treatment if both were on one day."""
    need: int
    counted: int
    """Clean covered days so far, today among them."""
    waiting: int
    """Days under a trap that nobody has looked into since; they count once it is empty."""
    gaps: tuple[Gap, ...]
    ends_on: date
    """The day on which the last day counts if every day from now on is covered."""
    covered_until: date | None
    """The last day that is covered as things stand; None for a case without a room."""
    is_covered: bool
    """Whether today is covered."""

    @property
    def is_over(self) -> bool:
        """Whether enough days have counted."""
        return self.counted >= self.need


def watch_of(house: House, case: CaseNo, today: date) -> Watch:
    """The watch of a case as known on a day; Refusal("unknown_case") if there is none."""
    if case not in house.sightings:
        raise Refusal("unknown_case", case=case)
    rooms = watched_rooms(house, case)
    since_on, because = _since(house, case, rooms, today)
    need = int(house.rules.figures.watch_days.value)
    spans = {room: _Cover.of(house, room, today) for room in rooms}
    counted = waiting = 0
    ends_on = None
    bare: dict[date, tuple[RoomNo, ...]] = {}
    for day in days_from(since_on + ONE_DAY, max(0, (today - since_on).days)):
        open_rooms = tuple(room for room, cover in spans.items() if not cover.may_count(day))
        if open_rooms:
            bare[day] = open_rooms
        elif all(cover.counts(day) for cover in spans.values()):
            counted += 1
        else:
            waiting += 1
        if counted + waiting == need and ends_on is None and not open_rooms:
            ends_on = day
    left = max(0, need - counted - waiting)
    until = min((cover.until(today) for cover in spans.values()), default=None)
    return Watch(
        case=case,
        rooms=rooms,
        since_on=since_on,
        because=because,
        need=need,
        counted=counted,
        waiting=waiting,
        gaps=tuple(_gaps(bare)),
        ends_on=ends_on or max(today, since_on) + left * ONE_DAY,
        covered_until=until,
        is_covered=until is not None and until >= today,
    )


def is_watched(house: House, case: CaseNo) -> bool:
    """Whether a confirmed case's rooms were given back and nobody has closed it since."""
    judged = judgement_of(house, case) if case in house.sightings else None
    is_confirmed = judged is not None and judged.outcome is Outcome.CONFIRMED
    return is_confirmed and was_released(house, case) and not was_closed(house, case)


def was_released(house: House, case: CaseNo) -> bool:
    """Whether every room of a case was given back, and no sign was written down since."""
    placed = house.quarantines_by_case.get(case, ())
    lifted_at = [lifted.lifted_at for _, lifted in placed if lifted is not None]
    if not placed or len(lifted_at) < len(placed):
        return False
    return max(lifted_at) >= house.entry_of(house.sightings[case][-1]).recorded_at


def was_closed(house: House, case: CaseNo) -> bool:
    """Whether a named person ended the watch, and no sign was written down since."""
    return closing_of(house, case) is not None


def closing_of(house: House, case: CaseNo) -> CaseClosed | None:
    """How a named person ended the watch; None where none did, or a sign came since."""
    closed = house.kept_of_case(CaseClosed, case)
    is_last = bool(closed) and closed[-1].entry > house.sightings[case][-1].entry
    return closed[-1].fact if is_last else None


def watched_rooms(house: House, case: CaseNo) -> tuple[RoomNo, ...]:
    """Rooms of a case that had a sign or were closed because of one, in order."""
    signs = [row.fact.room for row in house.kept_of_case(Sighted, case)]
    placed = [row.fact for row in house.kept_of_case(QuarantinePlaced, case)]
    closed = [fact.room for fact in placed if fact.reason != RING_HELD]
    treated = [treated.room for treated in treatments_of(house, case)]
    return tuple(dict.fromkeys(room for room in (*signs, *closed, *treated) if room in house.rooms))


# --- looks that keep a room covered ---------------------------------------------------------


def follow_ups(house: House, today: date) -> tuple[FollowUp, ...]:
    """Looks wanted by rooms in quarantine or under watch, the earliest deadline first."""
    found = (*quarantine_follow_ups(house, today), *watch_follow_ups(house, today))
    return tuple(sorted(found, key=lambda look: (look.by_on, look.case, look.room)))


def watch_follow_ups(house: House, today: date) -> tuple[FollowUp, ...]:
    """Looks without which a room under watch would no longer be covered, by deadline."""
    found = [
        look
        for case in house.sightings
        if is_watched(house, case)
        for look in looks_under_watch(house, case, today)
    ]
    return tuple(sorted(found, key=lambda look: (look.by_on, look.case, look.room)))


def looks_under_watch(house: House, case: CaseNo, today: date) -> tuple[FollowUp, ...]:
    """The next look of each room of a watched case; none where a trap stands, or it is over."""
    watch = watch_of(house, case, today)
    if watch.counted + watch.waiting >= watch.need:
        return ()
    ahead = timedelta(days=int(house.rules.figures.days_between_clean_checks.value))
    looks = []
    for room in watch.rooms:
        if standing_in(house, room, today):
            continue
        until = _Cover.of(house, room, today).until(today)
        if until >= watch.ends_on:
            continue
        looks.append(
            FollowUp(
                case=case,
                room=room,
                beds=tuple(bed.bed for bed in house.beds_of(room)),
                kind=CheckKind.CLEARANCE,
                from_on=max(until - ahead, watch.since_on + ONE_DAY),
                by_on=max(until, watch.since_on + ONE_DAY),
                because=DueBy.WATCH,
            )
        )
    return tuple(looks)


# --- since when -----------------------------------------------------------------------------


def _since(house: House, case: CaseNo, rooms: tuple[RoomNo, ...], today: date) -> tuple[date, str]:
    """The last sign or treatment up to a day; finds of the rooms count whoever made them."""
    signs = [local_day(row.fact.seen_at, house.zone) for row in house.kept_of_case(Sighted, case)]
    signs += [find.day for room in rooms for find in finds(house, room)]
    last_sign = max((day for day in signs if day <= today), default=today)
    treated = [t.treated_on for t in treatments_of(house, case) if t.treated_on <= today]
    last_treatment = max(treated, default=date.min)
    if last_treatment >= last_sign:
        return last_treatment, TREATMENT
    return last_sign, SIGN


# --- covered days ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Cover:
    """Days on which a room is covered, as spans with both ends included."""

    beds: tuple[tuple[tuple[date, date], ...], ...]
    """For each bed the spans that its clean checks cover."""
    read: tuple[tuple[date, date], ...]
    """Under traps that were looked into later and were empty."""
    unread: tuple[tuple[date, date], ...]
    """Under traps that nobody has looked into since."""

    @classmethod
    def of(cls, house: House, room: RoomNo, today: date) -> _Cover:
        """What covers a room."""
        beds = [bed.bed for bed in house.beds_of(room)] or [BedNo("")]
        traps = monitors_in(house, room)
        return cls(
            tuple(tuple(_check_spans(house, room, bed)) for bed in beds),
            tuple(span for trap in traps if (span := _read_span(trap, today)) is not None),
            tuple(span for trap in traps if (span := _unread_span(trap, today)) is not None),
        )

    def counts(self, day: date) -> bool:
        """Whether a day counts already."""
        return _within(self.read, day) or all(_within(spans, day) for spans in self.beds)

    def may_count(self, day: date) -> bool:
        """Whether a day counts, or will once a trap was looked into."""
        return self.counts(day) or _within(self.unread, day)

    def until(self, today: date) -> date:
        """The last day from today on without a gap; the day before today if there is one."""
        last = today - ONE_DAY
        ahead = [end for spans in (*self.beds, self.unread, self.read) for _, end in spans]
        for day in days_from(today, max(0, (max(ahead, default=last) - last).days)):
            if not self.may_count(day):
                break
            last = day
        return last


def _within(spans: tuple[tuple[date, date], ...], day: date) -> bool:
    return any(first <= day <= last for first, last in spans)


def _check_spans(house: House, room: RoomNo, bed: BedNo) -> Iterator[tuple[date, date]]:
    covers = timedelta(days=int(house.rules.figures.watch_check_days.value))
    rows = (
        [
            row
            for row in house.checks_by_bed.get(bed, ())
            if row.fact.room == room and underside_seen(house, row.fact)
        ]
        if bed
        else house.kept_room_checks.get(room, ())
    )
    for row in rows:
        if row.fact.kind in SERVING and not row.fact.found:
            known_on = local_day(house.entry_of(row).recorded_at, house.zone)
            yield max(row.fact.checked_on, known_on), row.fact.checked_on + covers


def _read_span(trap: Monitor, today: date) -> tuple[date, date] | None:
    """From when a trap stood there, and that was known, to its last empty reading."""
    empty = [r.read_on for r in trap.readings if r.caught == 0 and r.read_on <= today]
    first = max(trap.placed_on, trap.known_on)
    return (first, max(empty)) if empty and max(empty) >= first else None


def _unread_span(trap: Monitor, today: date) -> tuple[date, date] | None:
    """From the last reading to the day on which the trap has to be looked into again."""
    first = max(trap.last_on(today), trap.known_on)
    last = trap.taken_on - ONE_DAY if trap.taken_on is not None else max(today, first)
    return (first, last) if last >= first else None


def _gaps(bare: dict[date, tuple[RoomNo, ...]]) -> Iterator[Gap]:
    """Days that are not covered, joined where one follows the other."""
    days = sorted(bare)
    start = 0
    for number, day in enumerate(days):
        is_last = number + 1 == len(days)
        if is_last or days[number + 1] != day + ONE_DAY:
            of_gap = days[start : number + 1]
            rooms = tuple(dict.fromkeys(room for one in of_gap for room in bare[one]))
            yield Gap(of_gap[0], day, rooms)
            start = number + 1
