"""Front desk's list in sentences: until when, guests to move, rooms let, what it all costs.

A guest may read every word of it: nothing names a sign, a case or a reason.
"""

from __future__ import annotations

from datetime import date, datetime, tzinfo

from hotelwatch.core.cases.blocks import Block, BlockKind
from hotelwatch.core.cases.costs import BlockCost
from hotelwatch.core.cases.keep_free import COST_NIGHTS, KeepFree
from hotelwatch.core.cases.lets import LetAgainstBlock
from hotelwatch.core.cases.moves import Move, NoRoom
from hotelwatch.core.cases.touched import Touched, TouchedArrival
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.profile import Releaser
from hotelwatch.core.stays.agreed import PlannedSaving
from hotelwatch.wording.asked import answer_text
from hotelwatch.wording.dates import (
    clock_text,
    day_and_month_text,
    day_text,
    moment_text,
    short_day_text,
)
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.problems import booking_text

RELEASE_BY = {
    Releaser.HOTEL: m("Housekeeping"),
    Releaser.LICENSED: m("Housekeeping, with a contractor"),
    Releaser.HEALTH_OFFICER: m("Housekeeping, with an office"),
}
"""Who gives a room back, in words that a guest may read."""

# --- rooms not to sell -------------------------------------------------------------------------


def state_text(block: Block) -> str:
    """What a block waits for."""
    if block.kind is BlockKind.HELD:
        return label(block.kind)
    return label(block.condition)


def release_by_text(block: Block) -> str:
    """Who gives the room back; whoever looks at it, where it is only held for that."""
    if block.kind is BlockKind.HELD:
        return _("Who looked at it")
    return _(RELEASE_BY[block.release_by])


def until_text(day: date | None) -> str:
    """A day until which a room is blocked, or that nobody can name one."""
    return day_and_month_text(day) if day else _("not known")


def latest_text(block: Block) -> str:
    """The latest day foreseen; a room that is only held for a look has none."""
    if block.kind is BlockKind.HELD:
        return _("once looked at")
    return until_text(block.latest_until)


def short_moment_text(moment: datetime, zone: tzinfo) -> str:
    """A moment of these days by the hotel's clock, as "Sun 15 Feb, 10:00"."""
    day = short_day_text(local_day(moment, zone))
    return _("{day}, {clock}").format(day=day, clock=clock_text(moment, zone))


def total_line(total: BlockCost) -> str:
    """What all blocks cost together, with what to watch in one's own system."""
    watch = _(
        "Block each in your booking system: one that is only out of service may still be sold."
    )
    return f"{total_text(total)} {watch}"


# --- what it costs -----------------------------------------------------------------------------


def cost_text(cost: BlockCost) -> str:
    """Room nights lost, to come, and of them those that were sold."""
    lost = ngettext("{n} night lost so far", "{n} nights lost so far", cost.lost)
    if cost.expected is None:
        to_come = _("to come: not known yet")
    else:
        counted = ngettext("{n} night expected", "{n} nights expected", cost.expected)
        to_come = counted.format(n=cost.expected)
    sold = ngettext("{n} of them was sold", "{n} of them were sold", cost.sold)
    return _("{lost}; {to_come}; {sold}.").format(
        lost=lost.format(n=cost.lost), to_come=to_come, sold=sold.format(n=cost.sold)
    )


def nights_text(cost: BlockCost) -> str:
    """The same in few words, for a cell: what is nothing is left out."""
    parts = [ngettext("{n} lost", "{n} lost", cost.lost).format(n=cost.lost)] if cost.lost else []
    if cost.expected is None:
        parts.append(_("to come: not known"))
    elif cost.expected:
        to_come = ngettext("{n} to come", "{n} to come", cost.expected)
        parts.append(to_come.format(n=cost.expected))
    if cost.sold:
        parts.append(ngettext("{n} sold", "{n} sold", cost.sold).format(n=cost.sold))
    return ", ".join(parts) or _("none lost")


def total_text(total: BlockCost) -> str:
    """What all blocks cost together, and how many of them have no end in sight."""
    said = cost_text(total)
    if total.let:
        let = ngettext(
            "For {n} night a blocked room was let.",
            "For {n} nights a blocked room was let.",
            total.let,
        )
        said += " " + let.format(n=total.let)
    if total.rooms_unknown:
        unknown = ngettext(
            "{n} room has no end in sight; its nights to come are not counted.",
            "{n} rooms have no end in sight; their nights to come are not counted.",
            total.rooms_unknown,
        )
        said += " " + unknown.format(n=total.rooms_unknown)
    return said


def count_caution() -> str:
    """That houses count blocked rooms differently, and what to watch in one's own system."""
    return _(
        "Houses count such nights differently: out of order takes a room out of the occupancy"
        " figures, out of service may not, and may still be sold. Block it so that it can't be."
    )


# --- guests ------------------------------------------------------------------------------------


def what_to_do(row: TouchedArrival) -> str:
    """What front desk does for a guest whom a block touches."""
    return label(row.to_do)


def move_text(row: TouchedArrival) -> str:
    """The room proposed with what to mind about it, or why there is none."""
    if row.no_room is not None:
        return no_room_text(row.no_room)
    if row.move is None:
        return ""
    room = row.move.room
    mind = mind_text(row.move)
    return _("{room}: {mind}").format(room=room, mind=mind) if mind else str(room)


def mind_text(move: Move) -> str:
    """What to mind about a room that is proposed; empty if nothing."""
    if move.is_agreed:
        return _("agreed; the bookings do not show it yet")
    said = [_("a better type")] if move.is_better else []
    if move.look_first:
        said.append(_("have it looked at first"))
    return "; ".join(said)


