"""Where every room stood on any day of the record, as it was known at that moment.

``PastDays(house).at(moment)`` answers what ``stands(house.as_of(moment), …)`` does, in a
fraction of its time: looks lie sorted by day with the entries between which they counted,
cases and quarantines are worked out again only where something of theirs was written down.

What the roster, cycles, seasons and labels of cases were changes seldom: the record is
cut into eras between such entries, and each is worked out when a day of it is asked for.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property

from hotelwatch.core.case_facts import (
    CaseClosed,
    CaseJudged,
    CheckAsked,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
)
from hotelwatch.core.case_labels import LABELLING
from hotelwatch.core.cases.room_stands import (
    CaseStand,
    Closing,
    RoomStand,
    around_of,
    case_stand,
    closed_at,
    soon_days,
    stand_of,
)
from hotelwatch.core.checks.coverage import Look, first_due_dates, underside_seen
from hotelwatch.core.checks.seasons import Pace, pace
from hotelwatch.core.choice_facts import FigureChosen
from hotelwatch.core.days import local_day, moment_of
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CaseNo,
    CycleChosen,
    Fact,
    FloorPlaced,
    HotelDescribed,
    RiskPlaced,
    RoomChecked,
    RoomDescribed,
    RoomNo,
)
from hotelwatch.core.house import House
from hotelwatch.core.records import Entry, Kept
from hotelwatch.core.round_facts import SeasonNoted

SELDOM: tuple[type[Fact], ...] = (
    HotelDescribed,
    CycleChosen,
    RiskPlaced,
    FloorPlaced,
    RoomDescribed,
    BedDescribed,
    FigureChosen,
    SeasonNoted,
    *LABELLING,
)
"""Kinds of fact that begin an era."""
OF_CASES: tuple[type[Fact], ...] = (Sighted, CaseJudged, CheckAsked, CaseClosed)
OF_CHECKS: tuple[type[Fact], ...] = (BedChecked, RoomChecked)
OF_QUARANTINE: tuple[type[Fact], ...] = (QuarantinePlaced, QuarantineLifted)
NEVER = 2**63
Row = Kept[Fact]


@dataclass(frozen=True, slots=True)
class _Looks:
    """Looks at a bed's whole underside by day, with the entries between which each counts."""

    days: tuple[date, ...]
    entries: tuple[int, ...]
    until: tuple[int, ...]

    def last(self, until_on: date, cutoff: int) -> date | None:
        """The last one up to a day that was known by an entry and not yet corrected."""
        place = bisect_right(self.days, until_on)
        while place:
            place -= 1
            if self.entries[place] <= cutoff < self.until[place]:
                return self.days[place]
        return None


@dataclass(frozen=True, slots=True)
class _Strand:
    """Facts about one thing, with the numbers of entries that change what is known of it."""

    rows: tuple[tuple[type[Fact], Row], ...]
    turns: tuple[int, ...]

    def at(self, cutoff: int) -> int:
        """How many of the turns were written down by an entry."""
        return bisect_right(self.turns, cutoff)


