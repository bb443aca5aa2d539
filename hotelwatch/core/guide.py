"""The way through a first day: which step is next, told from the record where that can be."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass

from hotelwatch.core.choice_facts import ProfileChosen
from hotelwatch.core.facts import BedChecked, RoundPublished, StaysImported
from hotelwatch.core.house import House


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way: its code, and the page and tab on which it is taken."""

    code: str
    page: str
    tab: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """Steps in their order; its last one done, the way is over."""

    code: str
    steps: tuple[Step, ...]


MY_HOTEL = Way(
    "my_hotel",
    (
        Step("roster", "load_roster"),
        Step("bookings", "load_bookings"),
        Step("local_rules", "rules", "sets"),
        Step("team", "rounds", "teams"),
        Step("round", "rounds", "plan"),
        Step("sheet", "today"),
        Step("first_check", "checks", "record"),
    ),
)
INVENTED = Way(
    "invented",
    (
        Step("see_today", "today"),
        Step("see_house", "building"),
        Step("record_check", "checks", "record"),
        Step("undo_it", "checks"),
        Step("see_case", "cases"),
        Step("see_rounds", "rounds", "plan"),
        Step("see_odds", "odds"),
    ),
)


def is_told_by_record(step: Step) -> bool:
    """Whether the record shows that a step was taken; else a person says so."""
    return step.code in _TOLD


def is_done(step: Step, house: House, passed: Collection[str], *, since: int = 0) -> bool:
    """Whether a step was taken, or passed by; of what came after entry ``since`` where it matters.

    ``passed`` are codes of steps that the person went on from.
    """
    told = _TOLD.get(step.code)
    return step.code in passed or (told is not None and told(house, since))


def next_step(way: Way, house: House, passed: Collection[str], *, since: int = 0) -> Step | None:
    """The first step not taken yet; None at the end of the way."""
    steps = (step for step in way.steps if not is_done(step, house, passed, since=since))
    return next(steps, None)


def _has_action(action: str) -> Callable[[House, int], bool]:
    def told(house: House, since: int) -> bool:
        entries = house.entries.items()
        return any(number > since and entry.action == action for number, entry in entries)

    return told


_TOLD: dict[str, Callable[[House, int], bool]] = {
    "roster": lambda house, _since: bool(house.rooms),
    "bookings": lambda house, _since: bool(house.all_of(StaysImported)),
    "local_rules": lambda house, _since: bool(house.all_of(ProfileChosen)),
    "team": lambda house, _since: bool(house.teams),
    "round": lambda house, _since: bool(house.all_of(RoundPublished)),
    "first_check": lambda house, _since: bool(house.all_of(BedChecked)),
    "record_check": _has_action("record_check"),
    "undo_it": _has_action("undo"),
}
