"""What is known of a case, under buttons that open forms in its place."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QStackedWidget, QVBoxLayout, QWidget

from hotelwatch.core.cases.case import Case
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.layout.flow import Flow
from hotelwatch.screens.look.theme import MAIN


class FormsPane(QWidget):
    """A list or a form of it; leaving a form gives the place back to what opened it."""

    turned = Signal()
    """A form was opened or left."""

    def __init__(self, forms: tuple[CaseForm, ...]) -> None:
        """No case in view."""
        super().__init__()
        self.forms = forms
        self._case: Case | None = None
        self._opener: QPushButton | None = None
        self._bar, self._buttons = QWidget(), Flow()
        self._bar.setLayout(self._buttons)
        self._list = QWidget()
        self._panes = QStackedWidget()
        self._panes.addWidget(self._list)
        for form in forms:
            self._panes.addWidget(form)
            form.done.connect(self._show_list)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._panes)

    def is_begun(self) -> bool:
        """Whether something was typed and not saved."""
        form = self._panes.currentWidget()
        return isinstance(form, CaseForm) and form.is_begun()

    def is_form_open(self) -> bool:
        """Whether a form stands in the place of what is known."""
        return isinstance(self._panes.currentWidget(), CaseForm)

    def show_form(self, form: CaseForm, opener: QPushButton | None = None) -> None:
        """Open a form for the case in view and stand in its first field."""
        if self._case is None:
            return
        self._opener = opener
        form.begin(self._case)
        self._panes.setCurrentWidget(form)
        self.turned.emit()
        form.setFocus()

    def bring(self, holder: QWidget, _about: object) -> None:
        """Bring a form that was half entered into view, for the case in view."""
        if isinstance(holder, CaseForm):
            self.show_form(holder)

    def _follow(self, case: Case | None) -> bool:
        """Put a case in view; whether it is the same one, whose open form stays."""
        same = self._case is not None and case is not None and self._case.no == case.no
        self._case = case
        form = self._panes.currentWidget()
        if not same:
            self._show_list()
        elif case is not None and isinstance(form, CaseForm) and form.case is not None:
            form.follow(case)
        return same

    def _opens(self, text: str, form: CaseForm) -> QPushButton:
        """A button above the list that opens a form."""
        button = QPushButton(text)
        button.setAutoDefault(True)
        button.clicked.connect(lambda: self.show_form(form, button))
        self._buttons.addWidget(button)
        return button

    def _show_list(self) -> None:
        was_open = self._panes.currentWidget() is not self._list
        self._panes.setCurrentWidget(self._list)
        if was_open:
            self.turned.emit()
        if was_open and self._opener is not None and self._opener.isVisible():
            self._opener.setFocus()


def mark_main(button: QPushButton, *, is_main: bool) -> None:
    """Show a button as the one that comes next, or as any other."""
    button.setProperty("role", MAIN if is_main else "")
    button.style().unpolish(button)
    button.style().polish(button)
