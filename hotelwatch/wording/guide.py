"""The way through a first day, step by step, in sentences."""

from __future__ import annotations

from hotelwatch.core.guide import Step, Way
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m

STEPS = {
    "roster": m("Load the roster: a table with a row for each room, its floor and its beds."),
    "bookings": m("Load the bookings. They tell when a room can be entered; names are never read."),
    "local_rules": m(
        "Choose the local rules that your hotel works under; leave it out, and the house rules "
        "stay in force. Have someone compare them with the law."
    ),
    "team": m("Describe a team: who looks, on which days, and how many minutes they have."),
    "round": m(
        "Under Plan, draft a round, look at it, and publish it: only then is there a sheet."
    ),
    "sheet": m("Print the sheets of today for the teams, or choose a day that has some."),
    "first_check": m("Record what the first team looked at, what it left out, and what it found."),
    "see_today": m(
        "This page says what must happen today. Press a number to see the rooms behind it."
    ),
    "see_house": m(
        "The house, floor by floor: how long ago each room was looked at, and who is whose "
        "neighbour. Choose a room to read its record."
    ),
    "record_check": m(
        "Choose a room on the left and record a check of it: L, N and F say of each place "
        "looked at, not looked at, found; Ctrl+Enter saves."
    ),
    "undo_it": m(
        "Take the check back: Ctrl+Z, or Undo in the menu Edit. It stays in the record and "
        "counts no more."
    ),
    "see_case": m(
        "A sign was reported here. Read what is next and by when, and which rooms the case "
        "wants looked at."
    ),
    "see_rounds": m(
        "The plan of the next weeks. Choose a room to see why it comes when it comes, or why "
        "not sooner."
    ),
    "see_odds": m(
        "How likely something was missed, and what that rests on. Nothing here says that a room "
        "is free of bed bugs."
    ),
}
NAMES = {"my_hotel": m("My hotel"), "invented": m("The invented hotel")}


def step_text(way: Way, step: Step) -> str:
    """Where one is on the way, and what to do: "3 of 7: …"."""
    return _("{number} of {all}: {what}").format(
        number=way.steps.index(step) + 1, all=len(way.steps), what=_(STEPS[step.code])
    )


def end_text(way: Way) -> str:
    """What is said when every step was taken."""
    if way.code == "invented":
        return _("That was the way round. You may go on trying, or start your own hotel.")
    return _("Your hotel is set up: the first check is in its record.")
