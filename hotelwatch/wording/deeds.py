"""What somebody did at this desk, in a few words: "Check recorded, room 204"."""

from __future__ import annotations

from hotelwatch.core.facts import Fact
from hotelwatch.core.undoing import Deed
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label

NAMED_ROOMS = 3
THINGS = ("team", "case", "wing", "firm", "cart", "monitor", "dummy", "name", "which")


def deed_text(deed: Deed) -> str:
    """The deed's name and what it was about, as a menu or a notice says it."""
    about = _about(deed.facts)
    named = label(deed.action)
    return _("{deed}, {about}").format(deed=named, about=about) if about else named


def _about(facts: tuple[Fact, ...]) -> str:
    """Rooms of the first kind of fact that has any; else the first thing that is named."""
    for fact in facts:
        if not getattr(fact, "room", ""):
            continue
        alike = (other for other in facts if type(other) is type(fact))
        rooms = list(dict.fromkeys(str(getattr(other, "room", "")) for other in alike))
        if len(rooms) > NAMED_ROOMS:
            return ngettext("{n} room", "{n} rooms", len(rooms)).format(n=len(rooms))
        said = ngettext("room {rooms}", "rooms {rooms}", len(rooms))
        return said.format(rooms=join(rooms))
    for fact in facts:
        for field in THINGS:
            if named := getattr(fact, field, ""):
                return str(named)
    return ""
