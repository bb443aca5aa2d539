"""A round for papers and calendars: which one is meant, and its calendar written."""

from __future__ import annotations

from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.rounds import draft_round, wish_for
from hotelwatch.core.days import month_bounds
from hotelwatch.core.problems import Refusal
from hotelwatch.core.rounds.day_changes import ever_published_ahead
from hotelwatch.core.rounds.team_days import (
    Round,
    drafted_round,
    published_ahead,
    published_round,
)


def round_of_month(hotel: OpenHotel, month: str) -> Round:
    """What is published for a month given as YYYY-MM. Refusal("no_such_month")."""
    try:
        first, last = month_bounds(month)
    except ValueError as error:
        raise Refusal("no_such_month", month=month) from error
    return published_round(hotel.house, first, last)


def round_ahead(hotel: OpenHotel) -> Round:
    """What is published from today on. Refusal("nothing_published_ahead")."""
    span = published_ahead(hotel.house, hotel.today())
    if span is None:
        raise Refusal("nothing_published_ahead")
    return published_round(hotel.house, *span)


def calendar_ahead(hotel: OpenHotel) -> Round:
    """What is published from today on, with the days whose publication was taken back.

    A calendar may have had them, and is to be told. Refusal("nothing_published_ahead").
    """
    today = hotel.today()
    spans = (published_ahead(hotel.house, today), ever_published_ahead(hotel.house, today))
    days = [day for span in spans if span is not None for day in span]
    if not days:
        raise Refusal("nothing_published_ahead")
    return published_round(hotel.house, min(days), max(days))


def draft_ahead(hotel: OpenHotel, days: int = 0) -> Round:
    """A draft from today on, over the house's usual span unless days are given.

    Refusal("no_team").
    """
    if not hotel.house.teams:
        raise Refusal("no_team")
    return drafted_round(draft_round(hotel.house, hotel.occupancy(), wish_for(hotel, days)))


def write_calendar(hotel: OpenHotel, told: Round, target: Path, *, team: str = "") -> None:
    """Write a round as an iCalendar file, of one team or of all.

    Raises Refusal as ``papers.round_calendar.write_round_calendar`` says.
    """
    from hotelwatch.papers.round_calendar import write_round_calendar

    write_round_calendar(hotel.house, told, target, made_at=hotel.now(), team=team)


def write_calendars(hotel: OpenHotel, told: Round, folder: Path) -> tuple[Path, ...]:
    """Write an iCalendar file for each team into a folder; the files.

    Raises Refusal as ``papers.round_calendar.write_team_calendars`` says.
    """
    from hotelwatch.papers.round_calendar import write_team_calendars

    return write_team_calendars(hotel.house, told, folder, made_at=hotel.now())