def no_room_text(why: NoRoom) -> str:
    """Why there is no room for a guest, by counts."""
    parts = [
        counted.format(n=number)
        for number, counted in (
            (why.let, ngettext("{n} let", "{n} let", why.let)),
            (why.closed, ngettext("{n} not to sell", "{n} not to sell", why.closed)),
            (
                why.to_be_looked_at,
                ngettext("{n} to be looked at", "{n} to be looked at", why.to_be_looked_at),
            ),
            (why.given, ngettext("{n} for another guest", "{n} for other guests", why.given)),
        )
        if number
    ]
    said = _("No room of its type or a better one")
    if parts:
        said = _("{said}: {parts}").format(said=said, parts=join(parts))
    if why.other_type:
        other = ngettext(
            "{n} of another type is free", "{n} of other types are free", why.other_type
        )
        said = _("{said}; {other}").format(said=said, other=other.format(n=why.other_type))
    return said


def touched_sentence(row: TouchedArrival) -> str:
    """What to do for a guest whom a block touches, and the room proposed."""
    if row.touched is Touched.IN_HOUSE:
        said = _("{room}: booking {booking} is in house until {leaves_on}. {to_do}.")
    elif row.is_provisional:
        said = _(
            "{room}: booking {booking} may be given it from {from_on} to {leaves_on}. {to_do}."
        )
    else:
        said = _("{room}: booking {booking} comes {from_on} and leaves {leaves_on}. {to_do}.")
    told = said.format(
        room=row.room,
        booking=booking_text(row.stay.booking),
        from_on=day_text(row.from_on),
        leaves_on=day_text(row.stay.leaves_on),
        to_do=what_to_do(row),
    )
    if row.move is not None:
        return told + " " + _("To: {room}.").format(room=move_text(row))
    return told + " " + move_text(row) + "."


def without_room_text(count: int) -> str:
    """How many bookings have no room at all, so that nobody takes a free one for spare."""
    counted = ngettext(
        "{n} booking has no room left in the house.",
        "{n} bookings have no room left in the house.",
        count,
    )
    return counted.format(n=count)


# --- rooms let -----------------------------------------------------------------------------------


def how_let_text(row: LetAgainstBlock) -> str:
    """How a blocked room came to be let, as far as bookings tell."""
    if not row.nights:
        return _("let for the day alone")
    if not row.was_let_blocked:
        return _("guest in house stayed on")
    return _("let anew") if row.was_known else _("let before the block was written down")


def explained_text(row: LetAgainstBlock) -> str:
    """What a named person said to it, or that nobody has."""
    if not row.explained:
        return _("not explained yet")
    return _("{note} ({who})").format(note=row.explained, who=row.explained_by)


def let_sentence(row: LetAgainstBlock, zone: tzinfo | str) -> str:
    """Which booking had a blocked room, for how many nights, and how that came."""
    counted = ngettext(
        "{room}: in it although blocked since {moment}: booking {booking}, {n} night from {day}"
        " ({how}).",
        "{room}: in it although blocked since {moment}: booking {booking}, {n} nights from {day}"
        " ({how}).",
        row.nights,
    )
    said = counted.format(
        room=row.room,
        moment=moment_text(row.from_at, zone),
        booking=booking_text(row.stay.booking),
        n=row.nights,
        day=day_text(row.first_night),
        how=how_let_text(row),
    )
    return said + " " + _("Explained: {word}.").format(word=explained_text(row))


# --- nights to keep free -------------------------------------------------------------------------


def night_cost_text(row: KeepFree) -> str:
    """What a kept night costs: one room-night, and a move where a guest is booked."""
    nights = ngettext("{n} room-night", "{n} room-nights", COST_NIGHTS).format(n=COST_NIGHTS)
    if row.booked_until is None:
        return nights
    return _("{nights}; booked until {day}, move that guest").format(
        nights=nights, day=short_day_text(row.booked_until)
    )


def night_saves_text(row: KeepFree) -> str:
    """What it saves: as the plan showed that asked for it, else the beds' days of waiting."""
    if row.planned is not None:
        return planned_saving_text(row.planned)
    if not row.overdue_bed_days:
        if row.next_open_on is None:
            return _("no late day")
        return _(
            "no late day by itself: it can be entered on {day} anyhow; a day more helps if no"
            " team has minutes then"
        ).format(day=short_day_text(row.next_open_on))
    waited = ngettext("{n} late day", "{n} late days", row.overdue_bed_days).format(
        n=row.overdue_bed_days
    )
    if row.next_open_on is None:
        return _("at least {waited}: no later day is known").format(waited=waited)
    return _("{waited}: otherwise not before {day}").format(
        waited=waited, day=short_day_text(row.next_open_on)
    )


def planned_saving_text(saving: PlannedSaving) -> str:
    """Late days that a plan showed, and what the nights asked for with this one come to."""
    said = ngettext(
        "{n} late day, as planned on {day}", "{n} late days, as planned on {day}", saving.days
    ).format(n=saving.days, day=short_day_text(saving.on))
    if saving.nights == 1:
        return said
    return _("{said}; together the {nights} nights asked for then save {all}").format(
        said=said, nights=saving.nights, all=saving.together
    )


def still_booked_sentence(room: RoomNo) -> str:
    """That a night kept free is of no use while a booking has the room."""
    return _(
        "Written down, but a booking still has {room} that night: rounds follow once bookings are"
        " loaded without it."
    ).format(room=room)


def night_line(row: KeepFree) -> str:
    """A night asked for on front desk's list, in a sentence."""
    return _(
        "{room}: keep free the night of {day}. Costs {costs}; saves {saves}. {answer}."
    ).format(
        room=row.room,
        day=day_text(row.night),
        costs=night_cost_text(row),
        saves=night_saves_text(row),
        answer=_("Answer: {answer}").format(answer=answer_text(row)),
    )
