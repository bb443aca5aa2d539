"""The checks page: record a room's look place by place, and see to what was recorded lately."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.checks import correct_look, record_looks, set_going_by
from hotelwatch.core.checks.looking import RoomLook
from hotelwatch.core.checks.recorded import RecordedRow, last_people
from hotelwatch.core.checks.room_mark import RoomMark
from hotelwatch.core.checks.slots import (
    SlotRow,
    next_to_do,
    published_rows,
    rooms_found_on,
    team_of,
)
from hotelwatch.core.checks.today import Lack
from hotelwatch.core.facts import BedChecked, RoomNo, Topic
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.next_step import NextStep
from hotelwatch.screens.at_hand.notices import Bar
from hotelwatch.screens.at_hand.only_if import only_if
from hotelwatch.screens.checks.draft import Draft, draft_of_entry, new_draft, of_sheet
from hotelwatch.screens.checks.draft_values import draft_from, values_of
from hotelwatch.screens.checks.look_form import LookForm
from hotelwatch.screens.checks.recorded import RecordedPane
from hotelwatch.screens.checks.rest_form import RestForm
from hotelwatch.screens.checks.slot_list import SlotList
from hotelwatch.screens.checks.words import going_sentence
from hotelwatch.screens.layout.second_press import Pause
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, join, ngettext

LEFT_PX, FORM_PX = 250, 810


class ChecksPage(QWidget):
    """Two panes: record a check; recorded lately."""

    topics = frozenset(Topic)

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._drafts: dict[tuple[RoomNo, int | None], Draft] = {}
        self._told_entry = 0
        self._rows: tuple[SlotRow, ...] = ()
        self._refused: Bar | None = None
        self._pause = Pause()
        self.slots = SlotList()
        self.form = LookForm(context)
        self.rest = RestForm(context)
        self.recorded = RecordedPane(context)
        self.begin_text = QLabel(wordWrap=True, alignment=Qt.AlignmentFlag.AlignCenter)
        self.begin = QPushButton()
        self.no_roster = NextStep()
        self.told = QLabel()
        self._connect()
        self._lay_out()
        self.setFocusProxy(self.slots.room)

    # --- what the window asks -----------------------------------------------

    def refresh(self) -> None:
        """Read the house anew; what is being typed stays as it is."""
        hotel = self._context.hotel
        house, today = hotel.house, hotel.today()
        self._rows = published_rows(
            house, hotel.occupancy(), from_on=today, until_on=today, now=hotel.now()
        )
        if self._told_entry in house.corrected:
            self.told.clear()  # it was undone, or corrected since
        self._panes.setCurrentIndex(1 if house.rooms else 0)
        self._list_rooms()
        self._say_begin()
        self.recorded.refresh()
        self.form.refresh()

    def focus_room(self, room: RoomNo) -> None:
        """Begin to record that room, or go on where one was."""
        with self._context.notices.refusals():
            self._show(self._drafts.get((room, None)) or self._new(room))

    def focus_sheet(self, mark: RoomMark) -> None:
        """Begin to record a room of a printed sheet, or go on: its day and form are the sheet's."""
        with self._context.notices.refusals():
            begun, today = self._drafts.get((mark.room, None)), self._context.hotel.today()
            self._show(of_sheet(begun, mark, today) if begun else self._new(mark.room, mark))
            if mark.on > today:
                told = _("This sheet is of {day}, which is still to come: today is filled in.")
                self._context.notices.warn(told.format(day=day_text(mark.on)))

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        self.slots.room_wanted.connect(self.focus_room)
        self.slots.rest_wanted.connect(self._show_rest)
        self.rest.room_wanted.connect(self.focus_room)
        self.rest.save_wanted.connect(self._save_rest)
        self.rest.left.connect(self._leave_form)
        self.form.changed.connect(self._keep)
        self.form.save_wanted.connect(self._save)
        self.form.why_nobody.triggered.connect(self._pause.begin)
        self.form.start_over_wanted.connect(self._start_over)
        self.recorded.correction_wanted.connect(self._correct)
        self.begin.clicked.connect(self._begin)
        self.no_roster.wanted.connect(self._context.go_to)
        self.no_roster.show_lack(Lack.NO_ROSTER)

    def _lay_out(self) -> None:
        self.begin.setProperty("role", MAIN)
        start = QFrame()
        start.setProperty("role", "card")
        middle = QVBoxLayout(start)
        middle.addStretch()
        middle.addWidget(self.begin_text)
        middle.addWidget(self.begin, alignment=Qt.AlignmentFlag.AlignCenter)
        middle.addStretch()
        self._form_pane = QStackedWidget()
        self._form_pane.addWidget(start)
        self._form_pane.addWidget(self.form)
        self._form_pane.addWidget(self.rest)
        both = QSplitter()
        both.setChildrenCollapsible(False)
        both.setHandleWidth(12)
        both.addWidget(self.slots)
        both.addWidget(self._form_pane)
        both.setStretchFactor(1, 1)
        both.setSizes([LEFT_PX, FORM_PX])
        record = QWidget()
        inner = QVBoxLayout(record)
        inner.setContentsMargins(0, 8, 0, 0)
        inner.addWidget(both)
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setDrawBase(False)
        self.tabs.tabBar().setAccessibleName(_("Checks"))
        self.tabs.addTab(record, _("Record a check"))
        self.tabs.addTab(self.recorded, _("Recorded lately"))
        may_record = self._context.may(BedChecked)
        self.tabs.setTabVisible(0, may_record)
        only_if(may_record, self.form.save)
        limit = QLabel(_("A clean look does not prove a clean room."))
        limit.setProperty("role", "muted")
        foot = QHBoxLayout()
        foot.addWidget(self.told, 1)
        foot.addWidget(limit)
        day = QWidget()
        lines = QVBoxLayout(day)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.tabs, 1)
        lines.addLayout(foot)
        self._panes = QStackedWidget()
        self._panes.addWidget(self.no_roster)
        self._panes.addWidget(day)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._panes)

    # --- which room -----------------------------------------------------------

    def _new(self, room: RoomNo, sheet: RoomMark | None = None) -> Draft:
        hotel = self._context.hotel
        on = min(sheet.on, hotel.today()) if sheet else hotel.today()
        team = team_of(hotel.house, room, on)
        return new_draft(hotel, room, last_people(hotel.house, team), sheet=sheet)

    def _show(self, draft: Draft) -> None:
        self.tabs.setCurrentIndex(0)
        self._form_pane.setCurrentWidget(self.form)
        self.form.show_draft(draft)
        self.slots.mark(draft.look.room)
        self.form.take_cursor()
        self.setFocusProxy(self.form.places)

    def unsaved(self) -> tuple[str, ...]:
        """Checks begun but not saved."""
        rooms = join(list(dict.fromkeys(draft.look.room for draft in self._drafts.values())))
        return (_("Not saved: the check of {rooms}.").format(rooms=rooms),) if rooms else ()

    @staticmethod
    def keys() -> tuple[tuple[str, str], ...]:
        """Keys of a check's places, in the list and on the drawn bed."""
        return (
            (_("Arrows"), _("To the next place")),
            (_("Space"), _("Looked at, or not")),
            ("L", _("Looked at")),
            ("N", _("Not looked at: then the number of the reason")),
            ("F", _("Found: then what")),
            ("A", _("Every place of this bed was looked at")),
            ("Ctrl+Enter", _("Save the check, and go on with the next room")),
        )

    def draft(self) -> Mapping[str, Any] | None:
        """Checks begun but not saved, to be kept in case the program ends."""
        begun = list(self._drafts.values())
        if not begun:
            return None
        rooms = join(list(dict.fromkeys(draft.look.room for draft in begun)))
        what = ngettext("check of room {rooms}", "checks of rooms {rooms}", len(begun))
        return {"what": what.format(rooms=rooms), "checks": [values_of(draft) for draft in begun]}

    def take_draft(self, values: Mapping[str, Any]) -> None:
        """Go on with checks that were kept; Refusal where a room or an entry is gone."""
        drafts = [draft_from(self._context.hotel, told) for told in values["checks"]]
        for draft in drafts:
            self._keep(draft)
            self._show(draft)

    def _keep(self, draft: Draft) -> None:
        was_begun = draft.key in self._drafts
        if draft.is_begun:
            self._drafts[draft.key] = draft
        else:
            self._drafts.pop(draft.key, None)
        if was_begun is not draft.is_begun:
            self._list_rooms()

    def _list_rooms(self) -> None:
        begun = [room for room, corrects in self._drafts if corrects is None]
        house, today = self._context.hotel.house, self._context.hotel.today()
        found = rooms_found_on(house, today)
        self.slots.show_rooms(self._rows, tuple(house.rooms), begun=begun, found=found)

    def _start_over(self) -> None:
        draft = self.form.draft
        if draft is None:
            return
        self._drafts.pop(draft.key, None)
        self._list_rooms()
        with self._context.notices.refusals():
            if draft.corrects is None:
                self._show(self._new(draft.look.room))
            else:
                self._leave_form()
                self.tabs.setCurrentWidget(self.recorded)

    def _leave_form(self) -> None:
        self.form.forget()
        self.setFocusProxy(self.slots.room)
        self._form_pane.setCurrentIndex(0)
        self._say_begin()

    def _say_begin(self) -> None:
        todo = next_to_do(self._rows, RoomNo(""))
        self.begin.setVisible(todo is not None)
        if todo is not None:
            self.begin_text.setText(_("Choose a room on the left, or type any room's number."))
            self.begin.setText(_("Begin with room {room}").format(room=todo.room))
        elif any(row.is_done for row in self._rows):
            self.begin_text.setText(
                _("Nothing is left to record on today's sheets. Type any room's number to go on.")
            )
        else:
            self.begin_text.setText(_("Type any room's number on the left."))

    def _begin(self) -> None:
        todo = next_to_do(self._rows, RoomNo(""))
        if todo is not None:
            self.focus_room(todo.room)

    def _correct(self, row: RecordedRow) -> None:
        with self._context.notices.refusals():
            held = self._drafts.get((row.room, row.entry))
            self._show(held or draft_of_entry(self._context.hotel, row.entry, row.room))

    # --- writing it down --------------------------------------------------------

    def _save(self) -> None:
        draft, hotel = self.form.draft, self._context.hotel
        if draft is None or self._pause.lasts:
            if draft is not None and not self._pause.is_double:
                self._context.notices.warn(
                    _("Not saved: the form had only just changed. Save once more.")
                )
            return
        self._forget_refusal()
        try:
            if draft.corrects is None:
                record_looks(hotel, [draft.look])
            else:
                correct_look(hotel, draft.corrects, draft.look, reason=draft.reason)
        except Refusal as refusal:
            self._refused = self._context.notices.refuse(refusal)
            self.form.show_refusal(refusal)
            return
        self._drafts.pop(draft.key, None)
        self._context.people.remember(draft.look.by)
        self._leave_form()
        self.refresh()
        self._tell(draft, max(hotel.house.entries))
        self._go_on(draft)
        self._pause.begin()

    def _show_rest(self) -> None:
        """Offer what is left of the sheet, to be written down in one go."""
        self._leave_form()
        begun = [room for room, corrects in self._drafts if corrects is None]
        with self._context.notices.refusals():
            self.rest.show_rows(self._rows, begun)
            self._form_pane.setCurrentWidget(self.rest)
            self.rest.take_cursor()
            self.setFocusProxy(self.rest.rooms)

    def _save_rest(self, looks: tuple[RoomLook, ...]) -> None:
        self._forget_refusal()
        try:
            record_looks(self._context.hotel, looks)
        except Refusal as refusal:
            self._refused = self._context.notices.refuse(refusal)
            self.rest.who.setFocus()
            return
        self._context.people.remember(looks[0].by)
        self._leave_form()
        self.refresh()
        said = ngettext(
            "✓ {n} room is recorded as looked at, entry {entry}.",
            "✓ {n} rooms are recorded as looked at, entry {entry}.",
            len(looks),
        )
        self._told_entry = entry = max(self._context.hotel.house.entries)
        self.told.setText(said.format(n=len(looks), entry=entry))
        todo = next_to_do(self._rows, RoomNo(""))
        if todo is not None:
            self.focus_room(todo.room)
        else:
            self.slots.room.setFocus()
        self._pause.begin()

    def _forget_refusal(self) -> None:
        if self._refused is not None and self._refused in self._context.notices.bars():
            self._refused.closed.emit(self._refused)
        self._refused = None

    def _tell(self, draft: Draft, entry: int) -> None:
        room, context = draft.look.room, self._context
        self._told_entry = entry
        self.told.setText(
            _("✓ Room {room} is recorded, entry {entry}.").format(room=room, entry=entry)
        )
        going = set_going_by(context.hotel, entry)
        if going.cases:
            said = _("Room {room}: something was found. {what}").format(
                room=room, what=going_sentence(going, room, context.hotel.zone)
            )
            step = _("Open the case") if "cases" in context.pages else ""
            context.notices.follows(said, step, partial(context.go_to, "cases", room))

    def _go_on(self, draft: Draft) -> None:
        if draft.corrects is not None:
            self.tabs.setCurrentWidget(self.recorded)
            self.recorded.select(max(self._context.hotel.house.entries))
            self.recorded.table.view.setFocus()
            return
        todo = next_to_do(self._rows, draft.look.room)
        if todo is not None:
            self.focus_room(todo.room)
        else:
            self.slots.room.setFocus()
