"""Laws of cases over random histories: signs, judgements, checks, treatments, asks, quarantines,
liftings, joins, splits.

Taking a mistaken sighting back undoes what it caused and nothing else; the record as of any
entry shows what was shown then; joining and splitting loses and invents nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cache
from typing import TypeVar

from hypothesis import assume, event, given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.neighbours import Neighbour, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import (
    CaseEntryMoved,
    CaseJudged,
    CasesJoined,
    Outcome,
    QuarantineLifted,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.blocks import BlockKind, blocks
from hotelwatch.core.cases.case import case_of, cases, next_case_no
from hotelwatch.core.cases.desk import desk_list
from hotelwatch.core.cases.duties import duties, duties_of_case
from hotelwatch.core.cases.joining import check_joining, split
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.response import (
    answer_sighting,
    left_without_sign,
    still_wanted,
    wanted_apart,
)
from hotelwatch.core.cases.ring import ring_of, to_ask
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.story import story_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, CheckKind, Fact, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import Build, day, house, moment

T = TypeVar("T")
FLOORS = ("1", "2", "3")
SUITE = ("204", "205")
ROOMS = tuple(RoomNo(f"{floor}0{number}") for floor in FLOORS for number in range(1, 6))
SEEN = ("mattress_underside", "base_underside", "base_staple_line", "base_corner_caps")


@cache
def empty_house() -> House:
    """Three floors of five rooms along one side, two of them a suite; guests in some."""
    built = house().floors(*FLOORS)
    for room in ROOMS:
        more = {"suite": "S"} if room in SUITE else {}
        built.room(room, floor=room[0], room_type="double", **more).bed("A")
    return built.stays(("102", -1, 6), ("203", 2, 5), ("302", 4, 12), ("105", 8, 9)).house


@cache
def near() -> Mapping[RoomNo, tuple[Neighbour, ...]]:
    at_hand = empty_house()
    return neighbours(at_hand, lay_out(at_hand))


def around(at_hand: House) -> Around:
    return Around(near(), record_of(at_hand))


# --- histories ------------------------------------------------------------------------------

SIGNS = st.sampled_from([Sign.LIVE_INSECT, Sign.CAST_SKIN, Sign.BITES_REPORTED])
WHICH = st.integers(0, 11)
"""Of the cases or entries that there are, by place."""
SIGHTING = st.tuples(st.just("sign"), st.sampled_from(ROOMS), SIGNS)
STEPS = st.one_of(
    SIGHTING,
    SIGHTING,
    st.tuples(st.just("check"), st.sampled_from(ROOMS), st.sampled_from(list(CheckKind))),
    st.tuples(st.just("find"), st.sampled_from(ROOMS), st.just(CheckKind.DEEP)),
    st.tuples(st.just("judge"), WHICH, st.sampled_from(list(Outcome))),
    st.tuples(st.just("treat"), WHICH, WHICH),
    st.tuples(st.just("lift"), WHICH, WHICH),
    st.tuples(st.just("ask"), WHICH, st.none()),
    st.tuples(st.just("join"), WHICH, WHICH),
    st.tuples(st.just("split"), WHICH, WHICH),
    st.tuples(st.just("take back"), WHICH, st.none()),
)
HISTORIES = st.lists(st.tuples(STEPS, st.sampled_from([0, 1, 1, 3, 8])), min_size=2, max_size=12)


@dataclass(frozen=True)
class Line:
    """What an entry wrote, on which day of the test, by which step."""

    number: int
    what: str
    facts: tuple[Fact, ...]
    corrects: int | None


@dataclass
class Telling:
    """A house in the making by steps, with what each entry wrote."""

    built: Build = field(default_factory=lambda: _begun())
    number: int = 0
    """Of the day."""
    written: dict[int, Line] = field(default_factory=dict)
    """What each entry of the story wrote."""

    @property
    def house(self) -> House:
        return self.built.house

    @property
    def last(self) -> int:
        return max(self.house.entries)

    @property
    def now(self) -> datetime:
        """In the evening of the day that the telling has reached."""
        return moment(self.number, 20)

    def write(self, what: str, facts: Iterable[Fact], *, corrects: int | None = None) -> int:
        told = tuple(facts)
        self.built.on(self.number).record(*told, corrects=corrects, note=what)
        self.written[self.last] = Line(self.number, what, told, corrects)
        return self.last

    def take(self, step, gap: int) -> None:
        """One step, some days after the one before; nothing where it is refused."""
        self.number += gap
        what, one, other = step
        if what in ("sign", "check", "find"):
            self.write(what, getattr(self, f"_{what}")(one, other))
            return
        try:
            facts = tuple(getattr(self, f"_{what.replace(' ', '_')}")(one, other))
        except (Refusal, LookupError):
            return
        if what == "take back":
            self.write(what, facts, corrects=nth(self.sign_entries(), one))
        elif facts:
            self.write(what, facts)

    def sign_entries(self) -> list[int]:
        """Entries that wrote a sign down, less those taken back."""
        gone = self.house.corrected
        told = [no for no, line in self.written.items() if signs(line.facts)]
        return [no for no in told if no not in gone]

    def answer(self, room: RoomNo, sign: Sign, case: str = "") -> tuple[Fact, ...]:
        seen = Sighted(CaseNo(case), room, "", "", sign, 1, "anna", moment(self.number, 8))
        if not case:
            seen = replace(seen, case=next_case_no(self.house, day(self.number)))
        return answer_sighting(self.house, near(), seen).facts

    # --- steps -------------------------------------------------------------------------------

    def _sign(self, room, sign):
        return self.answer(room, sign)

    def _check(self, room, kind, found=()):
        bed = self.house.beds_of(room)[0].bed
        return (BedChecked(bed, room, day(self.number), kind, ("a", "b"), 14, SEEN, (), found),)

    def _find(self, room, kind):
        look = self._check(room, kind, found=("base_staple_line:live_insect",))
        return (*look, *self.answer(room, Sign.LIVE_INSECT))

    def _case(self, place: int) -> CaseNo:
        return nth(self.house.sightings, place)

    def _judge(self, place, outcome):
        case = self._case(place)
        return (CaseJudged(case, outcome, "Dr. Vey", "entomologist", day(self.number), "", "x"),)

    def _treat(self, place, which):
        case = self._case(place)
        room = nth(case_of(self.house, case).rooms, which)
        back = moment(self.number + 1)
        return (TreatmentRecorded(case, room, day(self.number), "heat", "firm", "L-1", back),)

    def _lift(self, place, which):
        case = self._case(place)
        room = nth(case_of(self.house, case).quarantined, which)
        at = moment(self.number, 10)
        return (QuarantineLifted(room, case, at, "mara", False, "a reason"),)

    def _ask(self, place, _):
        return to_ask(self.ring(self._case(place)))

    def ring(self, case: CaseNo):
        return ring_of(self.house, around(self.house), case, now=self.now)

    def _join(self, place, other):
        joined = CasesJoined(self._case(place), self._case(other), "mara", "same guests")
        check_joining(self.house, joined)
        return (joined,)

    def _split(self, place, which):
        case = self._case(place)
        entry = nth(self.house.kept_of_case(Sighted, case), which).entry
        today = day(self.number)
        moved = split(self.house, case, [entry], by="mara", reason="other guests", today=today)
        return (*moved, *wanted_apart(self.house, near(), moved))

    def _take_back(self, place, _):
        return self.taken_back(nth(self.sign_entries(), place))

    def taken_back(self, entry: int) -> tuple[Fact, ...]:
        """What the program writes with the taking back of an entry."""
        freed = left_without_sign(self.house, entry, at=self.now, by="anna", reason="mistaken")
        return (*still_wanted(self.house, near(), entry), *freed)


def _begun() -> Build:
    built = house()
    built.house = empty_house()
    return built


def nth(things: Collection[T], place: int) -> T:
    """One of them, counted round; LookupError where there is none."""
    every = list(things)
    return every[place % len(every) if every else 0]


def signs(facts: Iterable[Fact]) -> list[Sighted]:
    return [fact for fact in facts if isinstance(fact, Sighted)]


def told_of(history) -> Telling:
    telling = Telling()
    for step, gap in history:
        telling.take(step, gap)
    return telling


# --- what is told of a house ----------------------------------------------------------------


def of_case(at_hand: House, case: CaseNo, now: datetime) -> dict[str, object]:
    """All that is told of a case."""
    whole = case_of(at_hand, case)
    ring = ring_of(at_hand, around(at_hand), case, now=now)
    return {
        "case": replace(whole, photos=()),
        "duties": duties_of_case(at_hand, case, now),
        "ring": (ring.centres, ring.rooms, ring.growth, dict(ring.values), ring.floors),
        "story": story_of(at_hand, case, now=now),
    }


def of_front_desk(at_hand: House, now: datetime):
    return desk_list(
        at_hand, occupancy(at_hand, local_day(now, at_hand.zone)), now, around=around(at_hand)
    )


def of_house(at_hand: House, now: datetime) -> dict[str, object]:
    return {
        "cases": {no: of_case(at_hand, no, now) for no in at_hand.sightings},
        "duties": duties(at_hand, now),
        "desk": of_front_desk(at_hand, now),
    }


# --- (a) a mistaken sighting ------------------------------------------------------------------


def without(telling: Telling, mistaken: int) -> Telling | None:
    """The same history in which an entry with a sign was never written; its number stays empty.

    What people decided stands as they wrote it; what the program answered to a later sign,
    to "ask" and to taking back is answered anew. None where a later sign then belongs to
    another case: it had joined the mistaken one.
    """
    other = Telling()
    for number, line in telling.written.items():
        other.number = line.number
        facts = line.facts
        if number == mistaken or line.corrects == mistaken:
            facts = ()
        elif seen := signs(facts):
            looks = tuple(fact for fact in facts if isinstance(fact, BedChecked))
            answer = other.answer(seen[0].room, seen[0].sign, seen[0].case)
            if signs(answer)[0].case != seen[0].case:
                return None
            facts = (*looks, *answer)
        elif line.what == "ask" and facts[0].case in other.house.sightings:
            facts = to_ask(other.ring(facts[0].case))
        elif line.what == "split":
            moved = tuple(fact for fact in facts if isinstance(fact, CaseEntryMoved))
            facts = (*moved, *wanted_apart(other.house, near(), moved))
        elif line.corrects is not None:
            facts = other.taken_back(line.corrects)
        other.write(
            line.what,
            facts,
            corrects=None
            if not facts and number == mistaken
            else line.corrects
            if line.corrects != mistaken
            else None,
        )
    return other


@settings(max_examples=50, deadline=None)
@given(HISTORIES, WHICH)
def test_taking_a_mistaken_sighting_back_undoes_what_it_caused_and_nothing_else(history, place):
    telling = told_of(history)
    entries = telling.sign_entries()
    assume(entries)
    mistaken = nth(entries, place)
    touched = cases_of(telling, mistaken)
    is_mended, is_given_back = was_mended(telling, touched), was_given_back(telling, touched)
    telling.write("take back", telling.taken_back(mistaken), corrects=mistaken)
    never = without(telling, mistaken)
    event("a later sign had joined it" if never is None else "compared")
    assume(never is not None)
    now = telling.now
    corrected, clean = telling.house, never.house
    assert list(corrected.sightings) == list(clean.sightings)
    for case in clean.sightings:
        if case not in touched and is_mended:
            assert plainly(corrected, case, now) == plainly(clean, case, now)
        elif case not in touched:
            assert elsewhere(corrected, case, now) == elsewhere(clean, case, now)
        elif not is_mended and not is_given_back:
            event("its case has another sign")
            assert plainly(corrected, case, now) == plainly(clean, case, now)
    if not is_mended:
        assert corrected.quarantined(now) == clean.quarantined(now)
    if not is_mended and not is_given_back:
        assert shut(corrected, now) == shut(clean, now)


def elsewhere(at_hand: House, case: CaseNo, now: datetime) -> dict[str, object]:
    """All that is told of another case, but for two things that speak of the mistaken one's.

    The reason of a quarantine says whether some case had asked for the room when it was
    closed, and that was so; and which other cases a look serves hangs on what they ask.
    """
    told = of_case(at_hand, case, now)
    centres, rooms, *more = told["ring"]
    alone = tuple(replace(row, serves=()) for row in rooms)
    lines = tuple(
        replace(line, values={key: value for key, value in line.values.items() if key != "reason"})
        for line in story_of(at_hand, case, now=now)
    )
    return {**told, "story": lines, "ring": (centres, alone, *more)}


def was_mended(telling: Telling, touched: set[CaseNo]) -> bool:
    """Whether an earlier taking back, or a split, concerned one of these cases.

    What it wrote down for signs left in a case, and what it left out as looked at by then,
    is tied to none of those signs: it stays when they are taken back as well.
    """
    return any(
        telling.house.case_now(number, getattr(fact, "case", "") or fact.into_case) in touched
        for number, line in telling.written.items()
        for fact in line.facts
        if line.what in ("take back", "split")
    )


def was_given_back(telling: Telling, touched: set[CaseNo]) -> bool:
    """Whether a room of a case was given back.

    Its quarantine goes with the entry that placed it, so that signs left in the case stand
    as if it had never been closed: they want a judgement again. No room is closed by that.
    """
    return any(telling.house.kept_of_case(QuarantineLifted, case) for case in touched)


def cases_of(telling: Telling, entry: int) -> set[CaseNo]:
    """Cases to which an entry's sign belongs or belonged, and what was split off, as of now."""
    ever = {signs(telling.written[entry].facts)[0].case}
    for moved in telling.house.all_of(CaseEntryMoved):
        if not ever.isdisjoint((moved.from_case, moved.into_case)):
            ever |= {moved.from_case, moved.into_case}
    last = telling.last + 1
    return {telling.house.case_now(number, case) for case in ever for number in (entry, last)}