class PastDays:
    """A house's record, to be asked for any moment of it."""

    def __init__(self, house: House) -> None:
        """Sort what is needed for every moment; the rest waits until it is asked for."""
        self.house = house
        numbers = sorted(house.entries)
        moments = [house.entries[number].recorded_at for number in numbers]
        # An entry counts from the moment of any later one on, should a clock go back.
        for place in range(len(moments) - 1, 0, -1):
            moments[place - 1] = min(moments[place - 1], moments[place])
        self._numbers, self._moments = numbers, moments
        self._until: dict[int, int] = {}
        for number in numbers:
            corrects = house.entries[number].corrects
            if corrects is not None:
                self._until.setdefault(corrects, number)
        self._starts = self._turns_of(
            row.entry for kind in SELDOM for row in house.kept.get(kind, ())
        )
        self._eras: dict[int, _Era] = {}
        self._looks: dict[tuple[object, ...], _Looks] = {}

    @property
    def first_on(self) -> date:
        """The first day of which the record at hand tells everything."""
        first = local_day(self._moments[0], self.house.zone)
        complete = self.house.complete_from
        return first if complete is None else max(first, complete)

    def end_of(self, day: date) -> datetime:
        """The last moment of a day by the hotel's clock."""
        following = moment_of(day + timedelta(days=1), "00:00", self.house.zone)
        return following - timedelta(microseconds=1)

    def at(self, moment: datetime) -> Mapping[RoomNo, RoomStand]:
        """Where every room stood, as it was known at a moment, in the order of the roster."""
        known = bisect_right(self._moments, moment)
        cutoff = self._numbers[known - 1] if known else 0
        return self._era_of(cutoff).at(moment, cutoff)

    def _era_of(self, cutoff: int) -> _Era:
        begun = bisect_right(self._starts, cutoff)
        if begun not in self._eras:
            last = self._starts[begun - 1] if begun else 0
            until = self._starts[begun] if begun < len(self._starts) else NEVER
            self._eras[begun] = _Era(self, last, until)
        return self._eras[begun]

    # --- what eras ask --------------------------------------------------------------

    @property
    def starts(self) -> Sequence[int]:
        """Entries that begin an era, or correct one that did."""
        return self._starts

    def _turns_of(self, entries: Iterable[int]) -> tuple[int, ...]:
        """These entries, and those that correct one of them."""
        own = set(entries)
        own.update(self._until[number] for number in tuple(own) if number in self._until)
        return tuple(sorted(own))

    def strand_of(self, rows: Iterable[tuple[type[Fact], Row]]) -> _Strand:
        """Facts about one thing, with their turns."""
        listed = tuple(rows)
        return _Strand(listed, self._turns_of(row.entry for _kind, row in listed))

    @cached_property
    def checks_by_bed(self) -> Mapping[BedNo, tuple[Kept[BedChecked], ...]]:
        """Every check of each bed by day, those of corrected entries too."""
        groups: defaultdict[BedNo, list[Kept[BedChecked]]] = defaultdict(list)
        for row in self._raw(BedChecked):
            groups[row.fact.bed].append(row)  # type: ignore[attr-defined, arg-type]
        return {
            bed: tuple(sorted(rows, key=lambda row: (row.fact.checked_on, row.entry)))
            for bed, rows in groups.items()
        }

    @cached_property
    def checks_by_room(self) -> Mapping[RoomNo, tuple[tuple[type[Fact], Row], ...]]:
        """Every check in each room, of beds and of other places."""
        groups: defaultdict[RoomNo, list[tuple[type[Fact], Row]]] = defaultdict(list)
        for kind in OF_CHECKS:
            for row in self._raw(kind):
                groups[row.fact.room].append((kind, row))  # type: ignore[attr-defined]
        return {room: tuple(rows) for room, rows in groups.items()}

    @cached_property
    def quarantines_by_room(self) -> Mapping[RoomNo, _Strand]:
        """Quarantines of each room and their liftings."""
        groups: defaultdict[RoomNo, list[tuple[type[Fact], Row]]] = defaultdict(list)
        for kind in OF_QUARANTINE:
            for row in self._raw(kind):
                groups[row.fact.room].append((kind, row))  # type: ignore[attr-defined]
        return {room: self.strand_of(rows) for room, rows in groups.items()}

    def looks_of(self, base: House, bed: BedNo) -> _Looks:
        """Looks at a bed as it was built; worked out once for each way it was described."""
        key = (bed, base.builds_by_bed[bed], str(base.zone))
        if key not in self._looks:
            rows = [
                row for row in self.checks_by_bed.get(bed, ()) if underside_seen(base, row.fact)
            ]
            self._looks[key] = _Looks(
                days=tuple(row.fact.checked_on for row in rows),
                entries=tuple(row.entry for row in rows),
                until=tuple(self._until.get(row.entry, NEVER) for row in rows),
            )
        return self._looks[key]

    def _raw(self, kind: type[Fact]) -> tuple[Row, ...]:
        return self.house.kept.get(kind, ())

    def raw_of_cases(self) -> Iterable[tuple[type[Fact], Row]]:
        """Every fact of a case, those of corrected entries too."""
        return ((kind, row) for kind in OF_CASES for row in self._raw(kind))

    def entries_among(self, turns: Iterable[int], cutoff: int) -> dict[int, Entry]:
        """Entries of these numbers that were written down by another one."""
        return {number: self.house.entries[number] for number in turns if number <= cutoff}


