"""A survey of the house: which rooms to look at so that it shows something, and what it shows.

A survey asks: had so many rooms at least so many insects, would it find one of them? Rooms
with a confirmed find are left out. All others count, also those that cannot be entered. Where
in a room insects mainly sit is not known but stays the same: a second look at the same places
finds less than one elsewhere would.

Sources: as in ``survey`` and ``sensitivity``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from random import Random

import numpy as np

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.cycles.cycle_ways import HEADBOARD, LOOKS, inside_of
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.hotel import Reckoning
from hotelwatch.core.odds.places import Parts
from hotelwatch.core.odds.sensitivity import chance_seen
from hotelwatch.core.odds.settings import Look
from hotelwatch.core.odds.surveys.survey import design_number
from hotelwatch.core.odds.surveys.survey_answers import Candidate, SurveyChoice, reaches
from hotelwatch.core.odds.surveys.survey_choice import (
    least_infested_by_weight,
    most_telling_first,
    rooms_until_enough,
    weighted_finds,
)
from hotelwatch.core.odds.surveys.survey_wish import (
    PlannedRoom,
    SurveyLook,
    SurveyOrder,
    SurveyPlan,
    SurveyQuestion,
    SurveyWish,
)
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.stays.openings import Occupancy

NOTICE = "notice_deep"
"""The figure that says how well a survey's look notices."""
LEAST_WEIGHT = 1e-9
"""A room whose odds are nought stays possible."""
MOST_TRIED = 256
"""A bound on the search only: of more infested rooms nobody needs a survey."""
MOST_ROUNDS = 52
"""Whoever goes round more often than weekly for a year has long had new ones brought in."""
OPENS_COVERS = frozenset({SurveyLook.COVER, SurveyLook.FULL})
TAKES_HEADBOARDS = frozenset({SurveyLook.HEADBOARD, SurveyLook.FULL})


def surveyed_rooms(house: House, reckoning: Reckoning) -> tuple[list[RoomNo], int]:
    """Rooms of which a survey speaks, and how many have a confirmed find instead."""
    central = reckoning.of[Stance.CENTRAL].rooms
    known = [room for room in reckoning.records.plain if room in house.rooms]
    asked = [room for room in known if not central[room].is_found]
    return asked, len(known) - len(asked)


def infested_asked(question: SurveyQuestion, rooms: int) -> int:
    """How many infested rooms a question is about, in a hotel of so many; at most all."""
    if question.number is None:
        return design_number(rooms, question.share)
    return min(question.number, rooms)


def plan_survey(
    house: House, occupancy: Occupancy, reckoning: Reckoning, wish: SurveyWish
) -> SurveyPlan | None:
    """The rooms to look at; None where the hotel has no room of which something is asked.

    Rooms come in the order that the cautious stance gives them, until they are enough in
    every stance: by odds another one may hold other rooms to be the likelier ones.
    """
    rooms, found = surveyed_rooms(house, reckoning)
    if not rooms:
        return None
    views = _views(house, occupancy, reckoning, wish, rooms)
    hotel = _Hotel(views, reckoning, wish)
    infested = infested_asked(wish.question, len(rooms))
    choice = _choose(hotel, wish, infested)
    chosen = tuple(
        _planned(house, reckoning, views[room], hotel.seen_of(room)) for room in choice.rooms
    )
    taken = frozenset(choice.rooms)
    finds = {
        stance: weighted_finds(hotel.candidates(stance, taken), infested=infested)
        for stance in Stance
    }
    census = {
        stance: weighted_finds(hotel.candidates(stance, frozenset(rooms)), infested=infested)
        for stance in Stance
    }
    can_be_reached = reaches(min(census.values()), wish.question.confidence)
    return SurveyPlan(
        wish=wish,
        rooms=len(rooms),
        found=found,
        infested=infested,
        chosen=chosen,
        minutes=math.ceil(choice.minutes),
        closed=sum(view.on is None for view in views.values()),
        unseen=sum(not any(view.seen) for view in views.values()),
        finds=finds,
        alike={
            stance: weighted_finds(
                hotel.candidates(stance, taken, by_odds=False), infested=infested
            )
            for stance in Stance
        },
        is_reached=choice.is_reached,
        is_cut_short=choice.is_cut_short,
        census=census,
        can_be_reached=can_be_reached,
        rounds=1 if can_be_reached else _rounds(hotel, wish, infested),
        least_infested=_least_infested(hotel, wish, taken, choice),
    )


