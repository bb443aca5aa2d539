"""Front desk's list in sentences: guests to move, rooms let all the same, nights kept free."""

from __future__ import annotations

from datetime import tzinfo

from hotelwatch.core.cases.desk import LetAgainstBlock, Touched, TouchedArrival
from hotelwatch.core.cases.keep_free import COST_NIGHTS, KeepFree
from hotelwatch.wording.dates import day_text, moment_text, short_day_text
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


def night_cost_text(row: KeepFree) -> str:
    """What a kept night costs: one room-night, and a move where a guest is booked."""
    nights = ngettext("{n} room-night", "{n} room-nights", COST_NIGHTS).format(n=COST_NIGHTS)
    if row.booked_until is None:
        return nights
    return _("{nights}; booked until {day}, move that guest").format(
        nights=nights, day=short_day_text(row.booked_until)
    )


def night_saves_text(row: KeepFree) -> str:
    """What it saves, as booked now: the beds' days of waiting, and until when."""
    waited = ngettext("{n} bed-day", "{n} bed-days", row.overdue_bed_days).format(
        n=row.overdue_bed_days
    )
    if row.next_open_on is None:
        return _("at least {waited}: no later day is known").format(waited=waited)
    return _("{waited}: opens {day} otherwise").format(
        waited=waited, day=short_day_text(row.next_open_on)
    )


def night_answer_text(row: KeepFree) -> str:
    """Front desk's answer so far."""
    if row.is_kept is None:
        return _("not answered yet")
    said = _("kept free, {who}") if row.is_kept else _("not possible, {who}")
    return said.format(who=row.answered_by)


def night_line(row: KeepFree) -> str:
    """A night asked for on front desk's list, in a sentence."""
    return _(
        "{room}: keep free the night of {day}. Costs {costs}; saves {saves}. {answer}."
    ).format(
        room=row.room,
        day=day_text(row.night),
        costs=night_cost_text(row),
        saves=night_saves_text(row),
        answer=_("Answer: {answer}").format(answer=night_answer_text(row)),
    )
