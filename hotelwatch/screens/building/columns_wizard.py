"""Changes a column of known rooms: types, encasements, suites, widths, pasted or from a file."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.actions.roster import ColumnsPreview, change_columns, preview_columns
from hotelwatch.core.house import House
from hotelwatch.intake.room_columns import COLUMN_FIELDS
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.loading.import_kind import ImportKind
from hotelwatch.screens.loading.import_wizard import ImportWizard
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.roster import roster_change_sentence


class ColumnsWizard(ImportWizard):
    """The page that changes some rooms of the roster."""

    def __init__(self, context: Context) -> None:
        """Nothing chosen yet."""
        super().__init__(
            context,
            ImportKind(
                title=_("Change rooms from a table"),
                intro=_(
                    "Rows of a spreadsheet with a room in each and what is to change: its type, "
                    "whether its beds are encased, its suite, its width. Copy them there and "
                    "press Ctrl+V here, with or without headings. Rooms that are not among them "
                    "stay as they are, and nothing is written down before you have seen it."
                ),
                fields=COLUMN_FIELDS,
                needed=frozenset({"room"}),
                preview=preview_columns,
                load=change_columns,
                changes=_changes,
                caution=_caution,
                told=_told,
                then="building",
            ),
        )


def _changes(preview: ColumnsPreview) -> Sequence[str]:
    return [roster_change_sentence(change) for change in preview.changes]


def _caution(_preview: ColumnsPreview) -> str:
    return ""


def _told(house: House, _preview: ColumnsPreview) -> str:
    action = ngettext(
        "The roster is changed: {n} room, {beds} of its beds encased.",
        "The roster is changed: {n} rooms, {beds} of their beds encased.",
        len(house.rooms),
    )
    return action.format(n=len(house.rooms), beds=sum(bed.encased for bed in house.beds.values()))