# --- rooms as the survey would see them ------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _View:
    """A room: what the look shows of it, what it takes, when it can be entered first."""

    room: RoomNo
    seen: Parts
    shares: Parts
    minutes: float
    on: date | None


def _views(
    house: House,
    occupancy: Occupancy,
    reckoning: Reckoning,
    wish: SurveyWish,
    rooms: list[RoomNo],
) -> dict[RoomNo, _View]:
    found: dict[RoomNo, _View] = {}
    for room in rooms:
        openings = occupancy.openings(room, wish.first_on, wish.days)
        usual = reckoning.looks[room]
        found[room] = _View(
            room=room,
            seen=_shown(reckoning, usual.seen, wish.look),
            shares=reckoning.records.plain[room].shares,
            minutes=usual.minutes + _extra_minutes(house, reckoning, room, wish.look),
            on=openings[0].day if openings else None,
        )
    return found


def _shown(reckoning: Reckoning, usual: Parts, look: SurveyLook) -> Parts:
    """What the sheet's look shows, and what opening covers and taking headboards off adds."""
    if look is SurveyLook.SHEET or not any(usual):
        return usual
    kind = LOOKS[look in OPENS_COVERS, look in TAKES_HEADBOARDS]
    more = reckoning.rules.looks[kind].seen
    return tuple(max(both) for both in zip(usual, more, strict=True))


def _extra_minutes(house: House, reckoning: Reckoning, room: RoomNo, look: SurveyLook) -> float:
    figures, kinds = reckoning.rules.figures, house.rules.bed_kinds
    beds = [(kinds[bed.kind], bed.encased) for bed in house.beds_of(room)]
    minutes = 0.0
    if look in OPENS_COVERS:
        covers = sum(
            bool(inside_of(reckoning.rules, kind, encased=encased)) for kind, encased in beds
        )
        minutes += covers * figures.extra_minutes_cover.value
    if look in TAKES_HEADBOARDS:
        boards = sum(any(place.code == HEADBOARD for place in kind.places) for kind, _ in beds)
        minutes += boards * figures.extra_minutes_headboard.value
    return minutes


class _Hotel:
    """The rooms with their chances; like rooms are reckoned once."""

    def __init__(
        self, views: Mapping[RoomNo, _View], reckoning: Reckoning, wish: SurveyWish
    ) -> None:
        self.views = views
        self._reckoning = reckoning
        self._wish = wish
        self._missed = cache(self._missed_of)
        self._seen_by_kind = cache(self._seen_of_kind)

    def candidates(
        self,
        stance: Stance,
        open_rooms: frozenset[RoomNo],
        *,
        times: int = 1,
        by_odds: bool = True,
    ) -> list[Candidate]:
        """Every room, as one stance has it; each looked at so many times.

        Where rooms are drawn by lot, or not ``by_odds``, each is as likely as any other.
        """
        by_odds = by_odds and self._wish.order is SurveyOrder.BY_ODDS
        rooms = self._reckoning.of[stance].rooms
        return [
            Candidate(
                room,
                self._seen(stance, view, times),
                view.minutes,
                max(rooms[room].chance, LEAST_WEIGHT) if by_odds else 1.0,
                room in open_rooms,
            )
            for room, view in self.views.items()
        ]

    def seen_of(self, room: RoomNo) -> dict[Stance, float]:
        """The chance that one look sees what is asked about, in every stance."""
        return {stance: self._seen(stance, self.views[room], 1) for stance in Stance}

    def _seen(self, stance: Stance, view: _View, times: int) -> float:
        return self._seen_by_kind(stance, view.seen, view.shares, times)

    def _seen_of_kind(self, stance: Stance, seen: Parts, shares: Parts, times: int) -> float:
        if not any(seen):
            return 0.0
        missed = self._missed(stance, seen, shares)
        return float(1.0 - np.asarray(shares) @ missed**times)

    def _missed_of(self, stance: Stance, seen: Parts, shares: Parts) -> Floats:
        """The chance that one look misses, by main place."""
        setting = self._reckoning.of[stance].setting
        look = Look(seen, setting.notice[NOTICE])
        insects = [float(self._wish.question.insects)]
        return 1.0 - chance_seen(setting, look, insects, shares=shares)[:, 0]


