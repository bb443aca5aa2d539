"""Small tables of teams, wings and stairs, dropped or pasted: told first, then written down."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject

from hotelwatch.actions.hotel import describe_teams, place_stairs, place_wings
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.records import Changes
from hotelwatch.intake.settings_files import read_stairs, read_teams, read_wings
from hotelwatch.intake.table_kind import TableKind
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.wording.language import _, join

CASES_PAGE = "cases"
Write = Callable[[], Changes]


class SettingsDrop(QObject):
    """Says what such a table describes, and writes it down if the person says so."""

    def __init__(
        self,
        notices: Notices,
        *,
        hotel: Callable[[], OpenHotel | None],
        walk_to: Callable[[str], object],
        parent: QObject,
    ) -> None:
        """Tell in these notices; ``walk_to`` leads to a page."""
        super().__init__(parent)
        self._notices, self._hotel, self._walk_to = notices, hotel, walk_to

    def take(self, path: Path, kind: TableKind) -> None:
        """Ask before anything is written down; a log of probes needs its case first."""
        hotel = self._hotel()
        if hotel is None:
            return
        if kind is TableKind.PROBES:
            self._notices.warn(
                _(
                    "{file} is a log of probes. It belongs to a treated room: open its case, "
                    "then drop it on the form under Treatment."
                ).format(file=path.name),
                _("Go to the cases"),
                partial(self._walk_to, CASES_PAGE),
            )
            return
        with self._notices.refusals():
            text, names, write = _read(hotel, path, kind)
            self._notices.ask(
                text.format(names=join(list(names))), _("Write it down"), partial(self._do, write)
            )

    def _do(self, write: Write) -> None:
        with self._notices.refusals():
            changes = write()
            said = _("Written down.") if changes.topics else _("Nothing of it was new.")
            self._notices.done(said)


def _read(hotel: OpenHotel, path: Path, kind: TableKind) -> tuple[str, Sequence[str], Write]:
    """What to ask, what the table names, and what writes it down."""
    if kind is TableKind.TEAMS:
        teams = read_teams(path)
        text = _("The table describes teams: {names}. Others stay as they are.")
        return text, [team.team for team in teams], partial(describe_teams, hotel, teams)
    if kind is TableKind.WINGS:
        wings = read_wings(path)
        text = _("The table says where wings lie: {names}.")
        return text, [wing.wing for wing in wings], partial(place_wings, hotel, wings)
    stairs = read_stairs(path)
    text = _("The table says where stairs and lifts are: {names}.")
    return text, [stair.name for stair in stairs], partial(place_stairs, hotel, stairs)
