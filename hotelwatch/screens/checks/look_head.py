"""Above the places: which room, why, who looked, when, what kind of check; and a correction."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.checks.place_looks import as_kind
from hotelwatch.core.facts import CheckKind
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.checks.draft import Draft
from hotelwatch.screens.checks.words import wanted_text
from hotelwatch.screens.forms.fields import DayField, WhoField, leave_wheel
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.sheet_cautions import form_version_text

WHO_PX = 150


class LookHead(QWidget):
    """Room, who, day and kind of a draft."""

    changed = Signal()

    def __init__(self, context: Context) -> None:
        """No draft yet."""
        super().__init__()
        self._context = context
        self._is_showing = False
        self.title = QLabel()
        self.title.setProperty("role", "title")
        self.wanted = QLabel(wordWrap=True)
        self.wanted.setProperty("role", "muted")
        self.form = QLabel()
        self.form.setProperty("role", "muted")
        self.who = WhoField()
        self.who.setMinimumWidth(WHO_PX)
        self.day = DayField(context.hotel.today())
        self.kind = QComboBox()
        leave_wheel(self.kind)
        self.kind.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.who.textChanged.connect(self._tell)
        self.day.chosen.connect(self._tell)
        self.kind.activated.connect(self._tell)
        self.correction = self._make_correction()
        self._lay_out()

    def show_draft(self, draft: Draft) -> None:
        """Show a draft; nothing is told meanwhile."""
        hotel, look = self._context.hotel, draft.look
        self._is_showing = True
        self.title.setText(_("Room {room}").format(room=look.room))
        self.wanted.setText(wanted_text(draft.wanted, hotel.zone))
        if draft.corrects is not None:
            self.wanted.clear()
        self.form.setText(form_version_text(look.form_version))
        self.who.offer(self._context.people.names())
        self.who.set_names(look.by)
        self.day.clearMaximumDate()
        self.day.set_day(hotel.today())
        self.day.setMaximumDate(self.day.date())
        self.day.set_day(look.checked_on)
        self.kind.clear()
        for kind in _kinds(draft):
            self.kind.addItem(label(kind), kind.value)
        self.kind.setCurrentIndex(self.kind.findData(look.kind.value))
        self.correction.setVisible(draft.corrects is not None)
        if draft.corrects is not None:
            self.corrected.setText(
                _("Correcting entry {entry} of {day}. Why?").format(
                    entry=draft.corrects, day=day_text(draft.begun_with.checked_on)
                )
            )
            self.reason.setText(draft.reason)
        self._is_showing = False

    def put_into(self, draft: Draft) -> Draft:
        """The draft with what stands in the fields."""
        kind = CheckKind(self.kind.currentData())
        for_case = kind in (CheckKind.ASKED, CheckKind.CLEARANCE)
        asked_by = draft.begun_with.asked_by or draft.wanted.case
        look = replace(
            draft.look,
            by=self.who.names(),
            checked_on=self.day.day(),
            asked_by=asked_by if for_case else "",
        )
        if kind is not look.kind:
            look = as_kind(self._context.hotel.house, look, kind)
        reason = self.reason.text().strip() if draft.corrects is not None else ""
        return replace(draft, look=look, reason=reason)

    # --- making -------------------------------------------------------------

    def _make_correction(self) -> QFrame:
        pane = QFrame()
        pane.setProperty("role", "notice")
        pane.setProperty("tone", "asked")
        self.corrected = QLabel()
        self.reason = QLineEdit()
        self.reason.setAccessibleName(_("Why it is corrected"))
        self.reason.setPlaceholderText(_("What was wrong"))
        self.reason.textChanged.connect(self._tell)
        line = QHBoxLayout(pane)
        line.setContentsMargins(12, 4, 12, 4)
        line.addWidget(self.corrected)
        line.addWidget(self.reason, 1)
        return pane

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(16)
        top.addWidget(self.title)
        top.addWidget(self.wanted, 1)
        top.addWidget(self.form)
        fields = QHBoxLayout()
        fields.setSpacing(8)
        for text, field, share in (
            (_("&Who looked"), self.who, 1),
            (_("&Day"), self.day, 0),
            (_("&Kind"), self.kind, 0),
        ):
            said = QLabel(text)
            said.setBuddy(field)
            field.setAccessibleName(text.replace("&", ""))
            fields.addWidget(said)
            fields.addWidget(field, share)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(6)
        lines.addWidget(self.correction)
        lines.addLayout(top)
        lines.addLayout(fields)

    def _tell(self) -> None:
        if not self._is_showing:
            self.changed.emit()


def _kinds(draft: Draft) -> list[CheckKind]:
    """Kinds that make sense here: a case's kinds only where a case wants or wanted it."""
    wanted = (CheckKind.DEEP, CheckKind.BRIEF, draft.wanted.kind, draft.begun_with.kind)
    return list(dict.fromkeys(wanted))
