"""Loads bookings: which room is let from when to when. Names are dropped at the door."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.roster import StaysPreview, load_stays, preview_stays
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay
from hotelwatch.core.stays.kept_nights import sold_nights
from hotelwatch.intake.stays_file import STAYS_FIELDS
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.loading.import_kind import ImportKind
from hotelwatch.screens.loading.import_wizard import ImportWizard
from hotelwatch.wording.asked import sold_nights_sentence
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.problems import booking_text
from hotelwatch.wording.replaced import most_go_text, went_text, whole_list_text, will_go_text


class BookingsWizard(ImportWizard):
    """The page that loads bookings."""

    def __init__(self, context: Context) -> None:
        """Nothing chosen yet."""
        super().__init__(
            context,
            ImportKind(
                title=_("Load bookings"),
                intro=_(
                    "A table with one row for each booking: room or room type, arrival, "
                    "departure or nights, status. Names and contacts are never read. What is "
                    "loaded replaces what was known from today on."
                ),
                fields=STAYS_FIELDS,
                needed=frozenset({"arrival"}),
                preview=preview_stays,
                load=load_stays,
                changes=_changes,
                caution=_caution,
                told=_told,
                then="building",
                has_days=True,
                asks=_asks,
                unchanged=_unchanged,
                warns=_warns,
            ),
        )


def _changes(preview: StaysPreview) -> Sequence[str]:
    found = preview.replaced
    gone = (
        _("No longer counts: {booking}").format(booking=_stay_sentence(stay)) for stay in found.gone
    )
    changed = (_changed_sentence(before, stay) for before, stay in found.changed)
    added = (_("New: {booking}").format(booking=_stay_sentence(stay)) for stay in found.added)
    return [*gone, *changed, *added]


def _unchanged(preview: StaysPreview) -> str:
    n = preview.replaced.unchanged
    said = ngettext("{n} booking is known as it is", "{n} bookings are known as they are", n)
    return said.format(n=n) if n else ""


def _caution(preview: StaysPreview) -> str:
    said = will_go_text(preview.replaced, bad_rows=preview.reading.rows_bad)
    return f"{said} {most_go_text()}" if preview.replaced.is_most else said


def _asks(preview: StaysPreview) -> str:
    return whole_list_text() if preview.replaced.is_most else ""


def _stay_sentence(stay: Stay) -> str:
    return _("{booking}: {stay}").format(booking=booking_text(stay.booking), stay=_stay_text(stay))


def _changed_sentence(before: Stay, stay: Stay) -> str:
    """What a booking is now, and what was known of it."""
    has_other_status = before.status is not stay.status
    known = _stay_text(before, with_status=has_other_status)
    said = _stay_text(stay, with_status=has_other_status)
    booking = booking_text(stay.booking)
    if known == said:
        return _(
            "Changed: {booking}: {stay}. Its type of room or day of booking is another"
        ).format(booking=booking, stay=said)
    return _("Changed: {booking}: {stay}. Until now: {known}").format(
        booking=booking, stay=said, known=known
    )


def _stay_text(stay: Stay, *, with_status: bool = False) -> str:
    room = _("room {room}").format(room=stay.room) if stay.room else ""
    said = _("{where}, from {arrives} to {leaves}").format(
        where=room or stay.room_type or _("no room yet"),
        arrives=day_text(stay.arrives_on),
        leaves=day_text(stay.leaves_on),
    )
    if not with_status:
        return said
    return _("{stay}, {status}").format(stay=said, status=label(stay.status).lower())


def _told(house: House, preview: StaysPreview) -> str:
    known = ngettext("{n} booking is known.", "{n} bookings are known.", len(house.stays))
    return " ".join(filter(None, (known.format(n=len(house.stays)), went_text(preview.replaced))))


def _warns(hotel: OpenHotel) -> str:
    sold = sold_nights(hotel.house, hotel.occupancy(), hotel.today())
    return sold_nights_sentence(sold) if sold else ""
