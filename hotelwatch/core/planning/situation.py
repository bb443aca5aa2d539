"""The house's rounds as a problem of arrays."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

import numpy as np

from hotelwatch.core.checks.sheet import visit_minutes
from hotelwatch.core.checks.slots import is_looked_at
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import BedNo, RoomNo, SlotPublished, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.planning.busyness import LOOKED_AHEAD, busyness
from hotelwatch.core.planning.letting import Letting, letting_of
from hotelwatch.core.planning.prices import Prices, prices_of
from hotelwatch.core.planning.problem import NEVER, Claims, Ints, Problem
from hotelwatch.core.planning.still_open import edges, still_open
from hotelwatch.core.planning.surprise import expected_late
from hotelwatch.core.rounds.hours import minutes_of
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.rounds.visits import KNOWN_BEYOND_DAYS, Bed, CannotBe, View, Visit
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, eq=False)
class Situation:
    """What is to be planned, as arrays and as what they stand for."""

    house: House
    view: View
    visits: tuple[Visit, ...]
    """One for each row of the problem."""
    problem: Problem
    prices: Prices
    letting: Letting

    @property
    def done(self) -> tuple[SlotPublished, ...]:
        """Slots of the first day whose beds have all been looked at."""
        return self.view.done

    @property
    def days(self) -> tuple[date, ...]:
        """The plan's days."""
        return self.view.days

    @cached_property
    def late_outside(self) -> Ints:
        """Beds that no plan may look at, and that are late as each day begins (H)."""
        due = [self._number_of(on) for cannot in self.view.cannot_be for on in cannot.due_on]
        late: Ints = (np.arange(len(self.days))[:, None] > np.array(due, np.int64)).sum(axis=1)
        return late

    def late_days_of(self, cannot: CannotBe) -> int:
        """Days overdue within the days, summed over its beds."""
        last = len(self.days) - 1
        return sum(max(0, last - max(self._number_of(on), NEVER)) for on in cannot.due_on)

    def _number_of(self, day: date) -> int:
        return (day - self.days[0]).days


def situation_of(
    house: House, occupancy: Occupancy, wish: Wish, *, by_hand: bool = True
) -> Situation:
    """What is to be planned from the wish's first day on.

    Without ``by_hand`` as if no supervisor had pinned a visit or forbidden a day.
    """
    days = tuple(days_from(wish.from_on, max(1, wish.days)))
    view = View(house, occupancy, days, now=wish.now, by_hand=by_hand)
    teams = tuple(house.teams)
    visits = view.visits
    enterable = enterable_on(view, visits)
    is_open, shut = open_and_shut(view, visits, enterable)
    due = np.array([(visit.due_on - days[0]).days for visit in visits], np.int64)
    letting, share = letting_of(house, days[0]), house.rules.figures.surprise_share.value
    was_on, was_team = _published(house, view, teams)
    rooms = [*(visit.room for visit in visits), *(slot.room for slot in view.done)]
    corridors = dict.fromkeys(_corridor(house, room) for room in rooms)
    areas = {corridor: number for number, corridor in enumerate(corridors)}
    problem = Problem(
        days=days,
        rooms=tuple(visit.room for visit in visits),
        teams=teams,
        minutes=np.array([visit.minutes for visit in visits], np.int64),
        beds=np.array([max(1, len(visit.beds)) for visit in visits], np.int64),
        lags=_lags(visits),
        due=due,
        waits_since=np.array([_since(visit, days[0]) for visit in visits], np.int64),
        cycle=np.array([house.cycle_of(visit.room) for visit in visits], np.int64),
        area=np.array([areas[_corridor(house, visit.room)] for visit in visits], np.int64),
        needs=np.array([visit.people for visit in visits], np.int64),
        open=is_open,
        known=known_to_open(view, visits),
        chance=still_open(edges(view, visits), letting.usually_open),
        shut=shut,
        team_minutes=_team_minutes(view, teams),
        team_people=np.array([house.teams[team].people for team in teams], np.int64),
        area_minutes=view.way,
        is_asked=np.array([visit.is_asked for visit in visits], bool),
        weight=np.array([wish.weights.get(visit.room, 1.0) for visit in visits]),
        surprise=expected_late(letting.lengths, enterable, due, share=share),
        later_on=np.array([(view.best_later(v) - days[0]).days for v in visits], np.int64),
        was_on=was_on,
        was_team=was_team,
        pinned_on=np.array([_pinned_on(view, visit) for visit in visits], np.int64),
        agreed=np.array([_agreed_on(view, visit) is not None for visit in visits], bool),
        pinned_team=np.array([_pinned_team(view, v, teams) for v in visits], np.int64),
        been=frozenset(
            (0, teams.index(slot.team), areas[_corridor(house, slot.room)])
            for slot in view.done
            if slot.team in teams
        ),
    )
    prices = prices_of(house.rules.figures, busy=_busyness(view))
    return Situation(house, view, visits, problem, prices, letting)


