"""What stands beside a drawn bed: what its hatching, its numbers and its signs mean."""

from __future__ import annotations

from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label


def hatching_text() -> str:
    """What close hatching means, and that nobody measured it."""
    return _("Denser hatching: likelier. Common practice, no measure.")


def optional_text() -> str:
    """What a number with cut corners means."""
    return _("Number with cut corners: only if in doubt.")


def one_way_text() -> str:
    """What is said of a place that may not go back as it was."""
    return _("May not go back as it was: decide first, write it down.")


def lift_text(*, people: int, move: str, caution: str) -> str:
    """What people beside an arrow mean: who lifts what, and its caution."""
    said = ngettext("{n} person: {step}.", "{n} people: {step}.", people)
    said = said.format(n=people, step=label(move))
    if not caution:
        return said
    return _("{said} {caution}.").format(said=said, caution=label(caution))


def picture_name(bed: str) -> str:
    """A picture's name for whoever hears it: "Bed 101/A: Divan, drawn …"."""
    return _("{bed}, drawn in its layers; the list has the same places").format(bed=bed)
