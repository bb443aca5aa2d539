"""Sentences of the checks page: how places stand, what a check counts for, what a find does."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import tzinfo

from hotelwatch.actions.checks import SetGoing
from hotelwatch.core.beds import Place
from hotelwatch.core.cases.wanted import WantedLook
from hotelwatch.core.checks.looking import NOT_ASKED
from hotelwatch.core.checks.place_looks import PlaceLook, PlaceState, UndersideCount
from hotelwatch.core.facts import RoomNo
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label, place_label
from hotelwatch.wording.reasons import neighbour_reasons
from hotelwatch.wording.sheet_names import WHY_UNSEEN

FULL, EMPTY = "●", "○"
MOST_LIKELY = 5
UNDERSIDE_SIGN = "▲"
STATE_SIGNS = {
    PlaceState.SEEN: "✓",
    PlaceState.UNSEEN: "–",
    PlaceState.FOUND: "!",
    PlaceState.UNSAID: "?",
}


def why_label(why: str) -> str:
    """Why a place was not looked at; its table is asked first, since codes are shared."""
    return _(WHY_UNSEEN[why]) if why in WHY_UNSEEN else label(why)


def people_text(people: int) -> str:
    """How many it takes."""
    return ngettext("{n} person", "{n} people", people).format(n=people)


def beside_text(look: PlaceLook) -> str:
    """What stands below a place's name: underside, people, what to move, how likely."""
    place, parts = look.place, []
    if place.optional:
        parts.append(_("if in doubt"))
    if place.underside:
        parts.append(_("{sign} underside").format(sign=UNDERSIDE_SIGN))
    if place.people > 1:
        parts.append(people_text(place.people))
    if place.move and not look.bed:
        parts.append(label(place.move))
    dots = FULL * place.likeliness + EMPTY * (MOST_LIKELY - place.likeliness)
    parts.append(_("likely {dots}").format(dots=dots))
    return "  ·  ".join(parts)


def state_words(look: PlaceLook) -> tuple[str, str]:
    """How a place stands, and why or what: "– Not looked at", "No time left"."""
    said = f"{STATE_SIGNS[look.state]} {label(look.state)}"
    if look.state is PlaceState.FOUND:
        return said, join([label(one) for one in look.signs])
    if look.why == NOT_ASKED:
        return f"{STATE_SIGNS[look.state]} {why_label(look.why)}", ""
    return said, why_label(look.why) if look.why else ""


def spoken_place(look: PlaceLook) -> str:
    """A place in one sentence, for a screen reader."""
    place = look.place
    parts = [place_label(place.code)]
    if place.optional:
        parts.append(_("if in doubt"))
    if place.underside:
        parts.append(_("underside"))
    if place.people > 1:
        parts.append(people_text(place.people))
    parts.append(_("likeliness {n} of {most}").format(n=place.likeliness, most=MOST_LIKELY))
    parts.append(label(look.state))
    parts += [label(sign) for sign in look.signs]
    if look.why:
        parts.append(why_label(look.why))
    return ", ".join(parts)


def step_text(place: Place) -> str:
    """What must be moved before the next places can be seen, and by how many."""
    if place.people > 1:
        return _("{step}: {people}").format(
            step=label(place.move), people=people_text(place.people)
        )
    return label(place.move)


def wanted_text(wanted: WantedLook, zone: tzinfo) -> str:
    """Why the room is looked at, when a case wants it; empty for the cycle's."""
    if not wanted.case:
        return ""
    said = _("Case {case} wants this look").format(case=wanted.case)
    if wanted.reasons:
        why = neighbour_reasons(wanted.reasons, source=wanted.source)
        said = _("{asked}: {why}").format(asked=said, why=why)
    if wanted.by_at is not None:
        said = _("{asked}, by {moment}").format(asked=said, moment=moment_text(wanted.by_at, zone))
    return _("{said}.").format(said=said)


def underside_text(count: UndersideCount) -> str:
    """Whether a bed's underside will count, and if not, what it lacks."""
    if count.counts:
        return _("✓ {bed}: its underside will count").format(bed=count.bed)
    lacks = join([place_label(one.place.code) for one in count.lacks])
    if not lacks:
        return _("– {bed}: has no underside to look at").format(bed=count.bed)
    return _("– {bed}: its underside will not count. Left: {places}").format(
        bed=count.bed, places=lacks
    )


def twice_text(name: str) -> str:
    """That somebody is named twice, for whom saving would refuse it."""
    return _("{name} is named twice: name each person who was there once.").format(name=name)


def going_lines(going: SetGoing, room: RoomNo, zone: tzinfo) -> list[str]:
    """What a find sets going: the case, the rooms to close, the rooms to look at."""
    lines = [
        (
            _("Joins case {case}, which is open")
            if case in going.joined
            else _("Opens case {case}")
        ).format(case=case)
        for case in going.cases
    ]
    if going.quarantine:
        lines.append(_("Quarantine at once: {rooms}").format(rooms=_rooms(going.quarantine)))
    else:
        lines.append(_("No other room into quarantine: this one is there already."))
    others = [other for other in going.to_look_at if other != room]
    if others and going.by_at is not None:
        lines.append(
            _("Look at {rooms} by {moment}").format(
                rooms=_rooms(others), moment=moment_text(going.by_at, zone)
            )
        )
    return lines


def going_sentence(going: SetGoing, room: RoomNo, zone: tzinfo) -> str:
    """The same after saving, in one line."""
    return " ".join(
        _("{said}.").format(said=line.rstrip(".")) for line in going_lines(going, room, zone)
    )


def unseen_text(unseen: Iterable[str]) -> str:
    """Places left and why, as recorded; those nobody asked for are left out."""
    parts = [text.partition(":") for text in unseen]
    return "; ".join(
        _("{place}: {why}").format(place=place_label(place), why=why_label(why))
        for place, _colon, why in parts
        if why != NOT_ASKED
    )


def found_text(found: Iterable[str]) -> str:
    """Places with a sign, as recorded."""
    parts = [text.partition(":") for text in found]
    return "; ".join(
        _("{place}: {sign}").format(place=place_label(place), sign=label(sign))
        for place, _colon, sign in parts
    )


def _rooms(rooms: Iterable[RoomNo]) -> str:
    return join([str(room) for room in rooms])