class _Era:
    """The time between two entries that change the roster, a cycle or a case's label."""

    def __init__(self, past: PastDays, last: int, until: int) -> None:
        """The era that begins with entry ``last`` and ends before entry ``until``."""
        self._past, self._until = past, until
        house = past.house
        self._base = House(
            shipped=house.shipped,
            entries=past.entries_among(past.starts, last),
            kept=_kept(
                (kind, row)
                for kind in SELDOM
                for row in house.kept.get(kind, ())
                if row.entry <= last
            ),
            complete_from=house.complete_from,
            earlier_looks=house.earlier_looks,
        )
        self._cases_then: dict[tuple[CaseNo, int], CaseStand] = {}
        self._closed_then: dict[tuple[RoomNo, int], Sequence[Closing]] = {}

    def at(self, moment: datetime, cutoff: int) -> Mapping[RoomNo, RoomStand]:
        """Where every room stood."""
        base = self._base
        today = local_day(moment, self._past.house.zone)
        cases = {case: self._case_at(case, cutoff) for case in self._cases}
        around = around_of(
            self._closed_at(moment, cutoff), cases, today=today, soon_days=self._soon_days
        )
        found = {}
        for room in base.rooms:
            cycle, beds = self._beds[room]
            looks = [self._look(room, bed, cycle, today=today, cutoff=cutoff) for bed in beds]
            found[room] = stand_of(room, looks, cycle, around)
        return found

    # --- looks ---------------------------------------------------------------------

    @cached_property
    def _soon_days(self) -> int:
        return soon_days(self._base)

    @cached_property
    def _beds(self) -> Mapping[RoomNo, tuple[int, tuple[BedNo, ...]]]:
        base = self._base
        return {
            room: (base.cycle_of(room), tuple(bed.bed for bed in base.beds_of(room)))
            for room in base.rooms
        }

    @cached_property
    def _first_due(self) -> Mapping[BedNo, date]:
        return first_due_dates(self._base)

    @cached_property
    def _looks(self) -> Mapping[BedNo, tuple[_Looks, date | None]]:
        base = self._base
        return {
            bed: (self._past.looks_of(base, bed), base.earlier_looks.get(bed)) for bed in base.beds
        }

    @cached_property
    def _pace(self) -> Pace:
        return pace(self._base)

    def _look(self, room: RoomNo, bed: BedNo, cycle: int, *, today: date, cutoff: int) -> Look:
        looks, earlier = self._looks[bed]
        last = looks.last(today, cutoff)
        if earlier is not None and earlier <= today and (last is None or earlier > last):
            last = earlier
        if last is None:
            return Look(bed, room, None, cycle, self._first_due[bed], None, is_spread=True)
        due = self._pace.due_on(last, cycle)
        return Look(bed, room, last, cycle, due, (today - last).days, is_spread=False)

    # --- cases and quarantines ---------------------------------------------------------

    @cached_property
    def _cases(self) -> Mapping[CaseNo, _Strand]:
        """Facts of each case under the labels of this era, with checks in rooms it asks for."""
        groups: defaultdict[CaseNo, list[tuple[type[Fact], Row]]] = defaultdict(list)
        for kind, row in self._past.raw_of_cases():
            if row.entry < self._until:
                written = row.fact.case  # type: ignore[attr-defined]
                groups[self._base.case_now(row.entry, written)].append((kind, row))
        strands = {}
        for case, rows in groups.items():
            asked = {row.fact.room for kind, row in rows if kind is CheckAsked}  # type: ignore[attr-defined]
            checks = [one for room in asked for one in self._past.checks_by_room.get(room, ())]
            strands[case] = self._past.strand_of((*rows, *checks))
        return strands

    def _case_at(self, case: CaseNo, cutoff: int) -> CaseStand:
        strand = self._cases[case]
        key = case, strand.at(cutoff)
        if key not in self._cases_then:
            rooms = {row.fact.room for kind, row in strand.rows if kind is CheckAsked}  # type: ignore[attr-defined]
            small = self._small(strand, cutoff, rooms)
            known = small.sightings.get(case)
            self._cases_then[key] = case_stand(small, case) if known else CaseStand()
        return self._cases_then[key]

    def _closed_at(self, moment: datetime, cutoff: int) -> Mapping[RoomNo, QuarantinePlaced]:
        closed: dict[RoomNo, QuarantinePlaced] = {}
        for room, strand in self._past.quarantines_by_room.items():
            key = room, strand.at(cutoff)
            if key not in self._closed_then:
                self._closed_then[key] = self._small(strand, cutoff, ()).quarantines
            for placed in closed_at(self._closed_then[key], moment):
                closed[room] = placed
        return closed

    def _about(self, rooms: Collection[RoomNo]) -> list[tuple[type[Fact], Row]]:
        """How these rooms, and the beds that ever stood in them, were described."""
        if not rooms:
            return []
        kept = self._base.kept
        described: list[tuple[type[Fact], Row]] = [
            (RoomDescribed, row)
            for row in kept.get(RoomDescribed, ())
            if row.fact.room in rooms  # type: ignore[attr-defined]
        ]
        builds = kept.get(BedDescribed, ())
        beds = {row.fact.bed for row in builds if row.fact.room in rooms}  # type: ignore[attr-defined]
        described += [
            (BedDescribed, row)
            for row in builds
            if row.fact.bed in beds  # type: ignore[attr-defined]
        ]
        return described

    def _small(self, strand: _Strand, cutoff: int, rooms: Collection[RoomNo]) -> House:
        """A house that knows of one thing alone, as of an entry."""
        base = self._base
        about = self._about(rooms)
        always = [
            (kind, row)
            for kind in (HotelDescribed, FigureChosen, *LABELLING)
            for row in base.kept.get(kind, ())
        ]
        known = [(kind, row) for kind, row in strand.rows if row.entry <= cutoff]
        return House(
            shipped=base.shipped,
            entries={**base.entries, **self._past.entries_among(strand.turns, cutoff)},
            kept=_kept((*always, *about, *known)),
            complete_from=base.complete_from,
            earlier_looks=base.earlier_looks,
        )


def _kept(rows: Iterable[tuple[type[Fact], Row]]) -> dict[type[Fact], tuple[Row, ...]]:
    """Facts by kind, in the order written down."""
    groups: defaultdict[type[Fact], list[Row]] = defaultdict(list)
    for kind, row in rows:
        groups[kind].append(row)
    return {kind: tuple(sorted(those, key=lambda r: r.entry)) for kind, those in groups.items()}
