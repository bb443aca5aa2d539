"""Cautions in a line or two, as sheets and other papers have them; the lift that is heaviest.

All of this module is translated; see resources/translations.
"""

from __future__ import annotations

import math

from hotelwatch.core.checks.lifting import Screened
from hotelwatch.wording.dates import number_text
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label

SHORT = {
    "lifting": m(
        "Two people stand a mattress or a base, by hand only, both clear of where it may"
        " fall. Too heavy or no second person: leave it and write why."
    ),
    "sharps": m("Gloves on: staples, springs and needles may stick out. Look before you reach."),
    "heat": m("Heat is the work of a licensed firm; nobody heats a room on their own."),
    "chemicals": m(
        "Only licensed professionals apply chemicals. Nobody enters a treated room before"
        " its re-entry time."
    ),
    "bites": m("Anyone with bites or a rash who is worried should see a doctor."),
}


def lifting_text(lift: Screened) -> str:
    """Why a lift takes two people, by the equation, and that this screens only.

    For a lift that is over one person's limit or of unknown weight.
    """
    if math.isinf(lift.alone):
        said = [_("Two people: nobody knows what this bed weighs.")]
    else:
        told = _(
            "Two people. {lift}: about {kg} kg (assumed), a lifting index of {alone} for one and"
            " {shared} for each of two; at most 1.0 is wanted."
        )
        said = [
            told.format(
                lift=label(lift.move),
                kg=round(lift.weight_kg),
                alone=number_text(lift.alone),
                shared=number_text(lift.shared),
            )
        ]
    if lift.is_over_for_two and not math.isinf(lift.shared):
        said.append(_("If yours weighs as much, call a third person or leave it."))
    said.append(_("Screening only (NIOSH 94-110); local rules on lifting go first."))
    return " ".join(said)


def limit_text() -> str:
    """What no record of looking may ever claim."""
    return _("A clean look does not prove a clean room.")


def form_version_text(version: int) -> str:
    """Which list of places a check was made by; empty where nobody said."""
    return _("Form version {version}").format(version=version) if version else ""
