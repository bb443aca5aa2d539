"""At a find, in words: since when it may have been there, and what that means for others.

Sentences as in ``odds``: about, from where to where, assumed; never a certainty. What nobody
has judged yet begins with "if".
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import central_text, chance_text, numbers_text, range_text

if TYPE_CHECKING:
    # Their modules bring arrays along, which take time to load.
    from hotelwatch.core.facts import RoomNo
    from hotelwatch.core.odds.since import (
        CaseOdds,
        FindSince,
        MoveThen,
        NeighbourThen,
        StayThen,
        Survival,
    )

WORTH_SAYING = 0.01


def find_heading(found: FindSince) -> str:
    """Which room, and when it was found or only seen."""
    said = (
        _("Room {room}, found on {day}")
        if found.is_judged
        else _("Room {room}, sign seen on {day}")
    )
    return said.format(room=found.room, day=day_text(found.found_on))


def since_lines(found: FindSince) -> tuple[str, ...]:
    """When a find most likely came in, and how old it was."""
    survival = found.survival
    if survival and found.likely_outlived:
        return (_outlived_text(found, survival),)
    lines = [*_window_lines(found), _age_text(found)]
    if survival and survival.chance[Stance.CENTRAL] > WORTH_SAYING:
        lines.append(
            _("It may also have outlived the treatment of {day}: {chance}, assumed.").format(
                day=day_text(survival.treated_on), chance=chance_text(survival.chance)
            )
        )
    return tuple(lines)


def _outlived_text(found: FindSince, survival: Survival) -> str:
    said = (
        _(
            "Most likely it outlived the treatment of {day}: {chance}, assumed. Else it was brought"
            " in after that day."
        )
        if found.is_judged
        else _(
            "If what was found in {room} is bed bugs, it most likely outlived the treatment of"
            " {day}: {chance}, assumed. Else it was brought in after that day."
        )
    )
    return said.format(
        room=found.room, day=day_text(survival.treated_on), chance=chance_text(survival.chance)
    )


def _window_lines(found: FindSince) -> Iterator[str]:
    first, last = found.window[Stance.CENTRAL]
    said = (
        _("Brought in most likely between {first} and {last} (90 %, assumed).")
        if found.is_judged
        else _(
            "If what was found in {room} is bed bugs, it was brought in most likely between {first}"
            " and {last} (90 %, assumed)."
        )
    )
    yield said.format(room=found.room, first=day_text(first), last=day_text(last))
    earliest, latest = found.span
    if (earliest, latest) != (first, last):
        yield _("With other settings: between {first} and {last}.").format(
            first=day_text(earliest), last=day_text(latest)
        )


def _age_text(found: FindSince) -> str:
    weeks = max(1, round(found.age_weeks[Stance.CENTRAL]))
    insects = numbers_text({stance: round(each) for stance, each in found.insects.items()})
    return ngettext(
        "In the middle case it was {n} week old on that day (assumed); insects then: {insects}.",
        "In the middle case it was {n} weeks old on that day (assumed); insects then: {insects}.",
        weeks,
    ).format(n=weeks, insects=insects)


def limit_lines(found: FindSince) -> Iterator[str]:
    """What is not known of days before the record and before the bookings at hand."""
    earliest, _latest = found.span
    before = found.before
    if earliest < before.record_from:
        yield _(
            "Looks at {room} are on record from {day} on. How far back of that day it may have"
            " come in is assumed, not known."
        ).format(room=found.room, day=day_text(before.record_from))
    if before.bookings_from is None:
        yield _("No bookings are at hand: days count as those of a usual room (assumed).")
    elif earliest < before.bookings_from and max(before.before_bookings.values()) > WORTH_SAYING:
        yield _(
            "Bookings are at hand from {day} on. That it came in before that, with a stay that"
            " is not listed: {chance}, assumed."
        ).format(day=day_text(before.bookings_from), chance=chance_text(before.before_bookings))


# --- the case ---------------------------------------------------------------------------------


def case_lines(odds: CaseOdds) -> tuple[str, ...]:
    """What holds for the case as a whole: why nothing is told, rooms gone, several rooms."""
    if odds.is_ruled_out:
        return (_("A competent person judged that it was no bed bug: nothing is worked out."),)
    lines = []
    if odds.gone:
        lines.append(
            ngettext(
                "Room {rooms} left the roster: nothing can be worked out for it.",
                "Rooms {rooms} left the roster: nothing can be worked out for them.",
                len(odds.gone),
            ).format(rooms=join(list(odds.gone)))
        )
    if not odds.finds and not odds.gone:
        lines.append(_("What was found lies too far back to be worked out."))
    if len(odds.found_in) > 1:
        lines.append(
            _("Each room with a sign is taken for itself; one may have come by it from another.")
        )
    return tuple(lines)


def rests_text() -> str:
    """On what the answers about a find rest."""
    return _(
        "Assumed: how often something comes in with a stay, how fast it grows, how it spreads, how"
        " often a look misses it. From where to where: three settings."
    )


def stance_text(stance: Stance) -> str:
    """A setting in one word."""
    return {
        Stance.CAUTIOUS: _("cautious"),
        Stance.CENTRAL: _("central"),
        Stance.OPTIMISTIC: _("optimistic"),
    }[stance]


def picture_text() -> str:
    """How the drawing of a find's days is read."""
    return _(
        "Bars: nine chances in ten, by setting; upright mark: its middle day; ▲ a look that found"
        " nothing; hatched: before the record."
    )


