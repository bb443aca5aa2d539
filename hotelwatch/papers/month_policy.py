"""The policy in force at a month's end, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from hotelwatch.core.facts import Risk, Scope
from hotelwatch.core.month.page_rows import InForce
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.people import role_text
from hotelwatch.wording.profiles import rule_lines


def policy_lines(figures: MonthFigures) -> Iterator[str]:
    """Local rules, own choices, cycles, own figures and roles, each in a line."""
    found = figures.pages.in_force
    for heading, text in rule_lines(found.profile, dict(found.choices)):
        if text:
            yield _("{heading}: {text}").format(heading=heading, text=text)
    yield _compared(found)
    yield from _cycles(found)
    for key, value, reason in found.own_figures:
        yield _("The hotel's own figure, {figure}: {value:g}. Reason: {reason}").format(
            figure=key.replace("_", " "), value=value, reason=reason or _("none given")
        )
    yield from _roles(found)


def _compared(found: InForce) -> str:
    if found.profile_checked_on is None:
        return _("Nobody has written down that these rules were compared with the law in force.")
    return _("Compared with the law in force by {person} on {day}.").format(
        person=found.profile_checked_by, day=day_text(found.profile_checked_on)
    )


def _cycles(found: InForce) -> Iterator[str]:
    if not found.cycles:
        yield _("No cycle was chosen: the usual one counts, which is an assumption.")
    for scope, which, days in found.cycles:
        where = label(Risk(which)) if scope == Scope.RISK else which or label(scope)
        yield ngettext(
            "Cycle chosen for {where}: {days} day.", "Cycle chosen for {where}: {days} days.", days
        ).format(where=where, days=days)


def _roles(found: InForce) -> Iterator[str]:
    if not found.roles:
        yield _("Nobody is described as working with the file: everything was open to everybody.")
    for person, role in found.roles:
        yield _("{person}: {role}").format(person=person, role=role_text(role))