# --- arrays of the house ------------------------------------------------------------------


def _since(visit: Visit, first: date) -> int:
    return (max(visit.waits_since, date(first.year - 9, 1, 1)) - first).days


def _lags(visits: Sequence[Visit]) -> Ints:
    """How many days after its visit's due day each bed is due itself (R, most beds)."""
    most = max((len(visit.beds) for visit in visits), default=1)
    lags = np.full((len(visits), max(1, most)), NEVER)
    for row, visit in enumerate(visits):
        lags[row, 0] = 0
        for number, bed in enumerate(visit.beds):
            lags[row, number] = max(0, (_late_after(visit, bed) - visit.due_on).days)
    return lags


def _late_after(visit: Visit, bed: Bed) -> date:
    """The last day on which a bed of a visit is not late: its own, or what a case sets."""
    if visit.is_asked and not visit.wanted.is_follow_up:
        return visit.due_on
    return min(bed.due_on, visit.wanted.by_on)


def _corridor(house: House, room: RoomNo) -> tuple[str, str]:
    """One floor of one wing."""
    described = house.rooms[room]
    return described.floor, described.wing


def enterable_on(view: View, visits: Sequence[Visit]) -> Claims:
    """On which days each visit's room can be entered (R, H)."""
    return np.array(
        [[opening is not None for opening in view.openings(visit)] for visit in visits],
        bool,
    ).reshape(len(visits), len(view.days))


def known_to_open(view: View, visits: Sequence[Visit]) -> Claims:
    """On which days each visit's room opens while a team with enough people works (R, L).

    Too early or not; beyond the days planned too, as far as stays are known.
    """
    first, length = view.days[0], len(view.days) + KNOWN_BEYOND_DAYS
    works = {
        people: np.array([view.crews.may_work(day, people) for day in days_from(first, length)])
        for people in {visit.people for visit in visits}
    }
    known = [works[visit.people] & view.is_known_open(visit.room) for visit in visits]
    return np.array(known, bool).reshape(len(visits), length)


def open_and_shut(
    view: View, visits: Sequence[Visit], enterable: Claims
) -> tuple[Claims, Claims | None]:
    """As the Problem has them (``open``, ``shut``), from when rooms can be entered (R, H)."""
    is_open = _open(view, visits, enterable)
    # Days off too: who asks what a team would bring then has to know its shift.
    shut = _shut(view, visits, enterable)
    if shut is None:
        is_open &= long_enough(view, visits)
    else:
        teams = tuple(view.house.teams)
        works = [[view.calendar.minutes(team, day) > 0 for team in teams] for day in view.days]
        is_open &= (~shut & np.array(works)[None, :, :]).any(axis=2)
    return is_open, shut


def _open(view: View, visits: Sequence[Visit], enterable: Claims) -> Claims:
    """Where a team with enough people works and the look is not too early (R, H)."""
    works = {
        people: np.array([view.crews.may_work(day, people) for day in view.days], bool)
        for people in {visit.people for visit in visits}
    }
    first = np.array([(visit.first_on - view.days[0]).days for visit in visits], np.int64)
    days = np.arange(len(view.days))
    found: Claims = enterable & (days[None, :] >= first[:, None])
    for row, visit in enumerate(visits):
        found[row] &= works[visit.people] & (not is_pinned_beyond(view, visit))
    return found


def long_enough(view: View, visits: Sequence[Visit]) -> Claims:
    """On which days each visit's room is open for as long as it takes (R, H)."""
    return np.array(
        [
            [o is not None and minutes_of(o) >= visit.minutes for o in view.openings(visit)]
            for visit in visits
        ],
        bool,
    ).reshape(len(visits), len(view.days))