def _planned(
    house: House, reckoning: Reckoning, view: _View, seen: Mapping[Stance, float]
) -> PlannedRoom:
    on = view.on
    assert on is not None  # only rooms that can be entered are chosen
    described = house.rooms[view.room]
    return PlannedRoom(
        room=view.room,
        floor=described.floor,
        wing=described.wing,
        on=on,
        minutes=math.ceil(view.minutes),
        seen=seen,
        chance={stance: odds.rooms[view.room].chance for stance, odds in reckoning.of.items()},
    )


# --- how many ----------------------------------------------------------------------------------


def _choose(hotel: _Hotel, wish: SurveyWish, infested: int) -> SurveyChoice:
    """The longest of the stances' choices, all in the same order."""
    can_enter = frozenset(room for room, view in hotel.views.items() if view.on is not None)
    cautious = hotel.candidates(Stance.CAUTIOUS, can_enter)
    if wish.order is SurveyOrder.BY_ODDS:
        in_order = [room.room for room in most_telling_first(cautious, infested=infested)]
    else:
        in_order = sorted(hotel.views)
        Random(wish.draw).shuffle(in_order)
    places = {room: place for place, room in enumerate(in_order)}
    choices = [
        rooms_until_enough(
            sorted(hotel.candidates(stance, can_enter), key=lambda room: places[room.room]),
            infested=infested,
            confidence=wish.question.confidence,
            minutes_at_most=math.inf if wish.minutes_at_most is None else wish.minutes_at_most,
        )
        for stance in Stance
    ]
    longest = max(choices, key=lambda choice: len(choice.rooms))
    return replace(
        longest,
        is_reached=all(choice.is_reached for choice in choices),
        is_cut_short=any(choice.is_cut_short for choice in choices),
    )


def _least_infested(
    hotel: _Hotel, wish: SurveyWish, taken: frozenset[RoomNo], choice: SurveyChoice
) -> int | None:
    if choice.is_reached:
        return choice.infested
    most = min(len(hotel.views), MOST_TRIED)
    confidence = wish.question.confidence
    rooms = hotel.candidates(Stance.CAUTIOUS, taken)
    least = least_infested_by_weight(rooms, confidence=confidence, most=most)

    def suffices(infested: int) -> bool:
        return all(
            reaches(weighted_finds(hotel.candidates(stance, taken), infested=infested), confidence)
            for stance in Stance
        )

    # Mostly the cautious stance decides; by odds another one may need some more.
    while least is not None and not suffices(least):
        least = least + 1 if least < most else None
    return least


def _rounds(hotel: _Hotel, wish: SurveyWish, infested: int) -> int | None:
    """Rounds through every room, each time looking at the same places."""
    everywhere = frozenset(hotel.views)

    def suffice(stance: Stance, rounds: int) -> bool:
        looked = hotel.candidates(stance, everywhere, times=rounds)
        return reaches(weighted_finds(looked, infested=infested), wish.question.confidence)

    enough = 1
    for stance in Stance:
        short = enough - 1
        while not suffice(stance, enough):
            if enough >= MOST_ROUNDS:
                return None
            short, enough = enough, min(2 * enough, MOST_ROUNDS)
        while enough - short > 1:
            middle = (short + enough) // 2
            short, enough = (short, middle) if suffice(stance, middle) else (middle, enough)
    return enough