def plainly(at_hand: House, case: CaseNo, now: datetime) -> dict[str, object]:
    """What is told of a case to which the mistaken sighting belonged, where it has other signs.

    Where it stands, its rooms and which of them are closed may not differ. Its looks may:
    one that the mistaken sign had asked for is asked for again when the entry is taken
    back, unless it was made meanwhile, if only before the first sign that is left.
    """
    whole = case_of(at_hand, case)
    return {
        "stage": whole.stage,
        "rooms": set(whole.rooms),
        "quarantined": set(whole.quarantined),
        "evidence": whole.evidence,
        "judged": whole.judged,
        "treated": whole.treatments,
    }


def shut(at_hand: House, now: datetime):
    """Front desk's blocks, less rooms that are only held until somebody has looked."""
    found = blocks(at_hand, occupancy(at_hand, local_day(now, at_hand.zone)), now)
    return [block for block in found if block.kind is not BlockKind.HELD]


# --- (b) the record as of then ----------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(HISTORIES)
def test_the_house_as_of_an_entry_tells_what_was_told_when_it_was_written(history):
    telling, told = Telling(), {}
    for step, gap in history:
        before = telling.last
        telling.take(step, gap)
        if telling.last > before:
            told[telling.last] = (telling.now, of_house(telling.house, telling.now))
    for number, (now, then) in told.items():
        at = telling.house.entries[number].recorded_at
        assert of_house(telling.house.as_of(at), now) == then


# --- (d) joined and split ---------------------------------------------------------------------


# A quarantine that an earlier taking back left to a case without a sign counts here too.
def unions(at_hand: House, now: datetime) -> dict[str, set[RoomNo]]:
    every = cases(at_hand)
    return {
        "rooms": {room for case in every for room in case.rooms},
        "asked": {one.asked.room for case in every for one in case.asked},
        "quarantined": set(at_hand.quarantined(now)),
    }


@settings(max_examples=50, deadline=None)
@given(HISTORIES)
def test_joining_and_splitting_lose_no_room_and_invent_none(history):
    telling = Telling()
    for step, gap in history:
        before, entry = telling.house, telling.last
        telling.take(step, gap)
        if telling.last > entry and step[0] in ("join", "split"):
            event(step[0])
            assert unions(telling.house, telling.now) == unions(before, telling.now)
