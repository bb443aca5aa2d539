"""The hotel's own rules: single choices, figures, public holidays."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.choice_facts import FigureChosen, PublicHoliday, RuleChosen
from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.odds_figures import OddsFigure
from hotelwatch.core.parameters import Figure
from hotelwatch.core.problems import Refusal
from hotelwatch.core.profile import CHOICES
from hotelwatch.core.records import Changes


def choose_rule(hotel: OpenHotel, rule: str, choice: str) -> Changes:
    """Choose a single rule over the local set; an empty choice takes it back.

    A rule of which several choices hold together names them with spaces between.
    Refusal("unknown_rule"), ("unknown_choice").
    """
    known = CHOICES.get(rule)
    if known is None:
        raise Refusal("unknown_rule", rule=rule, among=", ".join(CHOICES))
    parts = choice.split()
    if wrong := [part for part in parts if part not in known.values]:
        raise Refusal("unknown_choice", choice=wrong[0], rule=rule, among=", ".join(known.values))
    if len(parts) > 1 and not known.several:
        raise Refusal("unknown_choice", choice=choice, rule=rule, among=", ".join(known.values))
    said = " ".join(parts)

    def decide(house: House) -> Sequence[Fact]:
        return [] if house.choices.get(rule, "") == said else [RuleChosen(rule, said)]

    return hotel.record(decide, action="choose_rule")


def choose_figure(hotel: OpenHotel, key: str, value: float, *, reason: str) -> Changes:
    """Put the hotel's own value in place of a shipped figure, within what is plausible.

    Refusal("unknown_figure"), ("figure_out_of_range"), ("figure_needs_reason").
    """
    figure = _shipped(hotel, key)
    if not figure.low <= value <= figure.high:
        raise Refusal(
            "figure_out_of_range",
            figure=key,
            value=f"{value:g}",
            low=f"{figure.low:g}",
            high=f"{figure.high:g}",
            unit=figure.unit,
        )
    if not reason.strip():
        raise Refusal("figure_needs_reason")
    chosen = FigureChosen(key, value, reason)
    return hotel.record(lambda _house: [chosen], action="choose_figure")


def follow_shipped_figure(hotel: OpenHotel, key: str) -> Changes:
    """Take the hotel's own value of a figure back. Refusal("unknown_figure")."""
    figure = _shipped(hotel, key)

    def decide(house: House) -> Sequence[Fact]:
        if figure in (getattr(house.rules.figures, key, None), house.rules.odds.figure(key)):
            return []
        return [FigureChosen(key, figure.value, "", holds=False)]

    return hotel.record(decide, action="choose_figure")


def _shipped(hotel: OpenHotel, key: str) -> Figure | OddsFigure:
    """A figure as shipped, of the core or of the odds. Refusal("unknown_figure")."""
    shipped = hotel.house.shipped
    figure: Figure | None = getattr(shipped.figures, key, None)
    found = figure or shipped.odds.figure(key)
    if found is None:
        raise Refusal("unknown_figure", figure=key)
    return found


def note_holiday(hotel: OpenHotel, on: date, name: str, *, holds: bool = True) -> Changes:
    """Say that a day is a public holiday, or that it is none. Refusal("holiday_needs_name")."""
    if holds and not name.strip():
        raise Refusal("holiday_needs_name")
    return hotel.record(lambda _house: [PublicHoliday(on, name, holds)], action="note_holiday")