def _shut(view: View, visits: Sequence[Visit], enterable: Claims) -> Claims | None:
    """For which teams a room is shut that can be entered, but outside their shift (R, H, K)."""
    teams = tuple(view.house.teams)
    if not any(team.from_clock or team.until_clock for team in view.house.teams.values()):
        return None
    shut = np.zeros((*enterable.shape, len(teams)), bool)
    for row, column in np.argwhere(enterable):
        visit = visits[int(row)]
        opening = view.opening(visit, view.days[int(column)])
        shut[row, column] = [not view.calendar.meets(t, opening, visit.minutes) for t in teams]
    return shut


def _team_minutes(view: View, teams: tuple[TeamName, ...]) -> Ints:
    """Minutes that each team still has on each day (H, K)."""
    table = np.array(
        [[view.calendar.minutes(team, day) for team in teams] for day in view.days], np.int64
    ).reshape(len(view.days), len(teams))
    by_team: defaultdict[TeamName, list[SlotPublished]] = defaultdict(list)
    for slot in view.done:
        by_team[slot.team].append(slot)
    for team, slots in by_team.items():
        if team in teams:
            spent = sheet_minutes(view.house, slots)
            table[0, teams.index(team)] = max(0, table[0, teams.index(team)] - spent)
    return table


def _minutes_to_come(view: View) -> Ints:
    """Minutes of all teams that can look at some bed, as far as days are looked at (L)."""
    days, able = list(days_from(view.days[0], LOOKED_AHEAD)), view.crews.able()
    had = [sum(view.calendar.minutes(team.team, day) for team in able) for day in days]
    return np.array(had, np.int64)


def _busyness(view: View) -> float:
    """What looks at all rooms want of each minute that the teams have."""
    house, had = view.house, _minutes_to_come(view)
    beds_of = {room: house.beds_of(room) for room in house.rooms}
    minutes = [visit_minutes(house, beds) for beds in beds_of.values() if beds]
    cycle = [house.cycle_of(room) for room, beds in beds_of.items() if beds]
    return busyness(np.array(minutes, np.int64), np.array(cycle, np.int64), way=view.way, had=had)


def _published(house: House, view: View, teams: tuple[TeamName, ...]) -> tuple[Ints, Ints]:
    """The day and the team that each visit has on published sheets; -1 for none."""
    place = {day: number for number, day in enumerate(view.days)}
    team_of = {team: number for number, team in enumerate(teams)}
    sheets: defaultdict[RoomNo, list[SlotPublished]] = defaultdict(list)
    for day in view.days:
        for slot in house.slots.get(day, ()):
            if not is_looked_at(house, slot):
                sheets[slot.room].append(slot)
    on, by = [], []
    for visit in view.visits:
        beds = {bed.bed for bed in visit.beds}
        sheet = next((s for s in sheets[visit.room] if _has_any(s, beds)), None)
        on.append(NEVER if sheet is None else place[sheet.on])
        # A team that is no more has its visits done by any other.
        by.append(NEVER if sheet is None else team_of.get(sheet.team, NEVER))
    return np.array(on, np.int64), np.array(by, np.int64)


def _has_any(slot: SlotPublished, beds: Collection[BedNo]) -> bool:
    """Whether a slot is of some of these beds; of a room without beds it is."""
    return not beds or any(BedNo(bed) in beds for bed in slot.beds)


def _pinned_on(view: View, visit: Visit) -> int:
    """The day that a supervisor chose, else the one to which a guest agreed."""
    day = view.hand.pinned_day(visit.room, view.days[0]) or _agreed_on(view, visit)
    return NEVER if day is None or day > view.days[-1] else (day - view.days[0]).days


def is_pinned_beyond(view: View, visit: Visit) -> bool:
    """Whether a supervisor chose a day after those planned."""
    day = view.hand.pinned_day(visit.room, view.days[0])
    return day is not None and day > view.days[-1]


def _agreed_on(view: View, visit: Visit) -> date | None:
    """The day to which a guest agreed, where no supervisor chose one and none is better.

    A room that can be entered sooner is not kept late by an agreement.
    """
    day = view.agreed_on(visit.room)
    if day is None or visit.is_asked or view.hand.pinned_day(visit.room, view.days[0]):
        return None
    sooner = (
        early < day and opening is not None and view.crews.may_work(early, visit.people)
        for early, opening in zip(view.days, view.openings(visit), strict=True)
    )
    is_late = day > visit.due_on and any(sooner)
    return None if is_late or view.opening(visit, day) is None else day


def _pinned_team(view: View, visit: Visit, teams: tuple[TeamName, ...]) -> int:
    team = view.hand.pinned_team(visit.room, view.days[0])
    return NEVER if team is None else teams.index(team)
