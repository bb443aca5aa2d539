"""Safety text: lifting, sharps, heat, chemicals, bites. Never advice to treat oneself."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hotelwatch.core.checks.lifting import Screened
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m


@dataclass(frozen=True, slots=True)
class Caution:
    """A subject with its short line for paper and its sentences for the window."""

    code: str
    short: str
    long: tuple[str, ...]


CAUTIONS = (
    Caution(
        "lifting",
        m(
            "Two people stand a mattress or a base, by hand only, both clear of where it may"
            " fall. Too heavy or no second person: leave it and write why."
        ),
        (
            m("Two people stand a mattress or a base, with their hands only."),
            m("Agree on the word before lifting; bend the knees, keep the load close."),
            m("No hand, foot or head where it would land if it fell; prop nothing with a body."),
            m(
                "If it is too heavy, stuck or fixed, or if there is no second person, leave it:"
                " not looked at, with its reason, is a good record."
            ),
            m("Your hotel's and your country's rules on lifting come before this text."),
            m(
                "The revised NIOSH lifting equation (Waters, Putz-Anderson, Garg, publication"
                " 94-110) can screen such a lift; it was not made for two people, for tight"
                " spaces or for tilting, and does not tell that a lift is safe."
            ),
            m(
                "Weights of beds are assumptions until you weigh your own: a scale under one"
                " edge shows half of what a mattress or a base weighs."
            ),
        ),
    ),
    Caution(
        "sharps",
        m("Gloves on: staples, springs and needles may stick out. Look before you reach."),
        (
            m("Dust covers are held by staples, and springs may have broken through: wear gloves."),
            m("Look before you reach; light goes in first, the hand later, bare fingers never."),
            m("A needle or blade is not picked up by hand: stop, and follow the hotel's rule."),
        ),
    ),
    Caution(
        "heat",
        m("Heat is the work of a licensed firm; nobody heats a room on their own."),
        (
            m("Heat treatment is the work of a licensed firm with its own gear and its own watch."),
            m("Heaters, dryers or steamers brought in on one's own can burn people and buildings."),
            m("After heat, nobody enters before the time that the firm gave."),
        ),
    ),
    Caution(
        "chemicals",
        m(
            "Only licensed professionals apply chemicals. Nobody enters a treated room before"
            " its re-entry time."
        ),
        (
            m("Only a licensed professional applies chemicals, as their label says."),
            m("Nobody enters a treated room before the re-entry time in the firm's report."),
            m("This program names no product, no dose and no home remedy."),
        ),
    ),
    Caution(
        "bites",
        m("Anyone with bites or a rash who is worried should see a doctor."),
        (
            m("Bites alone do not show what bit; some people show no mark at all."),
            m("Whoever is worried about bites or a rash should see a doctor."),
            m("This program gives no medical advice, and keeps no name and no health detail."),
        ),
    ),
)


SCREENED = {
    "stand_mattress": m("standing a mattress of about {kg} kg (assumed)"),
    "stand_base": m("standing a base of about {kg} kg (assumed)"),
    "tilt_sofa": m("tilting a sofa of about {kg} kg (assumed)"),
    "lift_crib_mattress": m("lifting a crib's mattress of about {kg} kg (assumed)"),
}


def caution_text(code: str) -> str:
    """The short line of a subject: lifting, sharps, heat, chemicals or bites."""
    return _(_caution(code).short)


def caution_sentences(code: str) -> tuple[str, ...]:
    """Everything that is said about a subject."""
    return tuple(_(sentence) for sentence in _caution(code).long)


def lifting_text(lift: Screened) -> str:
    """Why a lift takes two people, by the equation, and that this screens only.

    For a lift that is over one person's limit or of unknown weight.
    """
    if math.isinf(lift.alone):
        said = _("Two people: nobody knows what this bed weighs.")
    else:
        said = _(
            "Two people: {lift} has a lifting index of {alone} for one, {shared} for each of"
            " two; at most 1.0 is wanted."
        ).format(
            lift=_(SCREENED[lift.move]).format(kg=round(lift.weight_kg)),
            alone=round(lift.alone, 1),
            shared=round(lift.shared, 1),
        )
    if lift.is_over_for_two and not math.isinf(lift.shared):
        said += " " + _("If yours weighs as much, call a third person or leave it.")
    return said + " " + _("Screening only (NIOSH 94-110); local rules on lifting go first.")


def limit_text() -> str:
    """What no record of looking may ever claim."""
    return _("A clean look does not prove a clean room.")


def _caution(code: str) -> Caution:
    return next(caution for caution in CAUTIONS if caution.code == code)