# --- others -----------------------------------------------------------------------------------


def neighbour_text(row: NeighbourThen) -> str:
    """A neighbour's chance after a find next door."""
    if not row.is_found:
        return chance_text(row.chance)
    if row.is_of_case:
        return _sign_text(is_judged=row.is_judged)
    return _("confirmed find")


def neighbours_note(found: FindSince) -> str:
    """On which condition the chances next door hold."""
    if found.is_judged:
        return _("Assumed: how often it goes from room to room. The likeliest room stands first.")
    return _(
        "These chances hold if what was found in {room} is bed bugs. Assumed: how often it goes"
        " from room to room. The likeliest room stands first."
    ).format(room=found.room)


def _sign_text(*, is_judged: bool) -> str:
    """Of a room with a sign of the case itself."""
    return _("find of this case") if is_judged else _("sign of this case")


def kinds_text(row: NeighbourThen) -> str:
    """In which ways a room is a neighbour."""
    return ", ".join(label(kind) for kind in row.kinds)


def room_odds_text(odds: CaseOdds | None, room: RoomNo) -> str:
    """A room's chance beside its place in the ring, its range in a second line.

    Dots while it is being reckoned.
    """
    if odds is None:
        return _("…")
    if room in odds.found_in:
        is_judged = any(found.is_judged for found in odds.finds if found.room == room)
        return _sign_text(is_judged=is_judged)
    chance = odds.chances.get(room)
    if chance is None:
        return _("–")
    lines = dict.fromkeys((central_text(chance), range_text(chance)))
    return "\n".join(lines)


def room_odds_note(odds: CaseOdds | None) -> str:
    """What the chances beside a ring's rooms mean."""
    if odds is None or not odds.chances:
        return ""
    if odds.is_judged:
        return _(
            "Chance: about how likely something is there today, and from where to where by setting;"
            " assumed. The order goes by the rule, not by these chances."
        )
    return _(
        "Chance: about how likely something is there today if what this case found is bed bugs,"
        " and from where to where by setting; assumed. The order goes by the rule."
    )


def stays_note() -> str:
    """What a list of stays does not say."""
    return _(
        "A chance is that of the day of arrival, whoever came. It may as well have come with staff,"
        " things or from next door: this names nobody."
    )


def booking_text(row: StayThen) -> str:
    """A stay's booking, by its label."""
    if row.is_guess:
        return _("{booking} (room not given, guessed)").format(booking=row.booking)
    return row.booking


def move_text(row: MoveThen) -> str:
    """What went from where to where."""
    if row.is_outgoing:
        what = row.what or _("Guests")
        return _("{what} went to {room}").format(what=what, room=row.other)
    return _("{what} came from {room}").format(what=row.what or _("Guests"), room=row.other)
