"""Everything about the case in view, in tabs: next, who else, since when, treatment, release."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.case_facts import (
    CaseEntryMoved,
    CaseJudged,
    CasesJoined,
    PhotoKept,
    QuarantinePlaced,
    Sighted,
    SpecimenNoted,
)
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.steps import next_steps
from hotelwatch.core.cases.story import story_of
from hotelwatch.core.checks.signs import SignClass, class_of
from hotelwatch.core.facts import CaseNo
from hotelwatch.printing.case_sheet import print_case_of
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import folder_to_print, open_to_print
from hotelwatch.screens.at_hand.who_may import offer_if_allowed
from hotelwatch.screens.cases.case_forms import CaseForm, JudgeForm, PhotoForm, TakeBackForm
from hotelwatch.screens.cases.case_reckoning import CaseReckoning
from hotelwatch.screens.cases.forms_pane import FormsPane
from hotelwatch.screens.cases.join_forms import JoinForm, SpecimenForm, SplitForm
from hotelwatch.screens.cases.next_pane import NextPane
from hotelwatch.screens.cases.release_pane import ReleasePane
from hotelwatch.screens.cases.ring_pane import RingPane
from hotelwatch.screens.cases.since_pane import SincePane
from hotelwatch.screens.cases.story_view import StoryView
from hotelwatch.screens.cases.team_sheets import TeamSheetButton
from hotelwatch.screens.cases.treatment_pane import TreatmentPane
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.layout.flow import Flow
from hotelwatch.screens.layout.made_later import MadeLater
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import evidence_sentence, stage_sentence
from hotelwatch.wording.story import case_heading

STORY_PX, RIGHT_PX = 480, 560
AT_TREATMENT = frozenset({"record_treatment", "await_treatment", "take_care"})
AT_RELEASE = frozenset({"read_monitors", "lift_quarantine", "close_watch"})
F = TypeVar("F", bound=FormsPane)


AnyPart = (
    MadeLater[RingPane] | MadeLater[SincePane] | MadeLater[TreatmentPane] | MadeLater[ReleasePane]
)


class CasePanel(QFrame):
    """The case in view."""

    turned = Signal()
    """A form was opened or left, or another part of the case is in view."""

    def __init__(self, context: Context) -> None:
        """No case in view."""
        super().__init__()
        self.setProperty("role", "card")
        self._context = context
        self.case: Case | None = None
        self._stale: set[QWidget] = set()
        self.title = QLabel()
        self.title.setProperty("role", "title")
        self.stage = text_label("")
        self.story = StoryView(context)
        self.next = NextPane(context)
        self.reckoning = CaseReckoning(context, self)
        self.ring_part = MadeLater(partial(RingPane, context, self.reckoning))
        self.since_part = MadeLater(partial(SincePane, context, self.reckoning))
        self.treat_part = MadeLater(lambda: self._telling(TreatmentPane(context)))
        self.release_part = MadeLater(lambda: self._telling(ReleasePane(context)))
        self._parts: tuple[AnyPart, ...] = (
            self.ring_part,
            self.since_part,
            self.treat_part,
            self.release_part,
        )
        self.judge, self.photo = JudgeForm(context), PhotoForm(context)
        self.join, self.split = JoinForm(context), SplitForm(context)
        self.specimen, self.take_back = SpecimenForm(context), TakeBackForm(context)
        self.forms: tuple[CaseForm, ...] = (
            self.judge,
            self.specimen,
            self.photo,
            self.join,
            self.split,
            self.take_back,
        )
        self._opener: QPushButton | None = None
        self._make_buttons()
        self._lay_out()
        self.next.wanted.connect(self._go_on)
        self.show_case(None)

    # --- what is shown -------------------------------------------------------

    def show_case(self, case: Case | None) -> None:
        """Put a case in view; None for none. A form that is open stays for the same case."""
        same = self.case is not None and case is not None and self.case.no == case.no
        self.case = case
        self.tabs.setVisible(case is not None)
        self._stale = set(self._parts)
        if not same:
            self.close_form()
        if case is None:
            self.title.setText(_("No case chosen"))
            self.stage.setText(_("Choose a case of the list. A sighting opens one."))
            return
        hotel = self._context.hotel
        self.title.setText(case_heading(case.rooms, case.no))
        self.stage.setText(self._stage_text(case))
        self.stage.setToolTip(evidence_sentence(case.evidence))
        self.story.show_lines(story_of(hotel.house, case.no, now=hotel.now()))
        self.next.show_case(case)
        self._fit_buttons(case)
        form = self.open_form()
        if form is not None:
            form.follow(case)
        self._catch_up()

    def open_form(self) -> CaseForm | None:
        """The form that is open beside the story, if one is."""
        shown = self._right.currentWidget()
        return next((form for form in self.forms if form is shown), None)

    def has_form_open(self) -> bool:
        """Whether a form is open in the part of the case that is in view."""
        if self.tabs.currentIndex() == 0:
            return self.open_form() is not None
        made = next((part.made for part in self._parts if part is self.tabs.currentWidget()), None)
        return isinstance(made, FormsPane) and made.is_form_open()

    def unsaved(self) -> tuple[str, ...]:
        """What is being typed and not saved, in words."""
        form = self.open_form()
        told = [form.title.text()] if form is not None and form.is_begun() else []
        made = [part.made for part in self._parts]
        panes = (self.next, *(pane for pane in made if pane is not None))
        return (*told, *(pane.title() for pane in panes if pane.is_begun()))

    @property
    def ring(self) -> RingPane:
        """Who else is to be looked at."""
        return self.ring_part.pane()

    @property
    def since(self) -> SincePane:
        """Since when it may have been there."""
        return self.since_part.pane()

    @property
    def treat(self) -> TreatmentPane:
        """Treatment of the case."""
        return self.treat_part.pane()

    @property
    def release(self) -> ReleasePane:
        """What a release lacks."""
        return self.release_part.pane()

    def show_form(self, form: CaseForm, opener: QPushButton | None = None) -> None:
        """Open a form for the case in view and stand in its first field."""
        if self.case is None:
            return
        self.tabs.setCurrentIndex(0)
        self._opener = opener
        form.begin(self.case)
        self._right.setCurrentWidget(form)
        self.turned.emit()
        form.setFocus()

    def bring(self, holder: QWidget, _about: object) -> None:
        """Bring a form that was half entered into view, for the case in view."""
        if isinstance(holder, CaseForm) and holder in self.forms:
            self.show_form(holder)
        for part in self._parts:
            if part.isAncestorOf(holder):
                self.tabs.setCurrentWidget(part)

    def close_form(self) -> None:
        """Go back to what is next."""
        was_open = self.open_form() is not None
        self._right.setCurrentWidget(self.next)
        if was_open:
            self.turned.emit()
        if was_open and self._opener is not None and self._opener.isVisible():
            self._opener.setFocus()

    def _stage_text(self, case: Case) -> str:
        house = self._context.hotel.house
        said = _("{stage}. {sentence} Evidence: {evidence}.").format(
            stage=label(case.stage),
            sentence=stage_sentence(case.stage),
            evidence=label(case.evidence).lower(),
        )
        classes = dict.fromkeys(class_of(house, sighted) for sighted in case.sightings)
        if SignClass.INFESTATION_BY_RULE in classes:
            said += " " + _("By the local rules a sign of it counts as an infestation.")
        elif SignClass.OLD_SIGN in classes:
            said += " " + _("A sign of it may be left over from before a treatment.")
        return said

    # --- making --------------------------------------------------------------

    def _make_buttons(self) -> None:
        self._bar = QWidget()
        self._buttons = Flow()
        self._bar.setLayout(self._buttons)
        self.to_judge = self._opens(_("Judge…"), self.judge)
        self.to_specimen = self._opens(_("Specimen…"), self.specimen)
        self.to_photo = self._opens(_("Add a photo…"), self.photo)
        self.to_join = self._opens(_("Join…"), self.join)
        self.to_split = self._opens(_("Split…"), self.split)
        self.to_take_back = self._opens(_("Take back…"), self.take_back)
        self.to_take_back.setToolTip(_("For what was written down by mistake"))
        self.to_print = self._button(_("Print the case"), self._print)
        self.to_sheet = TeamSheetButton(self._context)
        self._buttons.addWidget(self.to_sheet)
        self.for_others = offer_if_allowed(
            self._context,
            (
                (self.to_judge, (CaseJudged,)),
                (self.to_specimen, (SpecimenNoted,)),
                (self.to_photo, (PhotoKept,)),
                (self.to_join, (CasesJoined,)),
                (self.to_split, (CaseEntryMoved,)),
                (
                    self.to_take_back,
                    (
                        Sighted,
                        QuarantinePlaced,
                    ),
                ),
            ),
        )

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
        hotel = self._context.hotel
        self.to_sheet.show_case(case)
        codes = {step.code for step in next_steps(hotel.house, case, now=hotel.now())}
        self.to_split.setVisible(len(case.sightings) > 1)
        self.to_judge.setProperty("role", MAIN if "judge_specimen" in codes else "")
        self.to_judge.style().unpolish(self.to_judge)
        self.to_judge.style().polish(self.to_judge)

    def _lay_out(self) -> None:
        self._right = QStackedWidget()
        self._right.addWidget(self.next)
        for form in self.forms:
            self._right.addWidget(form)
            form.done.connect(self.close_form)
        body = QSplitter(Qt.Orientation.Horizontal)
        body.setChildrenCollapsible(False)
        body.setHandleWidth(14)
        body.addWidget(self._right)
        body.addWidget(self.story)
        body.setSizes([RIGHT_PX, STORY_PX])
        first = QWidget()
        inner = QVBoxLayout(first)
        inner.setContentsMargins(0, 6, 0, 0)
        inner.addWidget(self._bar)
        inner.addWidget(self.for_others)
        inner.addWidget(body, 1)
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setAccessibleName(_("Parts of the case"))
        self.tabs.addTab(first, _("What is next, and the story"))
        titles = (_("Other rooms"), _("Since when"), _("Treatment"), _("Release"))
        for part, title in zip(self._parts, titles, strict=True):
            self.tabs.addTab(part, title)
        self.tabs.currentChanged.connect(self._catch_up)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(14, 8, 14, 10)
        lines.setSpacing(2)
        lines.addWidget(self.title)
        lines.addWidget(self.stage)
        lines.addWidget(self.tabs, 1)
        lines.addStretch(0)  # keeps title and words together while there is no case
        self.setFocusProxy(self.to_judge)

    def _catch_up(self, _place: int = 0) -> None:
        """Bring the pane in view up to date; the others when they are shown."""
        for part in self._parts:
            if part is self.tabs.currentWidget() and part in self._stale:
                self._stale.discard(part)
                part.pane().show_case(self.case)
        self.turned.emit()

    def _telling(self, pane: F) -> F:
        pane.turned.connect(self.turned)
        return pane

    # --- going on ------------------------------------------------------------

    def _go_on(self, code: str) -> None:
        if code == "judge_specimen":
            self.show_form(self.judge, self.to_judge)
        elif code in AT_TREATMENT:
            self.tabs.setCurrentWidget(self.treat_part)
            if code == "take_care":
                self.treat.show_form(self.treat.care)
        elif code in AT_RELEASE:
            self.tabs.setCurrentWidget(self.release_part)

    def _print(self) -> None:
        if self.case is None:
            return
        case, path = self.case.no, self._context.hotel.path
        target = folder_to_print(path) / f"{path.stem}-{case}.pdf"
        self._context.jobs.run(
            print_case_of,
            self._context.hotel.as_it_is(),
            case,
            target,
            label=_("Printing case {case}").format(case=case),
            on_done=partial(self._tell_printed, case, target),
        )

    def _tell_printed(self, case: CaseNo, target: Path, _pages: int) -> None:
        told = _("The paper of case {case} is open as PDF, to be printed from there: {file}")
        open_to_print(self._context, told.format(case=case, file=target), [target])
