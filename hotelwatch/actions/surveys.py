"""Surveys of the house: what one would take, and what the looks of some days show.

Their arrays take time to load, so nothing here is imported at the start.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hotelwatch.actions.odds import OddsView
from hotelwatch.core.odds.surveys.survey_wish import (
    SpanShown,
    SurveyPlan,
    SurveyQuestion,
    SurveyWish,
)
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, slots=True)
class PlanAsked:
    """A survey that somebody thinks of."""

    view: OddsView
    occupancy: Occupancy
    wish: SurveyWish


@dataclass(frozen=True, slots=True)
class SpanAsked:
    """Days whose looks are taken as one survey."""

    view: OddsView
    question: SurveyQuestion
    first_on: date
    last_on: date


def survey_planned(asked: PlanAsked) -> SurveyPlan | None:
    """Which rooms to look at; None where the hotel has no room to ask about."""
    from hotelwatch.core.odds.surveys.hotel_survey import plan_survey

    return plan_survey(asked.view.house, asked.occupancy, asked.view.reckoning, asked.wish)


def survey_shown(asked: SpanAsked) -> SpanShown:
    """What the looks of these days show."""
    from hotelwatch.core.odds.surveys.hotel_survey_shown import shown_by_looks

    view = asked.view
    return shown_by_looks(
        view.house,
        view.reckoning,
        asked.question,
        first_on=asked.first_on,
        last_on=asked.last_on,
    )
