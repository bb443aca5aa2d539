"""Loads bookings: which room is let from when to when. Names are dropped at the door."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.actions.roster import StaysPreview, load_stays, preview_stays
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay
from hotelwatch.intake.stays_file import STAYS_FIELDS
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.loading.import_kind import ImportKind
from hotelwatch.screens.loading.import_wizard import ImportWizard
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext
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
            ),
        )


def _changes(preview: StaysPreview) -> Sequence[str]:
    gone = (
        _("No longer counts: {booking}").format(booking=_stay_sentence(stay))
        for stay in preview.replaced.gone
    )
    return [*gone, *map(_stay_sentence, preview.reading.stays)]


def _caution(preview: StaysPreview) -> str:
    said = will_go_text(preview.replaced, bad_rows=preview.reading.rows_bad)
    return f"{said} {most_go_text()}" if preview.replaced.is_most else said


def _asks(preview: StaysPreview) -> str:
    return whole_list_text() if preview.replaced.is_most else ""


def _stay_sentence(stay: Stay) -> str:
    where = stay.room or stay.room_type
    return _("{booking}: {where}, from {arrives} to {leaves}").format(
        booking=booking_text(stay.booking),
        where=where or _("no room yet"),
        arrives=day_text(stay.arrives_on),
        leaves=day_text(stay.leaves_on),
    )


def _told(house: House, preview: StaysPreview) -> str:
    known = ngettext("{n} booking is known.", "{n} bookings are known.", len(house.stays))
    return " ".join(filter(None, (known.format(n=len(house.stays)), went_text(preview.replaced))))
