"""Loads a roster: rooms and beds, as the hotel's own table has them."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.actions.roster import RosterPreview, load_roster, preview_roster
from hotelwatch.core.house import House
from hotelwatch.intake.roster_file import NEEDED, ROSTER_FIELDS
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.loading.import_kind import ImportKind
from hotelwatch.screens.loading.import_wizard import ImportWizard
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.roster import roster_change_sentence


class RosterWizard(ImportWizard):
    """The page that loads a roster."""

    def __init__(self, context: Context) -> None:
        """Nothing chosen yet."""
        super().__init__(
            context,
            ImportKind(
                title=_("Load a roster"),
                intro=_(
                    "A table with one row for each room: its number, floor, wing, side, order "
                    "along the corridor, beds. xlsx, ods or csv, with headings in any order. "
                    "Nothing is written down before you have seen what would change."
                ),
                fields=ROSTER_FIELDS,
                needed=frozenset(NEEDED),
                preview=preview_roster,
                load=load_roster,
                changes=_changes,
                caution=_caution,
                told=_told,
                then="building",
            ),
        )


def _changes(preview: RosterPreview) -> Sequence[str]:
    return [roster_change_sentence(change) for change in preview.changes]


def _caution(preview: RosterPreview) -> str:
    gone = sum(change.kind == "gone" for change in preview.changes)
    if not gone:
        return ""
    return ngettext(
        "{n} room of the hotel is not in this file: loading it takes the room off the roster.",
        "{n} rooms of the hotel are not in this file: loading it takes them off the roster.",
        gone,
    ).format(n=gone)


def _told(house: House, _preview: RosterPreview) -> str:
    rooms = ngettext("{n} room", "{n} rooms", len(house.rooms)).format(n=len(house.rooms))
    beds = ngettext("{n} bed", "{n} beds", len(house.beds)).format(n=len(house.beds))
    return _("The roster holds {rooms} and {beds}.").format(rooms=rooms, beds=beds)
