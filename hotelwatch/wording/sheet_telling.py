"""Who is to be told of a case, what and by when, as a case's sheet says it.

All of this module is translated; see resources/translations.
"""

from __future__ import annotations

from datetime import datetime, tzinfo

from hotelwatch.core.cases.telling import Telling
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.language import marked as m

WHO = {
    "housekeeper": m("Executive housekeeper"),
    "front_desk": m("Front desk"),
    "laundry": m("Laundry"),
    "competent_person": m("Who says what a find is"),
    "firm": m("Licensed firm"),
}
WHAT = {
    "looked": m("What was found, and each room and place that was not looked at."),
    "closed": m("Not to be sold: {rooms}. Nobody says why."),
    "bags": m("Bags from {rooms} are marked, stay closed and are washed apart."),
    "answer_guest": m("Answer the guest of room {room}: what was looked at. Promise nothing."),
    "tell_authority": m("Notice about room {room}."),
    "judge_specimen": m("Something from room {room} is to be looked at by somebody competent."),
    "record_treatment": m("To be treated: {rooms}."),
}


def who_text(telling: Telling) -> str:
    """Who is to be told: somebody's part in the house, or an authority's own name."""
    known = WHO.get(telling.who)
    return _(known) if known else str(telling.values["to"])


def what_text(telling: Telling) -> str:
    """What they are to be told."""
    said = {
        key: join([str(room) for room in value]) if key == "rooms" else value
        for key, value in telling.values.items()
    }
    return _(WHAT[telling.what]).format(**said)


def by_when_text(by_at: datetime | None, zone: tzinfo) -> str:
    """By when."""
    return moment_text(by_at, zone) if by_at else _("at once")
