"""Forms for a duty: that somebody was told, with a text ready; and who sees to it."""

from __future__ import annotations

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QPushButton, QWidget

from hotelwatch.actions.duties import give_notice, name_owner
from hotelwatch.core.case_facts import NoticeGiven, OwnerNamed
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.duties import Duty
from hotelwatch.core.cases.notices import ANSWER_GUEST
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import EntryForm, MomentField
from hotelwatch.screens.forms.fields import WhoField
from hotelwatch.wording.language import _
from hotelwatch.wording.notices import NOTICE_NAMES, ready_text
from hotelwatch.wording.steps import step_sentence

TEXT_LINES = 9


class NoticeForm(EntryForm):
    """Who was told, when; above it a text that can be copied and changed elsewhere."""

    def __init__(self, context: Context) -> None:
        """Nothing to tell yet."""
        super().__init__(context, _("Write down that it was said"))
        self._case: Case | None = None
        self._duty: Duty | None = None
        self.text = QPlainTextEdit(readOnly=True)
        self.text.setAccessibleName(_("Text ready to be said or sent"))
        self.text.setTabChangesFocus(True)
        self.text.setFixedHeight(TEXT_LINES * self.text.fontMetrics().lineSpacing())
        self.copy = QPushButton(_("Copy the text"))
        self.copy.setAutoDefault(True)
        self.copy.clicked.connect(self._copy)
        self.to = self.form.add(_("&Told"), QLineEdit(), hint=_("An office; never a guest's name."))
        self.at = self.form.add(_("&When"), MomentField())
        self.receipt = self.form.add(_("&Receipt"), QLineEdit())
        self.lay_out(self.text, self.copy)
        self.setFocusProxy(self.to)

    def take(self, case: Case, duty: Duty) -> None:
        """A notice that this case owes."""
        self._case, self._duty = case, duty
        hotel = self.context.hotel
        notice = duty.step.code
        self.title.setText(_(NOTICE_NAMES[notice]))
        self.text.setPlainText(ready_text(notice, hotel.house, case).whole)
        is_guest = notice == ANSWER_GUEST
        guest = _("guest of {room}").format(room=duty.room)
        self.to.setText(guest if is_guest else hotel.house.profile.authority)
        self.receipt.clear()
        self.at.show_moment(hotel.now(), hotel.zone)
        self.form.settle()

    def about(self) -> list[str] | None:
        """Its case, its duty and the duty's room."""
        return duty_about(self._case, self._duty)

    def save(self) -> bool:
        """Write down that it was said."""
        assert self._case is not None  # the form is shown only for a case
        assert self._duty is not None
        hotel = self.context.hotel
        given_at = self.at.moment(hotel.zone) if self.at.was_edited else hotel.now()
        give_notice(
            hotel,
            NoticeGiven(
                self._case.no,
                self._duty.step.code,
                self.to.text().strip(),
                given_at,
                hotel.by,
                self.receipt.text().strip(),
            ),
        )
        self.context.notices.done(_("Written down: {who} was told.").format(who=self.to.text()))
        return True

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {"notice_needs_receiver": self.to, "moment_to_come": self.at}
        return fields.get(code)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text.toPlainText())
        self.context.notices.done(_("The text is copied."))


def duty_about(case: Case | None, duty: Duty | None) -> list[str] | None:
    """What a duty of a case is known by."""
    return [case.no, duty.step.code, duty.room] if case is not None and duty is not None else None


class OwnerForm(EntryForm):
    """Who sees to a duty."""

    def __init__(self, context: Context) -> None:
        """No duty yet."""
        super().__init__(context, _("Save"))
        self._case: Case | None = None
        self._duty: Duty | None = None
        self.who = self.form.add(_("&Who sees to it"), WhoField(several=False))
        self.lay_out()
        self.setFocusProxy(self.who)

    def take(self, case: Case, duty: Duty) -> None:
        """A duty of this case."""
        self._case, self._duty = case, duty
        self.title.setText(step_sentence(duty.step, self.context.hotel.zone))
        self.who.offer(self.context.people.names())
        self.who.setText(duty.owner)

    def about(self) -> list[str] | None:
        """Its case, its duty and the duty's room."""
        return duty_about(self._case, self._duty)

    def save(self) -> bool:
        """Write down who sees to it; nobody takes it back."""
        assert self._case is not None  # the form is shown only for a case
        assert self._duty is not None
        name = " ".join(self.who.names())
        room = self._duty.step.values.get("room", "")
        name_owner(self.context.hotel, OwnerNamed(self._case.no, self._duty.step.code, room, name))
        if name:
            self.context.people.remember((name,))
        self.context.notices.done(
            _("{name} sees to it.").format(name=name) if name else _("Nobody is named for it.")
        )
        return True
