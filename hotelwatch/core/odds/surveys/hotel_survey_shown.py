"""What the looks of some days show of the house, taken together as one survey.

Several looks at a room are put together place by place: insects sit mainly in one place, and
a second look at the same places finds less than one elsewhere would. It is supposed that a
room had at least so many insects on each of these days.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.evidence import PlainRecord
from hotelwatch.core.odds.hotel import Reckoning
from hotelwatch.core.odds.sensitivity import chance_seen
from hotelwatch.core.odds.settings import Look, Setting
from hotelwatch.core.odds.surveys.hotel_survey import infested_asked, surveyed_rooms
from hotelwatch.core.odds.surveys.survey_answers import Looked, SurveyShown
from hotelwatch.core.odds.surveys.survey_shown import what_it_shows
from hotelwatch.core.odds.surveys.survey_wish import LookedRoom, SignMet, SpanShown, SurveyQuestion
from hotelwatch.core.odds_figures import Stance


def shown_by_looks(
    house: House,
    reckoning: Reckoning,
    question: SurveyQuestion,
    *,
    first_on: date,
    last_on: date,
) -> SpanShown:
    """What the looks from ``first_on`` to ``last_on`` show, if nothing was found or told."""
    rooms, found = surveyed_rooms(house, reckoning)
    span = _Span(reckoning, first_on, last_on)
    looked = tuple(
        row for room in sorted(rooms) if (row := _looked(house, span, room, question)) is not None
    )
    signs = tuple(sorted(span.signs(), key=lambda sign: (sign.on, sign.room)))
    infested = infested_asked(question, len(rooms)) if rooms else 0
    return SpanShown(
        question=question,
        first_on=first_on,
        last_on=last_on,
        rooms=len(rooms),
        found=found,
        infested=infested,
        looked=looked,
        signs=signs,
        of={}
        if signs or not rooms
        else {
            stance: _shown(looked, question, stance, rooms=len(rooms), infested=infested)
            for stance in Stance
        },
    )


def _shown(
    looked: tuple[LookedRoom, ...],
    question: SurveyQuestion,
    stance: Stance,
    *,
    rooms: int,
    infested: int,
) -> SurveyShown:
    return what_it_shows(
        [Looked(row.room, row.seen[stance]) for row in looked],
        rooms=rooms,
        infested=infested,
        insects=question.insects,
        confidence=question.confidence,
    )


@dataclass(frozen=True, slots=True)
class _Span:
    """The record of some days."""

    reckoning: Reckoning
    first_on: date
    last_on: date

    def has(self, column: int) -> bool:
        """Whether a day of the record lies in the span."""
        return self.first_on <= self.reckoning.records.day_of(column) <= self.last_on

    def looks(self, plain: PlainRecord, setting: Setting) -> Iterator[tuple[int, Look, float]]:
        """Looks at a room in which nothing was found: day, look, and the part that counts."""
        for visit in plain.visits:
            if self.has(visit.day) and not visit.has_find and any(visit.seen):
                yield visit.day, Look(visit.seen, setting.notice[visit.notice]), 1.0
        traps = setting.look(self.reckoning.rules.looks["traps"])
        for day, share in plain.traps:
            if self.has(day):
                yield day, traps, share

    def signs(self) -> Iterator[SignMet]:
        """What was found or told in any room; of one room and day once."""
        for room, plain in self.reckoning.records.plain.items():
            met = {day: is_judged for day, _weight, is_judged, _entry in plain.signs}
            for visit in plain.visits:
                if visit.has_find:
                    met.setdefault(visit.day, False)
            for day, is_judged in met.items():
                if self.has(day):
                    yield SignMet(room, self.reckoning.records.day_of(day), is_judged)


def _looked(house: House, span: _Span, room: RoomNo, question: SurveyQuestion) -> LookedRoom | None:
    records = span.reckoning.records
    plain = records.plain[room]
    shares = np.asarray(plain.shares)
    seen: dict[Stance, float] = {}
    days: list[int] = []
    for stance, odds in span.reckoning.of.items():
        missed = np.ones(len(shares))
        days = []
        for day, look, times in span.looks(plain, odds.setting):
            found = chance_seen(odds.setting, look, [float(question.insects)], shares=plain.shares)
            missed *= (1.0 - found[:, 0]) ** times
            days.append(day)
        seen[stance] = float(1.0 - shares @ missed)
    if not days:
        return None
    return LookedRoom(room, house.rooms[room].floor, len(days), records.day_of(max(days)), seen)
