"""The rest of a sheet in one go: exceptions are named first, what stays ticked was looked at.

A ticked room is written down as a whole look: everything asked for, nothing found. Rooms
that a case wants, that were treated or are half entered begin unticked: they have a form of
their own, which Enter opens. All that is ticked becomes one entry.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.checks.looking import RoomLook, named_twice
from hotelwatch.core.checks.place_looks import people_needed, underside_counts
from hotelwatch.core.checks.recorded import last_people
from hotelwatch.core.checks.slots import SlotRow, SlotState
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.checks.draft import Draft, new_draft
from hotelwatch.screens.checks.visit_fields import AidsButton
from hotelwatch.screens.checks.words import twice_text
from hotelwatch.screens.forms.fields import WhoField
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, ngettext

SAVE_KEYS = ("Ctrl+Return", "Ctrl+Enter")
ROW_AIR_PX = 16
NUMBER = Qt.ItemDataRole.UserRole


@dataclass(frozen=True, slots=True)
class RestRow:
    """A room of the sheet that is still to do."""

    slot: SlotRow
    draft: Draft
    is_begun: bool

    @property
    def is_plain(self) -> bool:
        """Whether nothing speaks for a form of its own."""
        wanted = self.draft.wanted
        return not (self.is_begun or wanted.case or wanted.keep_out_until is not None)


class RestForm(QWidget):
    """Rooms left on today's sheet, ticked where they were looked at as a whole."""

    save_wanted = Signal(object)
    """The looks to write down, as one entry."""
    room_wanted = Signal(object)
    """A room that is recorded by itself."""
    left = Signal()

    def __init__(self, context: Context) -> None:
        """No room yet."""
        super().__init__()
        self._context = context
        self._rows: list[RestRow] = []
        self._names: dict[TeamName, tuple[str, ...]] = {}
        self._is_showing = False
        self.title = QLabel(_("The rest of the sheet, all looked at"))
        self.title.setProperty("role", "title")
        self.hint = QLabel(
            _(
                "Exceptions first: untick a room where something was found or a place was left,"
                " then record it by itself (Enter). What stays ticked is written down as looked"
                " at in every place asked for, nothing found."
            ),
            wordWrap=True,
        )
        self.team = QComboBox()
        self.team.setAccessibleName(_("Team"))
        self.team.activated.connect(self._choose_team)
        self.who = WhoField()
        self.who.textChanged.connect(self._keep_names)
        self.aids = AidsButton()
        self.rooms = QListWidget()
        self.rooms.setAccessibleName(_("Rooms left on the sheet; Space ticks"))
        self.rooms.itemChanged.connect(self._say)
        self.rooms.itemActivated.connect(self._open)
        self.said = QLabel(wordWrap=True)
        self.save = QPushButton()
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.back = QPushButton(_("Back"))
        self.back.clicked.connect(self.left)
        for keys in SAVE_KEYS:
            saving = QShortcut(QKeySequence(keys), self)
            saving.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            saving.setAutoRepeat(False)
            saving.activated.connect(self._save)
        self._lay_out()

    def _lay_out(self) -> None:
        who = QLabel(_("&Who looked"))
        who.setBuddy(self.who)
        self.who.setAccessibleName(_("Who looked"))
        used = QLabel(_("A&ids"))
        used.setBuddy(self.aids)
        names = QHBoxLayout()
        names.addWidget(self.team)
        names.addWidget(who)
        names.addWidget(self.who, 1)
        names.addWidget(used)
        names.addWidget(self.aids)
        foot = QHBoxLayout()
        foot.addWidget(self.back)
        foot.addWidget(self.save, 1)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(8)
        for widget in (self.title, self.hint):
            lines.addWidget(widget)
        lines.addLayout(names)
        lines.addWidget(self.rooms, 1)
        lines.addWidget(self.said)
        lines.addLayout(foot)

    # --- what is shown ----------------------------------------------------------

    def show_rows(self, rows: Sequence[SlotRow], begun: Collection[RoomNo]) -> None:
        """Show the rooms that are still to do; ``begun`` are those half entered."""
        hotel = self._context.hotel
        to_do = [row for row in rows if row.state is SlotState.TO_DO]
        teams = list(dict.fromkeys(row.team for row in to_do))
        self._names = {team: last_people(hotel.house, team) for team in teams}
        self._rows = [
            RestRow(row, new_draft(hotel, row.room, self._names[row.team]), row.room in begun)
            for row in to_do
        ]
        self._is_showing = True
        self.who.offer(self._context.people.names())
        self.aids.choose(())
        self.team.clear()
        for team in teams:
            self.team.addItem(_("Team {team}").format(team=team), team)
        self._is_showing = False
        self._choose_team()

    def take_cursor(self) -> None:
        """Put the cursor where a person goes on."""
        needed = max((self._needed(look) for look in self.looks()), default=1)
        (self.rooms if len(self.who.names()) >= needed else self.who).setFocus()

    def looks(self) -> tuple[RoomLook, ...]:
        """The looks that are ticked."""
        names, aids = self.who.names(), self.aids.chosen()
        items = (self.rooms.item(number) for number in range(self.rooms.count()))
        ticked = [item for item in items if item.checkState() is Qt.CheckState.Checked]
        looks = (self._rows[item.data(NUMBER)].draft.look for item in ticked)
        return tuple(replace(look, by=names, aids=aids) for look in looks)

    def _choose_team(self) -> None:
        """Each team has its own names: who looked with one did not look with the next."""
        self.who.set_names(self._names.get(self.team.currentData(), ()))
        self._list()

    def _keep_names(self) -> None:
        if not self._is_showing and self.team.currentData() is not None:
            self._names[self.team.currentData()] = self.who.names()
        self._say()

    def _list(self) -> None:
        self._is_showing = True
        self.rooms.clear()
        for number, row in enumerate(self._rows):
            if row.slot.team != self.team.currentData():
                continue
            item = QListWidgetItem(_row_text(self._context, row))
            item.setData(NUMBER, number)
            can_tick = Qt.ItemFlag.ItemIsUserCheckable
            item.setFlags(item.flags() & ~can_tick if row.is_begun else item.flags() | can_tick)
            item.setCheckState(Qt.CheckState.Checked if row.is_plain else Qt.CheckState.Unchecked)
            item.setSizeHint(QSize(0, self.fontMetrics().height() + ROW_AIR_PX))
            self.rooms.addItem(item)
        self.rooms.setCurrentRow(0)
        self._is_showing = False
        self._say()

    def _say(self) -> None:
        if self._is_showing:
            return
        looks, house = self.looks(), self._context.hotel.house
        beds = sum(len(look.beds) for look in looks)
        counts = sum(one.counts for look in looks for one in underside_counts(house, look))
        needed = max((self._needed(look) for look in looks), default=1)
        self.save.setEnabled(bool(looks))
        self.save.setText(
            ngettext(
                "Record {n} room as looked at (Ctrl+Enter)",
                "Record {n} rooms as looked at (Ctrl+Enter)",
                len(looks),
            ).format(n=len(looks))
        )
        lines = [
            _("Beds looked at: {beds}. Undersides that will count: {counts}.").format(
                beds=beds, counts=counts
            )
        ]
        if twice := named_twice(self.who.names()):
            lines.append(twice_text(twice))
        elif looks and len(self.who.names()) < needed:
            lines.append(
                ngettext(
                    "What was lifted takes {n} person; name everybody who was there.",
                    "What was lifted takes {n} people; name everybody who was there.",
                    needed,
                ).format(n=needed)
            )
        self.said.setText("\n".join(lines))

    def _needed(self, look: RoomLook) -> int:
        return people_needed(self._context.hotel.house, look)

    def changeEvent(self, event: QEvent) -> None:
        """Fit the rows to another size of text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "back"):
            for number in range(self.rooms.count()):
                height = self.fontMetrics().height() + ROW_AIR_PX
                self.rooms.item(number).setSizeHint(QSize(0, height))

    # --- what a person does -------------------------------------------------------

    def _open(self, item: QListWidgetItem) -> None:
        self.room_wanted.emit(self._rows[item.data(NUMBER)].slot.room)

    def _save(self) -> None:
        looks = self.looks()
        if looks:
            self.save_wanted.emit(looks)


def _row_text(context: Context, row: RestRow) -> str:
    beds = ngettext("{n} bed", "{n} beds", len(row.draft.look.beds))
    said = _("{room}: {beds}").format(
        room=row.slot.room, beds=beds.format(n=len(row.draft.look.beds))
    )
    wanted = row.draft.wanted
    if row.is_begun:
        return _("{room}. Half entered: record it by itself").format(room=said)
    if wanted.keep_out_until is not None:
        moment = moment_text(wanted.keep_out_until, context.hotel.zone)
        return _("{room}. Treated: nobody goes in before {moment}").format(room=said, moment=moment)
    if wanted.case:
        return _("{room}. Case {case} wants this look").format(room=said, case=wanted.case)
    return said
