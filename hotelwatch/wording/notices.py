"""Text ready to be said or sent: to a guest, an authority, a licensed firm.

Facts, not causes; "suspected" until a competent person confirmed; no guest is named and
nothing is promised. The person reads it over before it leaves the house.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, tzinfo

from hotelwatch.core.case_facts import Outcome
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.notices import ANSWER_GUEST, TELL_AUTHORITY
from hotelwatch.core.house import House
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label

NOTICE_NAMES = {
    ANSWER_GUEST: m("Answer to the guest"),
    TELL_AUTHORITY: m("Notice to the authority"),
}


@dataclass(frozen=True, slots=True)
class ReadyText:
    """A text with its heading, paragraph by paragraph."""

    heading: str
    paragraphs: tuple[str, ...]

    @property
    def whole(self) -> str:
        """Heading and paragraphs with empty lines between."""
        return "\n\n".join((self.heading, *self.paragraphs))


def ready_text(notice: str, house: House, case: Case) -> ReadyText:
    """The text of a notice about a case."""
    if notice == ANSWER_GUEST:
        return _to_guest(house, case)
    return _to_authority(house, case)


def class_text(case: Case) -> str:
    """How sure the case is: "suspected" or "confirmed by …", never one for the other."""
    judged = case.judged
    if judged is None or judged.outcome is Outcome.UNDETERMINED:
        return _("suspected; no competent person has confirmed it")
    if judged.outcome is Outcome.CONFIRMED:
        return _("confirmed by {name} ({competence})").format(
            name=judged.judged_by, competence=judged.competence
        )
    return _("judged to be no bed bug by {name} ({competence})").format(
        name=judged.judged_by, competence=judged.competence
    )


def _hotel(house: House) -> str:
    return house.hotel.name if house.hotel else _("The hotel")


def _moment(moment: datetime, zone: tzinfo) -> str:
    return moment_text(moment, zone)


def _to_guest(house: House, case: Case) -> ReadyText:
    return ReadyText(
        _("About what you told us"),
        (
            _(
                "Thank you for telling us. We have closed the room to new guests and are looking"
                " at it; until a competent person has seen what was found, nobody can say what"
                " it is."
            ),
            _(
                "We offer you another room that is on none of our lists of rooms to be looked at."
                " Please leave linen and furniture where they are, and keep your belongings in"
                " the closed bags that we bring; we will tell you how they can be treated."
            ),
            _(
                "If you have bites or feel unwell, please ask a doctor or a pharmacist; we can't"
                " judge that. You will hear from us again as soon as the room has been looked at."
            ),
            _("{hotel}").format(hotel=_hotel(house)),
        ),
    )


def _to_authority(house: House, case: Case) -> ReadyText:
    first = case.sightings[0]
    signs = join(list(dict.fromkeys(label(s.sign).lower() for s in case.sightings)))
    rooms = join([str(room) for room in case.rooms])
    treated = join(
        list(
            dict.fromkeys(
                f"{t.firm}, {t.licence} ({t.treated_on.isoformat()})" for t in case.treatments
            )
        )
    )
    closed = join([str(room) for room in case.quarantined])
    return ReadyText(
        _("Notice of case {case}").format(case=case.no),
        (
            _("To: {authority}").format(authority=house.profile.authority or _("(fill in)")),
            _("From: {hotel}").format(hotel=_hotel(house)),
            _("First sign on {moment} in room {room}: {signs}. State: {state}.").format(
                moment=_moment(first.seen_at, house.zone),
                room=first.room,
                signs=signs,
                state=class_text(case),
            ),
            _("Rooms concerned: {rooms}. Closed to guests: {closed}.").format(
                rooms=rooms, closed=closed or _("none")
            ),
            _("Licensed treatment: {treated}.").format(treated=treated or _("none yet")),
            _("Rule: {source}").format(source=house.profile.source),
            _("Signed, with name and time: ____________________"),
        ),
    )
