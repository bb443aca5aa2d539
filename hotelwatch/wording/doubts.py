"""What stands against a look that was written down all the same, and what to do, in sentences."""

from __future__ import annotations

from hotelwatch.core.rounds.doubts import Doubt, WhyDoubtful
from hotelwatch.wording.dates import day_text, minutes_text
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m

SAID = {
    WhyDoubtful.HOUSE_CLOSED: m(
        "Nobody looks at beds on {day}: closed, {reason}. Name another day, or open it again."
    ),
    WhyDoubtful.NOBODY_WORKS: m(
        "No team works on {day}. Name another day, or give a team an extra shift then."
    ),
    WhyDoubtful.TEAM_OFF: m(
        "{team} doesn't work on {day}. Name another team or day, or give it an extra shift then."
    ),
    WhyDoubtful.TOO_FEW_PEOPLE: m(
        "No team that works on {day} has the people that the beds of room {room} need. Name another"
        " day, or give a larger team an extra shift then."
    ),
    WhyDoubtful.TOO_FEW_MINUTES: m(
        "On {day} no team has minutes enough for room {room}: even one bed takes {minutes}, walking"
        " not counted. Name another day, or give a team more minutes then."
    ),
    WhyDoubtful.HOURS_TOO_SHORT: m(
        "On {day} no team can be in room {room} long enough: even one bed takes {minutes}. Agree on"
        " other hours, or change a shift."
    ),
    WhyDoubtful.GUEST_STAYS: m(
        "The same guests stay in room {room} before and after {day}, so it can't be entered then."
        " Name another day, or agree on a look with them."
    ),
    WhyDoubtful.IN_QUARANTINE: m(
        "Room {room} is in quarantine: only its case's checks are made there, on {day} too unless"
        " the quarantine is lifted before. Ask for the check in its case."
    ),
}


def doubt_sentence(doubt: Doubt) -> str:
    """What stands against it, and what to do."""
    return _(SAID[doubt.why]).format(
        day=day_text(doubt.on),
        room=doubt.room,
        team=doubt.team,
        reason=doubt.reason,
        minutes=minutes_text(doubt.minutes),
    )
