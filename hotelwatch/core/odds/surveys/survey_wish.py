"""A survey of the house itself: what is asked, how one would look, and what comes of it.

Plain values: no arrays, no arithmetic. Each chance stands in all three stances; a survey
reaches what was asked only if it does in each, so that mostly the cautious one decides.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds.surveys.survey_answers import SurveyShown
from hotelwatch.core.odds_figures import ByStance, OddsRules, Stance


class SurveyLook(StrEnum):
    """How the rooms of a survey are looked at."""

    SHEET = "sheet"
    """As each room's routine sheet asks."""
    COVER = "cover"
    """With dust covers opened besides."""
    HEADBOARD = "headboard"
    """With headboards taken off besides."""
    FULL = "full"
    """Both."""


class SurveyOrder(StrEnum):
    """Which rooms come first, and what is taken of where infested ones are."""

    BY_ODDS = "odds"
    """Those that tell most a minute, infested rooms being as likely as today's odds say."""
    AT_RANDOM = "lot"
    """Drawn by lot, infested rooms being any as likely as others."""


@dataclass(frozen=True, slots=True)
class SurveyQuestion:
    """What a survey is to find: so many infested rooms, each with at least so many insects."""

    insects: int
    confidence: float
    """How likely, 0 to 1, at least one of them is to be found."""
    share: float
    """Of the rooms, infested."""
    number: int | None = None
    """Of infested rooms, in place of the share."""


def usual_question(rules: OddsRules) -> SurveyQuestion:
    """What a survey asks unless told otherwise."""
    f = rules.figures
    return SurveyQuestion(
        insects=int(f.survey_insects.value),
        confidence=f.survey_confidence.value,
        share=f.survey_prevalence.value,
    )


@dataclass(frozen=True, slots=True)
class SurveyWish:
    """What one asks, and how and when one would look."""

    question: SurveyQuestion
    first_on: date
    days: int
    """In which the rooms are to be entered, from ``first_on`` on."""
    look: SurveyLook = SurveyLook.SHEET
    order: SurveyOrder = SurveyOrder.BY_ODDS
    minutes_at_most: int | None = None
    """Of a team."""
    draw: int = 0
    """Where the lot begins: the same number draws the same rooms."""


@dataclass(frozen=True, slots=True)
class PlannedRoom:
    """A room that a survey looks at."""

    room: RoomNo
    floor: str
    wing: str
    on: date
    """The first of the days on which it can be entered."""
    minutes: int
    seen: ByStance
    """Chance that the look sees as many insects as the question says."""
    chance: ByStance
    """That something is there and was missed, by today's odds."""


@dataclass(frozen=True, slots=True)
class SurveyPlan:
    """Which rooms a survey looks at, and what they would show if nothing is found in them."""

    wish: SurveyWish
    rooms: int
    """Of the hotel, without those with a confirmed find."""
    found: int
    """Rooms with a confirmed find, not treated since; nothing is asked of them."""
    infested: int
    """So many infested rooms, or more, are to be found."""
    chosen: tuple[PlannedRoom, ...]
    """In the order in which they were taken."""
    minutes: int
    """Of a team, for all of them."""
    closed: int
    """Rooms that cannot be entered on these days."""
    unseen: int
    """Rooms of which the look sees nothing: no bed is on the roster."""
    finds: ByStance
    """Chance that at least one infested room is found."""
    alike: ByStance
    """The same were every room as likely infested as any other."""
    is_reached: bool
    """Whether what the order takes of likely rooms is enough in every stance."""
    is_cut_short: bool
    """Whether it is not, and more rooms could be entered but for the minutes."""
    census: ByStance
    """The same chance with a look at every room of the hotel, were all of them open."""
    can_be_reached: bool
    """Whether that is enough in every stance."""
    rounds: int | None
    """Rounds through every room that are enough in every stance; None if too many."""
    least_infested: int | None
    """From so many infested rooms on the chosen ones are enough; None if never."""


@dataclass(frozen=True, slots=True)
class SignMet:
    """Something found or told in a room, which was not judged to be something else."""

    room: RoomNo
    on: date
    is_judged: bool
    """Whether it was judged to be bed bugs; else nobody knows yet."""


@dataclass(frozen=True, slots=True)
class LookedRoom:
    """A room that was looked at, all looks at it put together."""

    room: RoomNo
    floor: str
    looks: int
    """Visits, and traps read empty."""
    last_on: date
    seen: ByStance
    """Chance that one of them at least saw as many insects as the question says."""


@dataclass(frozen=True)
class SpanShown:
    """What the looks of some days show, taken as one survey."""

    question: SurveyQuestion
    first_on: date
    last_on: date
    rooms: int
    """Of the hotel, without those with a confirmed find."""
    found: int
    infested: int
    looked: tuple[LookedRoom, ...]
    """By room."""
    signs: tuple[SignMet, ...]
    """Of these days, by day. If there is one, this was no survey in which nothing was found."""
    of: Mapping[Stance, SurveyShown]
    """Empty where something was found or told, or there is no room."""
