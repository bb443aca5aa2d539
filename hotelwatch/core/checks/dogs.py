"""Visits of a firm's dog: where it was led, where it alerted, what became of each alert.

An alert is a place to look at, no find; where the dog was silent nobody has looked. In
homes teams found 44 % (10-100 %) of what was there, with 15 % (0-57 %) false positives,
whatever their experience and certificate: Cooper, Wang, Singh 2014, J Econ Entomol
107:2171-2181. So an alert is open until a look finds nothing, somebody sees a live insect
or eggs in the room, or a competent person judges.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from hotelwatch.core.case_facts import CheckAsked, Outcome, Sighted, Sign, SpecimenNoted
from hotelwatch.core.checks.asked import done_for, judgement_of
from hotelwatch.core.checks.signs import as_one, weight_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.records import Kept
from hotelwatch.core.treatment_facts import DogVisit


class AlertFate(StrEnum):
    """What became of an alert."""

    OPEN = "open"
    CONFIRMED = "confirmed"
    NOT_CONFIRMED = "not_confirmed"


@dataclass(frozen=True, slots=True)
class Alert:
    """A room in which a dog alerted."""

    room: RoomNo
    case: str
    """The case that it stands in; empty where it stands in none any more."""
    fate: AlertFate
    on: date | None
    """When it was confirmed, or looked at without a find; None while it is open."""


@dataclass(frozen=True, slots=True)
class VisitRow:
    """A dog's visit and what became of its alerts."""

    entry: int
    visit: DogVisit
    on: date
    alerts: tuple[Alert, ...]

    @property
    def open(self) -> int:
        """Alerts of which nobody knows more yet."""
        return sum(alert.fate is AlertFate.OPEN for alert in self.alerts)


@dataclass(frozen=True, slots=True)
class AlertRow:
    """A line of a list: an alert with its visit, or a visit without any."""

    row: VisitRow
    alert: Alert | None

    @property
    def key(self) -> tuple[int, str]:
        """What a line is known by."""
        return self.row.entry, self.alert.room if self.alert else ""


def dog_visits(house: House) -> tuple[VisitRow, ...]:
    """Every visit of a dog, the latest first."""
    rows = house.kept_of(DogVisit)
    if not rows:
        return ()
    alerted = {
        (row.entry, row.fact.room): row.fact.case
        for row in house.kept_of(Sighted)
        if row.fact.sign is Sign.DOG_ALERT
    }
    found = [
        VisitRow(
            entry=row.entry,
            visit=row.fact,
            on=local_day(row.fact.visited_at, house.zone),
            alerts=tuple(
                _alert(house, row, RoomNo(room), alerted.get((row.entry, RoomNo(room))))
                for room in row.fact.alerts
            ),
        )
        for row in rows
    ]
    return tuple(sorted(found, key=lambda one: (one.visit.visited_at, one.entry), reverse=True))


def alert_rows(house: House) -> tuple[AlertRow, ...]:
    """A line for each alert, and for each visit without any, the latest visit first."""
    return tuple(line for row in dog_visits(house) for line in _lines(row))


def _lines(row: VisitRow) -> Iterator[AlertRow]:
    if not row.alerts:
        yield AlertRow(row, None)
    for alert in row.alerts:
        yield AlertRow(row, alert)


# --- what became of an alert --------------------------------------------------------------


def _alert(house: House, row: Kept[DogVisit], room: RoomNo, case: CaseNo | None) -> Alert:
    if case is None:
        return Alert(room, "", AlertFate.OPEN, None)
    since = local_day(row.fact.visited_at, house.zone)
    if (day := _confirmed_on(house, row, room, case)) is not None:
        return Alert(room, case, AlertFate.CONFIRMED, day)
    judged = judgement_of(house, case)
    if judged and judged.outcome is Outcome.NOT_BED_BUG and judged.judged_on >= since:
        return Alert(room, case, AlertFate.NOT_CONFIRMED, judged.judged_on)
    looked = _looked_on(house, row, room, case)
    if looked is not None and not _seen_since(house, row, room):
        return Alert(room, case, AlertFate.NOT_CONFIRMED, looked)
    return Alert(room, case, AlertFate.OPEN, None)


def _confirmed_on(house: House, row: Kept[DogVisit], room: RoomNo, case: CaseNo) -> date | None:
    """By a strong sign that somebody saw in the room, or by a judgement that covers it."""
    strong = [
        local_day(seen.seen_at, house.zone)
        for seen in _seen_since(house, row, room)
        if weight_of(house, seen) is Evidence.STRONG
    ]
    judged = judgement_of(house, case)
    since = local_day(row.fact.visited_at, house.zone)
    if (
        judged is not None
        and judged.outcome is Outcome.CONFIRMED
        and judged.judged_on >= since
        and _is_about(house, room, case)
    ):
        strong.append(judged.judged_on)
    return min(strong, default=None)


def _is_about(house: House, room: RoomNo, case: CaseNo) -> bool:
    """Whether a case's judgement is about this room: its only one, or a specimen's."""
    rooms = {row.fact.room for row in house.kept_of_case(Sighted, case)}
    specimens = {row.fact.room for row in house.kept_of_case(SpecimenNoted, case)}
    return rooms <= as_one(house, room) or room in specimens


def _seen_since(house: House, row: Kept[DogVisit], room: RoomNo) -> tuple[Sighted, ...]:
    """Signs that somebody saw in a room once the dog had alerted there."""
    return tuple(
        one.fact
        for one in house.kept_of(Sighted)
        if one.fact.room == room
        and one.fact.seen_at >= row.fact.visited_at
        and weight_of(house, one.fact) is not Evidence.WEAK
        and one.fact.sign is not Sign.DOG_ALERT
    )


def _looked_on(house: House, row: Kept[DogVisit], room: RoomNo, case: CaseNo) -> date | None:
    """When the room was looked at as the alert asks for, whole and since then."""
    wish = CheckAsked(case, room, (), row.fact.visited_at)
    day = done_for(house, wish, row.entry)
    since = local_day(row.fact.visited_at, house.zone)
    return day if day is not None and day >= since else None


# --- what an alert is worth -----------------------------------------------------------------


def alert_is_right(house: House, share: float) -> float:
    """Of rooms with an alert, which share is infested where ``share`` of all rooms is (0 to 1).

    Source: the field trial above, by Bayes' rule; nobody measured it in hotels.
    """
    figures = house.rules.figures
    true = figures.dog_detection.value * share
    false = figures.dog_false_positive.value * (1 - share)
    return true / (true + false) if true + false else 0.0


def silence_is_right(house: House, share: float) -> float:
    """Of rooms without an alert, which share is not infested; as above."""
    figures = house.rules.figures
    missed = (1 - figures.dog_detection.value) * share
    quiet = (1 - figures.dog_false_positive.value) * (1 - share)
    return quiet / (quiet + missed) if quiet + missed else 0.0
