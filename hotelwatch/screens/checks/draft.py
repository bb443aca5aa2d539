"""A check while it is typed: nothing of it is written down yet."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.cases.wanted import WantedLook, wanted_look
from hotelwatch.core.checks.looking import RoomLook, check_form_version, full_look
from hotelwatch.core.checks.place_looks import as_kind
from hotelwatch.core.checks.recorded import look_of_entry
from hotelwatch.core.checks.room_mark import RoomMark
from hotelwatch.core.checks.slots import beds_to_do
from hotelwatch.core.facts import RoomNo


@dataclass(frozen=True, slots=True)
class Draft:
    """A room's look as typed so far, and as it was when one began."""

    look: RoomLook
    begun_with: RoomLook
    wanted: WantedLook
    corrects: int | None = None
    """The entry that it replaces; None for a new check."""
    reason: str = ""
    """Why that entry is corrected."""

    @property
    def key(self) -> tuple[RoomNo, int | None]:
        """What a draft is known by."""
        return self.look.room, self.corrects

    @property
    def is_begun(self) -> bool:
        """Whether a person has said anything yet."""
        return self.look != self.begun_with or bool(self.reason)


def new_draft(
    hotel: OpenHotel, room: RoomNo, people: tuple[str, ...], *, sheet: RoomMark | None = None
) -> Draft:
    """A check of today, or of a printed sheet, in which everything asked for was looked at.

    A room too long for one visit begins with the beds of its slot. A sheet of a day to come
    was not filled in yet: its check is of today. Refusal("unknown_form_version").
    """
    wanted = wanted_look(hotel.house, room, hotel.now())
    today = hotel.today()
    on = min(sheet.on, today) if sheet else today
    look = full_look(hotel.house, room, on=on, by=people, kind=wanted.kind)
    if sheet is not None:
        check_form_version(hotel.house, sheet.form_version)
        look = replace(look, form_version=sheet.form_version)
    meant = beds_to_do(hotel.house, room, on=look.checked_on)
    beds = tuple(bed for bed in look.beds if bed.bed in meant)
    look = as_kind(hotel.house, replace(look, beds=beds, asked_by=wanted.case), wanted.kind)
    return Draft(look, look, wanted)


def of_sheet(draft: Draft, sheet: RoomMark, today: date) -> Draft:
    """A draft that was begun, with the day and the form of the sheet that lies beside it."""
    on = min(sheet.on, today)
    look = replace(draft.look, checked_on=on, form_version=sheet.form_version)
    return replace(draft, look=look)


def draft_of_entry(hotel: OpenHotel, entry: int, room: RoomNo) -> Draft:
    """What an entry says of a room, to be corrected."""
    look = look_of_entry(hotel.house, entry, room)
    return Draft(look, look, wanted_look(hotel.house, room, hotel.now()), corrects=entry)
