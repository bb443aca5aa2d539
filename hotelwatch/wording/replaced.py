"""Which bookings a new list makes forgotten, said before it is loaded and after."""

from __future__ import annotations

from datetime import date

from hotelwatch.core.facts import StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.stays.replaced import Replaced, bookings_ahead, is_much_shorter
from hotelwatch.wording.language import _, ngettext


def will_go_text(replaced: Replaced, *, bad_rows: int) -> str:
    """What loading makes forgotten; empty where it is nothing."""
    n = len(replaced.gone)
    if not n:
        return ""
    if bad_rows:
        said = ngettext(
            "{n} of {known} bookings known from today on is not among the rows that can be taken, "
            "and will no longer count.",
            "{n} of {known} bookings known from today on are not among the rows that can be "
            "taken, and will no longer count.",
            n,
        )
    else:
        said = ngettext(
            "{n} of {known} bookings known from today on is not in this file, and will no "
            "longer count.",
            "{n} of {known} bookings known from today on are not in this file, and will no "
            "longer count.",
            n,
        )
    return said.format(n=n, known=replaced.known)


def most_go_text() -> str:
    """What to do where most of the bookings known would go."""
    return _(
        "That is most of them: rooms would count as vacant in which guests are. Load the whole "
        "list of bookings, or say that this is it."
    )


def whole_list_text() -> str:
    """What a person says for a list without most of the bookings known."""
    return _("This is the whole list of bookings")


def went_text(replaced: Replaced) -> str:
    """What counts no more since a list was loaded; empty where it is nothing."""
    n = len(replaced.gone)
    if not n:
        return ""
    return ngettext(
        "{n} of {known} known before is not in the list and no longer counts.",
        "{n} of {known} known before are not in the list and no longer count.",
        n,
    ).format(n=n, known=replaced.known)


def bookings_ahead_text(house: House, today: date) -> str:
    """On how many bookings a page rests, and that the list was long before, where it was."""
    n = bookings_ahead(house, today)
    said = ngettext(
        "{n} booking is known from today on.", "{n} bookings are known from today on.", n
    ).format(n=n)
    return " ".join(filter(None, (said, shorter_list_text(house))))


def shorter_list_text(house: House) -> str:
    """That the list of bookings read last is hardly whole; empty where nothing speaks for it."""
    if not is_much_shorter(house):
        return ""
    before, last = house.all_of(StaysImported)[-2:]
    return _(
        "The list of bookings loaded last held {taken}, the one before it {before}: if it was not "
        "the whole list, load the whole one."
    ).format(taken=last.taken, before=before.taken)
