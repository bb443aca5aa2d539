"""Everything about the case in view: its story, what is next, and what one can write down."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.cases.case import Case, Stage
from hotelwatch.core.cases.rows import room_to_look_at
from hotelwatch.core.cases.steps import Step, next_steps
from hotelwatch.core.cases.story import story_of
from hotelwatch.screens.cases.case_forms import (
    CaseForm,
    JudgeForm,
    PhotoForm,
    TakeBackForm,
    TreatmentForm,
)
from hotelwatch.screens.cases.fields import clear_layout, text_label
from hotelwatch.screens.cases.flow import Flow
from hotelwatch.screens.cases.lift_form import LiftForm
from hotelwatch.screens.cases.story_view import StoryView
from hotelwatch.screens.context import Context
from hotelwatch.screens.theme import MAIN
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import evidence_sentence, stage_sentence
from hotelwatch.wording.steps import deadline_text, step_sentence
from hotelwatch.wording.story import case_heading

STORY_PX, RIGHT_PX = 600, 440


class NextList(QScrollArea):
    """What is to be done next in the case, each with its deadline."""

    def __init__(self, context: Context) -> None:
        """Nothing to do yet."""
        super().__init__(widgetResizable=True)
        self._context = context
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setAutoFillBackground(False)
        self._inside = QWidget()
        self._inside.setProperty("role", "plain")
        self._lines = QVBoxLayout(self._inside)
        self._lines.setContentsMargins(0, 0, 8, 0)
        self.setWidget(self._inside)

    def show_steps(self, steps: Sequence[Step]) -> None:
        """Show these, the most pressing first."""
        zone, now = self._context.hotel.zone, self._context.hotel.now()
        clear_layout(self._lines)
        self._lines.addWidget(text_label(_("What is next"), role="heading"))
        for number, step in enumerate(steps, 1):
            said = step_sentence(step, zone)
            self._lines.addWidget(text_label(f"{number}.  {said}" if len(steps) > 1 else said))
            by_when = deadline_text(step, zone, now=now)
            if by_when:
                late = step.is_late(now)
                said = _("Late: {by_when}").format(by_when=by_when) if late else by_when
                self._lines.addWidget(text_label(said, role="problem" if late else "muted"))
        self._lines.addStretch()

    def text(self) -> str:
        """Everything said, line by line."""
        found = self._inside.findChildren(QLabel)
        return "\n".join(said.text() for said in found)


class CasePanel(QFrame):
    """The case in view."""

    def __init__(self, context: Context) -> None:
        """No case in view."""
        super().__init__()
        self.setProperty("role", "card")
        self._context = context
        self.case: Case | None = None
        self.title = QLabel()
        self.title.setProperty("role", "title")
        self.stage = text_label("")
        self.story = StoryView(context)
        self.next = NextList(context)
        self.judge, self.treatment = JudgeForm(context), TreatmentForm(context)
        self.lift, self.photo = LiftForm(context), PhotoForm(context)
        self.take_back = TakeBackForm(context)
        self.forms: tuple[CaseForm, ...] = (
            self.judge,
            self.treatment,
            self.lift,
            self.photo,
            self.take_back,
        )
        self._opener: QPushButton | None = None
        self._make_buttons()
        self._lay_out()
        self.show_case(None)

    # --- what is shown -------------------------------------------------------

    def show_case(self, case: Case | None) -> None:
        """Put a case in view; None for none. A form that is open stays for the same case."""
        same = self.case is not None and case is not None and self.case.no == case.no
        self.case = case
        self._body.setVisible(case is not None)
        self._bar.setVisible(case is not None)
        if case is None:
            self.title.setText(_("No case chosen"))
            self.stage.setText(_("Choose a case of the list. A sighting opens one."))
            self.close_form()
            return
        hotel = self._context.hotel
        self.title.setText(case_heading(case.rooms, case.no))
        self.stage.setText(
            _("{stage}. {sentence} Evidence: {evidence}.").format(
                stage=label(case.stage),
                sentence=stage_sentence(case.stage),
                evidence=label(case.evidence).lower(),
            )
        )
        self.stage.setToolTip(evidence_sentence(case.evidence))
        self.story.show_lines(story_of(hotel.house, case.no, now=hotel.now()))
        self.next.show_steps(next_steps(hotel.house, case, now=hotel.now()))
        self._fit_buttons(case)
        form = self.open_form()
        if form is not None and same:
            form.follow(case)
        else:
            self.close_form()

    def open_form(self) -> CaseForm | None:
        """The form that is open, if one is."""
        shown = self._right.currentWidget()
        return next((form for form in self.forms if form is shown), None)

    def show_form(self, form: CaseForm, opener: QPushButton) -> None:
        """Open a form for the case in view and stand in its first field."""
        if self.case is None:
            return
        self._opener = opener
        form.begin(self.case)
        self._right.setCurrentWidget(form)
        form.setFocus()

    def close_form(self) -> None:
        """Go back to what is next."""
        was_open = self.open_form() is not None
        self._right.setCurrentWidget(self.next)
        if was_open and self._opener is not None and self._opener.isVisible():
            self._opener.setFocus()

    # --- making --------------------------------------------------------------

    def _make_buttons(self) -> None:
        self._bar = QWidget()
        self._buttons = Flow()
        self._bar.setLayout(self._buttons)
        self.to_judge = self._opens(_("Judge…"), self.judge)
        self.to_treat = self._opens(_("Record treatment…"), self.treatment)
        self.to_check = self._button(_("Record the check"), self._record_check)
        self.to_photo = self._opens(_("Add a photo…"), self.photo)
        self.to_lift = self._opens(_("Lift quarantine…"), self.lift)
        self.to_take_back = self._opens(_("Take back…"), self.take_back)
        self.to_take_back.setToolTip(_("For what was written down by mistake"))

    def _button(self, text: str, act: Callable[[], object]) -> QPushButton:
        button = QPushButton(text)
        button.setAutoDefault(True)
        button.clicked.connect(act)
        self._buttons.addWidget(button)
        return button

    def _opens(self, text: str, form: CaseForm) -> QPushButton:
        def open_it() -> None:
            self.show_form(form, button)

        button = self._button(text, open_it)
        return button

    def _fit_buttons(self, case: Case) -> None:
        self.to_check.setText(_("Record the check of {room}").format(room=room_to_look_at(case)))
        self.to_check.setVisible("checks" in self._context.pages and case.is_open)
        self.to_treat.setVisible(case.is_open and case.stage is not Stage.RULED_OUT)
        self.to_lift.setVisible(bool(case.quarantined))
        codes = {step.code for step in self._steps(case)}
        for button, code in (
            (self.to_lift, "lift_quarantine"),
            (self.to_judge, "judge_specimen"),
            (self.to_treat, "record_treatment"),
        ):
            button.setProperty("role", MAIN if code in codes else "")
            button.style().unpolish(button)
            button.style().polish(button)

    def _steps(self, case: Case) -> tuple[Step, ...]:
        return next_steps(self._context.hotel.house, case, now=self._context.hotel.now())

    def _lay_out(self) -> None:
        self._right = QStackedWidget()
        self._right.addWidget(self.next)
        for form in self.forms:
            self._right.addWidget(form)
            form.done.connect(self.close_form)
        self._body = QSplitter(Qt.Orientation.Horizontal)
        self._body.setChildrenCollapsible(False)
        self._body.setHandleWidth(14)
        self._body.addWidget(self.story)
        self._body.addWidget(self._right)
        self._body.setStretchFactor(0, 3)
        self._body.setStretchFactor(1, 2)
        self._body.setSizes([STORY_PX, RIGHT_PX])
        lines = QVBoxLayout(self)
        lines.setContentsMargins(14, 10, 14, 12)
        lines.addWidget(self.title)
        lines.addWidget(self.stage)
        lines.addWidget(self._bar)
        lines.addWidget(self._body, 1)
        self.setFocusProxy(self.to_judge)

    # --- going on ------------------------------------------------------------

    def _record_check(self) -> None:
        if self.case is not None:
            self._context.go_to("checks", room_to_look_at(self.case))
