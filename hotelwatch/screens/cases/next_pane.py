"""What is next in the case in view: who sees to it, by when, and the way to do it."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from hotelwatch.core.case_facts import CaseJudged, NoticeGiven, OwnerNamed
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.desk_duties import MOVE_GUEST, OTHER_ROOM, what_is_next_in
from hotelwatch.core.cases.duties import Duty, DutyState
from hotelwatch.core.cases.notices import NOTICES
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.duty_forms import NoticeForm, OwnerForm, duty_about
from hotelwatch.screens.forms.entry_form import clear_layout, text_label
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.look.theme import QUIET
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.steps import deadline_text, step_sentence

LOOKS = frozenset(
    {
        "check_room",
        "check_neighbours",
        "clean_checks",
        "clearance_checks",
        "full_check",
        "after_hatch",
        "watch_look",
    }
)
ELSEWHERE = {
    "judge_specimen": m("Judge…"),
    "record_treatment": m("To the treatment"),
    "await_treatment": m("To the treatment"),
    "take_care": m("To the treatment"),
    "read_monitors": m("To the traps"),
    "lift_quarantine": m("To the release"),
    "count_reading": m("To the traps"),
    "measure_room": m("To the release"),
    "ask_release_word": m("To the release"),
    "keep_watch": m("To the release"),
    "close_case": m("To the release"),
}
"""Steps that are done in another part of the case, and what the button there says."""


class NextPane(QWidget):
    """Duties of a case, the overdue first, each with a button that leads to it."""

    wanted = Signal(str)
    """A step that is done in another part of the case: its code."""

    def __init__(self, context: Context) -> None:
        """No case in view."""
        super().__init__()
        self._context = context
        self._case: Case | None = None
        self.notice = NoticeForm(context)
        self.owner = OwnerForm(context)
        self._inside = QWidget()
        self._inside.setProperty("role", "plain")
        self._lines = QVBoxLayout(self._inside)
        self._lines.setContentsMargins(0, 0, 8, 0)
        self._lines.setSpacing(8)
        scroll = UprightScroll()
        scroll.setWidget(self._inside)
        self._list = scroll
        self._panes = QStackedWidget()
        for pane in (scroll, self.notice, self.owner):
            self._panes.addWidget(pane)
        for form in (self.notice, self.owner):
            form.done.connect(self._show_list)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self._panes)

    def title(self) -> str:
        """The tab's text."""
        return _("What is next")

    def show_case(self, case: Case | None) -> None:
        """Put a case in view; a form that is open stays for the same case."""
        same = self._case is not None and case is not None and self._case.no == case.no
        self._case = case
        if not same:
            self._show_list()
        clear_layout(self._lines)
        if case is None:
            return
        found = self._duties(case)
        for duty in found:
            self._lines.addWidget(self._row(duty))
        if not found:
            self._lines.addWidget(text_label(_("Nothing is open. Keep to the cycle.")))
        self._lines.addStretch()

    def is_begun(self) -> bool:
        """Whether something was typed and not saved."""
        form = self._panes.currentWidget()
        return isinstance(form, NoticeForm | OwnerForm) and form.is_begun()

    def bring(self, holder: QWidget, about: object) -> None:
        """Open a form that was half entered, if its duty is still there; else LookupError."""
        if holder not in (self.notice, self.owner) or self._case is None:
            return
        for duty in self._duties(self._case):
            if duty_about(self._case, duty) == about:
                (self._tell if holder is self.notice else self._name_owner)(duty)
                return
        raise LookupError(about)

    def text(self) -> str:
        """Everything said, line by line."""
        return "\n".join(said.text() for said in self._inside.findChildren(QLabel))

    def _duties(self, case: Case) -> tuple[Duty, ...]:
        hotel = self._context.hotel
        return what_is_next_in(hotel.house, hotel.occupancy(), case.no, hotel.now())

    # --- a duty ----------------------------------------------------------------

    def _row(self, duty: Duty) -> QWidget:
        hotel = self._context.hotel
        row = QWidget()
        row.setProperty("role", "plain")
        said = QVBoxLayout()
        said.setSpacing(0)
        said.addWidget(text_label(step_sentence(duty.step, hotel.zone)))
        by_when = deadline_text(duty.step, hotel.zone, now=hotel.now())
        is_late = duty.state is DutyState.LATE
        state = label(duty.state) if is_late or not by_when else ""
        parts = [part for part in (duty.owner or label(duty.role), state, by_when) if part]
        said.addWidget(text_label(" · ".join(parts), role="problem" if is_late else "muted"))
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.addLayout(said, 1)
        for button in self._buttons(duty):
            line.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _buttons(self, duty: Duty) -> list[QPushButton]:
        buttons = []
        if self._context.may(OwnerNamed):
            buttons.append(_button(_("Name who…"), partial(self._name_owner, duty)))
            buttons[0].setProperty("role", QUIET)
        code = duty.step.code
        if code in NOTICES and self._context.may(NoticeGiven):
            buttons.append(_button(_("It was told…"), partial(self._tell, duty)))
        elif code in LOOKS and "checks" in self._context.pages:
            buttons.append(_button(_("Record the check"), partial(self._record, duty)))
        elif code in (MOVE_GUEST, OTHER_ROOM) and "desk" in self._context.pages:
            buttons.append(_button(_("To front desk"), partial(self._to_desk, duty)))
        elif code in ELSEWHERE and (code != "judge_specimen" or self._context.may(CaseJudged)):
            buttons.append(_button(_(ELSEWHERE[code]), partial(self.wanted.emit, code)))
        said = step_sentence(duty.step, self._context.hotel.zone)
        for button in buttons:
            button.setAccessibleDescription(said)
        return buttons

    def _tell(self, duty: Duty) -> None:
        if self._case is not None:
            self.notice.take(self._case, duty)
            self._open(self.notice)

    def _name_owner(self, duty: Duty) -> None:
        if self._case is not None:
            self.owner.take(self._case, duty)
            self._open(self.owner)

    def _open(self, form: QWidget) -> None:
        self._panes.setCurrentWidget(form)
        form.setFocus()

    def _record(self, duty: Duty) -> None:
        rooms = duty.step.values.get("rooms") or (duty.room,)
        self._context.go_to("checks", RoomNo(rooms[0]))

    def _to_desk(self, duty: Duty) -> None:
        self._context.go_to("desk", duty.room)

    def _show_list(self) -> None:
        self._panes.setCurrentWidget(self._list)


def _button(text: str, act: object) -> QPushButton:
    button = QPushButton(text)
    button.setAutoDefault(True)
    button.clicked.connect(act)
    return button
