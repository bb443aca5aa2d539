"""What stands beside a drawn bed: what its hatching, its numbers and its signs mean."""

from __future__ import annotations

from hotelwatch.wording.language import _, ngettext


def hatching_text() -> str:
    """What close hatching means, and that nobody measured it."""
    return _("Closer hatching: insects settle there more often. Common practice, no measure.")


def optional_text() -> str:
    """What a number with cut corners means."""
    return _("Number with cut corners: only if in doubt.")


def one_way_text() -> str:
    """What is said of a place that may not go back as it was."""
    return _("May not go back as it was: decide first, write it down.")


def lift_text(people: int) -> str:
    """What people beside an arrow mean."""
    return ngettext(
        "{n} person lifts or stands this piece.",
        "{n} people lift or stand this piece.",
        people,
    ).format(n=people)


def picture_name(bed: str) -> str:
    """A picture's name for whoever hears it: "Bed 101/A, drawn"."""
    return _("{bed}, drawn in its layers; the list has the same places").format(bed=bed)
