"""Safety text: lifting, sharps, heat, chemicals, bites. Never advice to treat oneself."""

from __future__ import annotations

from dataclasses import dataclass

from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.sheet_cautions import SHORT


@dataclass(frozen=True, slots=True)
class Caution:
    """A subject with its short line for paper and its sentences for the window."""

    code: str
    short: str
    long: tuple[str, ...]


CAUTIONS = (
    Caution(
        "lifting",
        SHORT["lifting"],
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
        SHORT["sharps"],
        (
            m("Dust covers are held by staples, and springs may have broken through: wear gloves."),
            m("Look before you reach; light goes in first, the hand later, bare fingers never."),
            m("A needle or blade is not picked up by hand: stop, and follow the hotel's rule."),
        ),
    ),
    Caution(
        "heat",
        SHORT["heat"],
        (
            m("Heat treatment is the work of a licensed firm with its own gear and its own watch."),
            m("Heaters, dryers or steamers brought in on one's own can burn people and buildings."),
            m("After heat, nobody enters before the time that the firm gave."),
        ),
    ),
    Caution(
        "chemicals",
        SHORT["chemicals"],
        (
            m("Only a licensed professional applies chemicals, as their label says."),
            m("Nobody enters a treated room before the re-entry time in the firm's report."),
            m("This program names no product, no dose and no home remedy."),
        ),
    ),
    Caution(
        "bites",
        SHORT["bites"],
        (
            m("Bites alone do not show what bit; some people show no mark at all."),
            m("Whoever is worried about bites or a rash should see a doctor."),
            m("This program gives no medical advice, and keeps no name and no health detail."),
        ),
    ),
)


def caution_text(code: str) -> str:
    """The short line of a subject: lifting, sharps, heat, chemicals or bites."""
    return _(_caution(code).short)


def caution_sentences(code: str) -> tuple[str, ...]:
    """Everything that is said about a subject."""
    return tuple(_(sentence) for sentence in _caution(code).long)


def _caution(code: str) -> Caution:
    return next(caution for caution in CAUTIONS if caution.code == code)


def no_blame_text() -> str:
    """What whoever logs a sighting should know first. Common practice, no source."""
    return _(
        "Whoever sees something writes it down, sure or not. Saying so is good work: nobody is"
        " blamed for it, and nobody is ranked by it."
    )


def photo_caution() -> str:
    """What a picture must not show."""
    return _("No people, no names in the picture; nothing that belongs to a guest.")
