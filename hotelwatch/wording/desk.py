"""Front desk's list in sentences: which guest to move, and what was let all the same."""

from __future__ import annotations

from datetime import tzinfo

from hotelwatch.core.cases.desk import LetAgainstBlock, Touched, TouchedArrival
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.problems import booking_text


def touched_sentence(row: TouchedArrival) -> str:
    """What to do for a guest whom a block touches, and which rooms would do."""
    told = {
        "room": row.room,
        "booking": booking_text(row.stay.booking),
        "from_on": day_text(row.from_on),
        "leaves_on": day_text(row.stay.leaves_on),
    }
    if row.touched is Touched.IN_HOUSE:
        said = _("{room}: booking {booking} is in house until {leaves_on}: move the guest.")
    elif row.is_provisional:
        said = _(
            "{room}: booking {booking} may be given it from {from_on} to {leaves_on}: give another."
        )
    else:
        said = _(
            "{room}: booking {booking} comes {from_on} and leaves {leaves_on}: give another room."
        )
    if row.candidates:
        return said.format(**told) + " " + _("Free: {rooms}.").format(rooms=join(row.candidates))
    return said.format(**told) + " " + _("No room of this type is vacant.")


def let_sentence(row: LetAgainstBlock, zone: tzinfo | str) -> str:
    """Which booking had a blocked room, for how many nights, and how that came."""
    how = _("let anew") if row.was_let_blocked else _("guest in house stayed on")
    counted = ngettext(
        "{room}: in it although blocked since {moment}: booking {booking}, {n} night from {day}"
        " ({how}).",
        "{room}: in it although blocked since {moment}: booking {booking}, {n} nights from {day}"
        " ({how}).",
        row.nights,
    )
    return counted.format(
        room=row.room,
        moment=moment_text(row.from_at, zone),
        booking=booking_text(row.stay.booking),
        n=row.nights,
        day=day_text(row.first_night),
        how=how,
    )
