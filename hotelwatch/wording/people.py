"""People, roles and what is refused, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import tzinfo

from hotelwatch.core.people import RefusedRow
from hotelwatch.wording.action_names import ACTIONS
from hotelwatch.wording.dates import clock_text, short_day_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.language import marked as m

SEE = "see"
"""The deed of a refusal to show something."""
STAFF_ROLES = {
    "executive_housekeeper": m("Executive housekeeper"),
    "supervisor": m("Supervisor"),
    "housekeeper": m("Housekeeper"),
    "front_desk_clerk": m("Front desk"),
    "engineer": m("Engineer"),
    "hotel_manager": m("Manager, reads only"),
}
TRAINING_TOPICS = {
    "training_signs": m("Telling signs apart"),
    "training_looking": m("How a bed is looked at"),
    "training_response": m("What to do at a sighting"),
    "training_lifting": m("Lifting in twos, with aids"),
}
WHAT_ROLES_DO = {
    "executive_housekeeper": m(
        "Everything: house rules, closing a month, and who works here in which role."
    ),
    "supervisor": m(
        "Rounds, checks, cases and what is released; not the house rules, nor who works here."
    ),
    "housekeeper": m(
        "Records checks, logs sightings, reads traps. Sees cases; gives no room back."
    ),
    "front_desk_clerk": m(
        "Front desk's page, bookings, moving guests, logging what is reported. Never sees the"
        " details of a case."
    ),
    "engineer": m(
        "Rooms, beds and furniture, firms and their treatments, traps. Gives no room back."
    ),
    "hotel_manager": m("Sees almost everything and writes nothing down."),
}
SIGHTS = {
    "today": m("The day's work"),
    "rounds": m("Rounds and teams"),
    "checks": m("Recording checks"),
    "house": m("Rooms and beds"),
    "cases": m("Cases and their details"),
    "desk": m("Front desk's page"),
    "odds": m("How sure one may be"),
    "trials": m("Where dummies of blind trials lie"),
    "month": m("The month's book"),
    "rules": m("House rules"),
    "record": m("The record and copies of the file"),
    "people": m("Who works here"),
}
WHY_REFUSED = {
    "role": m("Not in this role"),
    "nobody": m("No PIN was given"),
    "wrong_pin": m("Wrong PIN"),
}
SAYS = {
    "may": m("By itself"),
    "with": m("Beside what it may write"),
    "own": m("About oneself"),
    "-": m("Not at all"),
}

REFUSED_PEOPLE: dict[str, tuple[str, str]] = {
    "training_needs_name": (
        m("The training has nobody's name."),
        m("Say who was trained."),
    ),
    "training_needs_language": (
        m("In which language {person} was trained is missing."),
        m("Say it: a training counts in a language that the person understands."),
    ),
    "training_needs_trainer": (
        m("Who trained {person} is missing."),
        m("Say who did."),
    ),
    "nobody_at_desk": (
        m("Nobody sits at the desk; nothing was written down or shown."),
        m("Choose your name and give your PIN first."),
    ),
    "role_may_not": (
        m("This is not for your role ({role}): {action}. Nothing of it was written down."),
        m("Who may do it: {roles}. That it was tried stands in the record."),
    ),
    "role_may_not_see": (
        m("This is not shown to your role ({role}): {sight}."),
        m("Who may see it: {roles}. That it was tried stands in the record."),
    ),
    "not_ones_own_entry": (
        m("{by} wrote this down; nothing was changed."),
        m("Ask {by}, or somebody who may correct what others wrote: {roles}."),
    ),
    "page_not_shown": (
        m("This page is not for your role."),
        m("Ask somebody whose role shows it."),
    ),
    "wrong_pin": (
        m("This is not the PIN of {person}."),
        m("Try again. Every wrong PIN stands in the record."),
    ),
    "pin_wait": (
        m("Too many wrong PINs for {person}."),
        m("Wait until {clock}, then try again."),
    ),
    "pin_not_digits": (
        m("A PIN has digits only."),
        m("Type at least {least} digits."),
    ),
    "pin_too_short": (
        m("This PIN is too short."),
        m("Type at least {least} digits."),
    ),
    "pin_too_long": (
        m("This PIN is too long."),
        m("Type at most {most} digits."),
    ),
    "pin_too_plain": (
        m("Anybody would guess this PIN."),
        m("Do not use one digit again and again, nor digits in a row as 1234."),
    ),
    "pins_differ": (
        m("The two PINs are not the same."),
        m("Type the new PIN once more in both fields."),
    ),
    "person_needs_name": (
        m("The person has no name."),
        m("Type the name that is to stand beside what this person writes down."),
    ),
    "person_needs_pin": (
        m("{person} has no PIN."),
        m("Let {person} type one."),
    ),
    "person_needs_role": (
        m("{person} is not known yet, and no role was given."),
        m("Say which one: --role."),
    ),
    "person_known_otherwise": (
        m("{other} is written down already; {person} would be taken for the same."),
        m("Use the name as it stands, or one that differs by more."),
    ),
    "unknown_person": (
        m("Nobody called {person} works here."),
        m("Look at the name among the people, in House rules."),
    ),
    "first_is_executive": (
        m("The first person must be an executive housekeeper."),
        m("Without one nobody could add the others. Begin with yourself or with your head."),
    ),
    "last_executive": (
        m("Nobody would be left who is an executive housekeeper."),
        m("Make somebody else an executive housekeeper first."),
    ),
}


def roles_text(codes: str) -> str:
    """Roles by their codes, with commas between them, as a list in words."""
    return join([_(STAFF_ROLES[code]) for code in codes.split(",") if code]) or _("nobody")


def for_others_text(told: Mapping[str, Sequence[str]]) -> str:
    """Deeds by the codes of the roles that may do them, as one line; empty for none.

    "Not for your role: Judge (Executive housekeeper and Supervisor)."
    """
    if not told:
        return ""
    parts = [
        _("{deeds} ({roles})").format(deeds=join(list(deeds)), roles=roles_text(roles))
        for roles, deeds in told.items()
    ]
    return _("Not for your role: {parts}.").format(parts="; ".join(parts))


def role_text(code: str) -> str:
    """A role by its code; that there was none."""
    return _(STAFF_ROLES[code]) if code in STAFF_ROLES else _("no role")


def sight_text(code: str) -> str:
    """What one may see, by its code."""
    return _(SIGHTS[code]) if code in SIGHTS else code


def role_does(code: str) -> str:
    """What a role may do, in a sentence or two."""
    return _(WHAT_ROLES_DO[code])


def refused_who(row: RefusedRow) -> str:
    """Who was refused, in which role."""
    told = row.refused
    if not told.person:
        return _("nobody")
    return _("{person} ({role})").format(person=told.person, role=role_text(told.role))


def refused_why(row: RefusedRow) -> str:
    """Why it was refused."""
    return _(WHY_REFUSED[row.refused.why.value])


def refused_what(row: RefusedRow) -> str:
    """What was tried: an action by its name, or what was to be seen."""
    told = row.refused
    if told.deed == SEE and told.kinds:
        return _("Looking at: {sight}").format(sight=sight_text(told.kinds[0]))
    return _(ACTIONS[told.deed]) if told.deed in ACTIONS else told.deed


def refused_when(row: RefusedRow, zone: tzinfo) -> str:
    """When it was refused, by the hotel's clock, as "Sun 15 Feb, 10:00"."""
    day = short_day_text(row.at.astimezone(zone).date())
    return _("{day}, {clock}").format(day=day, clock=clock_text(row.at, zone))
