"""The house: all facts of one hotel that are at hand, frozen, with lookups.

It never knows what day it is; whoever asks gives the day. Adding an entry makes a new
one. Lookups are built when first asked for and kept.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, tzinfo
from functools import cached_property
from typing import TypeVar, cast
from zoneinfo import ZoneInfo

from hotelwatch.core.carried_over import carry_over, in_order
from hotelwatch.core.case_facts import CheckAsked, QuarantineLifted, QuarantinePlaced, Sighted
from hotelwatch.core.case_labels import LABELLING, CaseLabels
from hotelwatch.core.choice_facts import FigureChosen, ProfileChosen, RuleChosen
from hotelwatch.core.cycle_scopes import cycle_scopes
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CaseNo,
    CycleChosen,
    Fact,
    FloorPlaced,
    HotelDescribed,
    Risk,
    RiskPlaced,
    RoomChecked,
    RoomDescribed,
    RoomNo,
    RoundPublished,
    Scope,
    SlotPublished,
    TeamDescribed,
    TeamName,
    WingPlaced,
)
from hotelwatch.core.parameters import Rules
from hotelwatch.core.profile import SHIPPED_PROFILE, Profile
from hotelwatch.core.records import Changes, Entry, Kept, Stay
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.core.rule_facts import RuleClause, RuleSetKept
from hotelwatch.core.rule_sets import all_sets
from hotelwatch.core.treatment_facts import TreatmentRecorded

F = TypeVar("F", bound=Fact)


@dataclass(frozen=True)
class House:
    """Facts at hand. Those of corrected entries are kept but no lookup shows them.

    ``complete_from`` tells since when every check and slot is at hand (None: all of them);
    ``earlier_looks`` then holds each bed's last day before on which its underside was seen.
    """

    shipped: Rules
    """The rules that the program ships; ``rules`` has the hotel's own choices over them."""
    entries: Mapping[int, Entry] = field(default_factory=dict)
    kept: Mapping[type[Fact], tuple[Kept[Fact], ...]] = field(default_factory=dict)
    stays: tuple[Stay, ...] = ()
    complete_from: date | None = None
    earlier_looks: Mapping[BedNo, date] = field(default_factory=dict)

    def add(self, entry: Entry, facts: Iterable[Fact]) -> House:
        """The house after one more entry; facts of the entry it corrects count no more."""
        added: defaultdict[type[Fact], list[Kept[Fact]]] = defaultdict(list)
        for fact in facts:
            added[type(fact)].append(Kept(entry.number, fact))
        kept = dict(self.kept)
        for kind, rows in added.items():
            kept[kind] = (*kept.get(kind, ()), *rows)
        after = replace(self, entries={**self.entries, entry.number: entry}, kept=kept)
        if entry.corrects is None:
            carry_over(vars(self), vars(after), added)
        return after

    def without(self, number: int) -> House:
        """The house as if an entry had just been taken back: its facts count no more."""
        last = max(self.entries, default=0)
        at = self.entries[last].recorded_at if last else datetime.min.replace(tzinfo=UTC)
        return self.add(Entry(last + 1, at, "", "", "", number, "", ""), ())

    def with_stays(self, stays: Iterable[Stay]) -> House:
        """The house with these bookings in place of those it had."""
        return replace(self, stays=tuple(stays))

    @cached_property
    def corrected(self) -> frozenset[int]:
        """Numbers of entries that a later entry replaced."""
        return frozenset(e.corrects for e in self.entries.values() if e.corrects is not None)

    def kept_of(self, kind: type[F]) -> tuple[Kept[F], ...]:
        """Facts of a kind that count, with their entries, in the order written down."""
        rows = cast("tuple[Kept[F], ...]", self.kept.get(kind, ()))
        if self.corrected:
            rows = tuple(row for row in rows if row.entry not in self.corrected)
        if self._case_labels is not None and "case" in kind.__slots__:
            rows = tuple(map(self._case_labels.now, rows))
        return rows

    def all_of(self, kind: type[F]) -> tuple[F, ...]:
        """Facts of a kind, in the order written down."""
        return tuple(row.fact for row in self.kept_of(kind))

    @cached_property
    def _case_labels(self) -> CaseLabels | None:
        """Under which case facts stand now; None while no case was joined or split."""
        rows = (row for kind in LABELLING for row in self.kept.get(kind, ()))
        counting = [row for row in rows if row.entry not in self.corrected]
        return CaseLabels.of(counting) if counting else None

    def case_now(self, entry: int, case: CaseNo) -> CaseNo:
        """To which case what an entry wrote down for one belongs now."""
        return self._case_labels.case_of(entry, case) if self._case_labels else case

    @cached_property
    def _by_case(self) -> Mapping[tuple[type[Fact], CaseNo], tuple[Kept[Fact], ...]]:
        groups: defaultdict[tuple[type[Fact], CaseNo], list[Kept[Fact]]] = defaultdict(list)
        for kind in self.kept:
            if "case" in kind.__slots__:
                for row in self.kept_of(kind):
                    groups[kind, cast("Sighted", row.fact).case].append(row)
        return {key: tuple(rows) for key, rows in groups.items()}

    def kept_of_case(self, kind: type[F], case: CaseNo) -> tuple[Kept[F], ...]:
        """Facts of a kind that belong to a case, in the order written down."""
        return cast("tuple[Kept[F], ...]", self._by_case.get((kind, case), ()))

    def entry_of(self, kept: Kept[Fact]) -> Entry:
        """The entry that wrote a fact down."""
        return self.entries[kept.entry]

    # --- the hotel ---------------------------------------------------------------

    @cached_property
    def rules(self) -> Rules:
        """The rules that count: those shipped, with the hotel's own figures over them."""
        latest = {fact.figure: fact for fact in self.all_of(FigureChosen)}
        chosen = {key: fact.value for key, fact in latest.items() if fact.holds}
        return self.shipped.with_chosen(chosen) if chosen else self.shipped

    @cached_property
    def undersides(self) -> Mapping[tuple[str, bool], frozenset[str]]:
        """By kind of bed and whether encased: places without which its underside was not seen."""
        kinds = self.rules.bed_kinds.values()
        return {(of.code, on): of.underside_of(encased=on) for of in kinds for on in (False, True)}

    @cached_property
    def rule_sets(self) -> Mapping[str, Profile]:
        """Sets of local rules by key: those shipped, and those that the file keeps."""
        return all_sets(self.shipped.profiles, self.kept_of(RuleSetKept), self.kept_of(RuleClause))

    @cached_property
    def profile(self) -> Profile:
        """The set of local rules that the hotel works under, with its own choices over it."""
        keys = [SHIPPED_PROFILE, *(fact.profile for fact in self.all_of(ProfileChosen))]
        known = [self.rule_sets[key] for key in keys if key in self.rule_sets]
        return known[-1].with_choices(self.choices)

    @cached_property
    def choices(self) -> Mapping[str, str]:
        """The hotel's choices that are no numbers, by rule; without those taken back."""
        latest = {fact.rule: fact.choice for fact in self.all_of(RuleChosen)}
        return {rule: choice for rule, choice in latest.items() if choice}

    @cached_property
    def hotel(self) -> HotelDescribed | None:
        """The hotel as last described; None in an empty file."""
        return next(reversed(self.all_of(HotelDescribed)), None)

    @cached_property
    def zone(self) -> tzinfo:
        """The hotel's time zone; UTC while the hotel is not described."""
        return ZoneInfo(self.hotel.zone) if self.hotel else UTC

    @cached_property
    def teams(self) -> Mapping[TeamName, TeamDescribed]:
        """Teams in use, by name, in name order."""
        latest = {team.team: team for team in self.all_of(TeamDescribed)}
        return {name: team for name, team in sorted(latest.items()) if team.in_use}

    @cached_property
    def floors(self) -> Mapping[str, int]:
        """Level of each floor, from bottom to top."""
        levels = {placed.floor: placed.level for placed in self.all_of(FloorPlaced)}
        return dict(sorted(levels.items(), key=lambda item: item[1]))

    @cached_property
    def wings(self) -> Mapping[str, WingPlaced]:
        """Wings by name."""
        return {wing.wing: wing for wing in self.all_of(WingPlaced)}

    @cached_property
    def stairs(self) -> Mapping[str, StairPlaced]:
        """Stairs and lifts in use, by name, in name order."""
        latest = {stair.name: stair for stair in self.all_of(StairPlaced)}
        return {name: stair for name, stair in sorted(latest.items()) if stair.in_use}

    @cached_property
    def rooms(self) -> Mapping[RoomNo, RoomDescribed]:
        """Rooms in use, by label, in the order floor, wing, order, side, label."""
        latest = {room.room: room for room in self.all_of(RoomDescribed)}
        in_use = [room for room in latest.values() if room.in_use]
        in_use.sort(key=lambda r: (self.floors.get(r.floor, 0), r.wing, r.order, r.side, r.room))
        return {room.room: room for room in in_use}

    @cached_property
    def rooms_by_floor(self) -> Mapping[str, tuple[RoomNo, ...]]:
        """Rooms in use on each floor, in the order of the roster."""
        groups: defaultdict[str, list[RoomNo]] = defaultdict(list)
        for no, room in self.rooms.items():
            groups[room.floor].append(no)
        return {floor: tuple(rooms) for floor, rooms in groups.items()}

    @cached_property
    def beds(self) -> Mapping[BedNo, BedDescribed]:
        """Beds in use of rooms in use, by label."""
        latest = {bed.bed: bed for bed in self.all_of(BedDescribed)}
        return {no: bed for no, bed in latest.items() if bed.in_use and bed.room in self.rooms}

    @cached_property
    def builds_by_bed(self) -> Mapping[BedNo, tuple[Kept[BedDescribed], ...]]:
        """How each bed was described over time, in use or not, in the order written down."""
        groups: defaultdict[BedNo, list[Kept[BedDescribed]]] = defaultdict(list)
        for row in self.kept_of(BedDescribed):
            groups[row.fact.bed].append(row)
        return {bed: tuple(rows) for bed, rows in groups.items()}

    @cached_property
    def beds_by_room(self) -> Mapping[RoomNo, tuple[BedDescribed, ...]]:
        """Beds of each room, by label."""
        groups: defaultdict[RoomNo, list[BedDescribed]] = defaultdict(list)
        for bed in self.beds.values():
            groups[bed.room].append(bed)
        return {room: tuple(sorted(beds, key=lambda b: b.bed)) for room, beds in groups.items()}

    def beds_of(self, room: RoomNo) -> tuple[BedDescribed, ...]:
        """Beds of a room, by label; empty if it has none."""
        return self.beds_by_room.get(room, ())

    @cached_property
    def chosen_cycles(self) -> Mapping[tuple[Scope, str], int]:
        """The latest choice of each scope; 0 where it was taken back."""
        return {(c.scope, c.which): c.cycle_days for c in self.all_of(CycleChosen)}

    @cached_property
    def risks(self) -> Mapping[RoomNo, Risk]:
        """What the hotel takes each room for that somebody placed; others are of the usual risk."""
        return {placed.room: placed.risk for placed in self.all_of(RiskPlaced)}

    def cycle_of(self, room: RoomNo) -> int:
        """Days between looks at a room's undersides: room, else risk, type, house, default."""
        for choice in cycle_scopes(room, self.rooms.get(room), self.risks.get(room, Risk.USUAL)):
            if days := self.chosen_cycles.get(choice, 0):
                return days
        return int(self.rules.figures.cycle_days.value)

    # --- checks and rounds ----------------------------------------------------------

    @cached_property
    def checks_by_bed(self) -> Mapping[BedNo, tuple[Kept[BedChecked], ...]]:
        """Checks of each bed, by day, then in the order written down."""
        return in_order(self.kept_of(BedChecked), lambda check: check.bed)

    @cached_property
    def latest_looks(self) -> dict[BedNo, date | None]:
        """The last whole look at each bed that was asked for; ``checks.coverage`` fills it in."""
        return {}

    def checks_of(self, bed: BedNo) -> tuple[BedChecked, ...]:
        """Checks of a bed, oldest first."""
        return tuple(row.fact for row in self.checks_by_bed.get(bed, ()))

    @cached_property
    def kept_room_checks(self) -> Mapping[RoomNo, tuple[Kept[RoomChecked], ...]]:
        """Looks at each room's other places with their entries, by day, then as written down."""
        return in_order(self.kept_of(RoomChecked), lambda check: check.room)

    @cached_property
    def room_checks(self) -> Mapping[RoomNo, tuple[RoomChecked, ...]]:
        """Looks at each room's other places, oldest first."""
        return {no: tuple(row.fact for row in rows) for no, rows in self.kept_room_checks.items()}

    @cached_property
    def slots(self) -> Mapping[date, tuple[SlotPublished, ...]]:
        """Slots of each day as last published, by team and walking order."""
        last_round: dict[date, int] = {}
        days: defaultdict[date, list[Kept[SlotPublished]]] = defaultdict(list)
        for row in self.kept_of(SlotPublished):
            days[row.fact.on].append(row)
        for published in self.kept_of(RoundPublished):
            for day in days:
                if published.fact.from_on <= day <= published.fact.until_on:
                    last_round[day] = max(published.entry, last_round.get(day, 0))
        return {
            day: tuple(
                sorted(
                    (row.fact for row in rows if row.entry == last_round.get(day)),
                    key=lambda slot: (slot.team, slot.position),
                )
            )
            for day, rows in sorted(days.items())
        }

    # --- cases -----------------------------------------------------------------------

    @cached_property
    def sightings(self) -> Mapping[CaseNo, tuple[Kept[Sighted], ...]]:
        """Sightings of each case, in the order written down; its keys are all cases."""
        groups: defaultdict[CaseNo, list[Kept[Sighted]]] = defaultdict(list)
        for row in self.kept_of(Sighted):
            groups[row.fact.case].append(row)
        return {case: tuple(rows) for case, rows in sorted(groups.items())}

    @cached_property
    def asked(self) -> Mapping[CaseNo, tuple[Kept[CheckAsked], ...]]:
        """Checks that each case asked for."""
        groups: defaultdict[CaseNo, list[Kept[CheckAsked]]] = defaultdict(list)
        for row in self.kept_of(CheckAsked):
            groups[row.fact.case].append(row)
        return {case: tuple(rows) for case, rows in groups.items()}

    @cached_property
    def quarantines(self) -> tuple[tuple[QuarantinePlaced, QuarantineLifted | None], ...]:
        """Every quarantine with its lifting, if it was lifted, in the order placed."""
        lifted: defaultdict[tuple[RoomNo, CaseNo], list[Kept[QuarantineLifted]]] = defaultdict(list)
        for row in self.kept_of(QuarantineLifted):
            lifted[row.fact.room, row.fact.case].append(row)
        pairs: list[tuple[QuarantinePlaced, QuarantineLifted | None]] = []
        for placed in self.kept_of(QuarantinePlaced):
            later = lifted[placed.fact.room, placed.fact.case]
            ending = next((row for row in later if row.entry > placed.entry), None)
            if ending is not None:
                later.remove(ending)
            pairs.append((placed.fact, ending.fact if ending else None))
        return tuple(pairs)

    @cached_property
    def quarantines_by_case(
        self,
    ) -> Mapping[CaseNo, tuple[tuple[QuarantinePlaced, QuarantineLifted | None], ...]]:
        """Every quarantine of each case with its lifting, in the order placed."""
        groups: defaultdict[CaseNo, list[tuple[QuarantinePlaced, QuarantineLifted | None]]]
        groups = defaultdict(list)
        for pair in self.quarantines:
            groups[pair[0].case].append(pair)
        return {case: tuple(pairs) for case, pairs in groups.items()}

    def quarantined(self, at: datetime) -> frozenset[RoomNo]:
        """Rooms in quarantine at a moment."""
        return frozenset(
            placed.room
            for placed, lifted in self.quarantines
            if placed.from_at <= at and (lifted is None or at < lifted.lifted_at)
        )

    @cached_property
    def treated_on(self) -> Mapping[RoomNo, tuple[date, ...]]:
        """Days on which each room was treated, in order."""
        days: dict[RoomNo, tuple[date, ...]] = {}
        for fact in sorted(self.all_of(TreatmentRecorded), key=lambda fact: fact.treated_on):
            days[fact.room] = (*days.get(fact.room, ()), fact.treated_on)
        return days

    # --- later and earlier -----------------------------------------------------------------------

    def changes_since(self, before: House) -> Changes:
        """Topics and rooms of the facts that count here and not there, or there and not here."""
        known = max(before.entries, default=0)
        replaced = self.corrected - before.corrected
        facts = tuple(
            row.fact
            for rows in self.kept.values()
            for row in rows
            if row.entry > known or row.entry in replaced
        )
        return Changes.of(facts)

    def until_entry(self, number: int) -> House:
        """The house as it was known when that entry had just been written down."""
        return replace(
            self,
            entries={no: entry for no, entry in self.entries.items() if no <= number},
            kept={
                kind: rows
                for kind, all_rows in self.kept.items()
                if (rows := tuple(row for row in all_rows if row.entry <= number))
            },
        )

    def as_of(self, moment: datetime) -> House:
        """The house as it was known at a moment: entries recorded until then."""
        known = (no for no, entry in self.entries.items() if entry.recorded_at <= moment)
        return self.until_entry(max(known, default=0))
