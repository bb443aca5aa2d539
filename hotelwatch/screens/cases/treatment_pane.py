"""A case's treatment: visits, orders, what to look at twice, logs, papers, care of things."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.cases.case import Case, Stage
from hotelwatch.core.cases.treatment import doubts_of_case, firms, orders_of, papers_of_case
from hotelwatch.core.lethal.logs import KeptLog, logs_of_case
from hotelwatch.core.treatment_facts import (
    CareDone,
    FirmDescribed,
    ItemDiscarded,
    PaperKept,
    ProbeLogKept,
    TreatmentOrdered,
    TreatmentRecorded,
)
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import offer_if_allowed
from hotelwatch.screens.cases.care_forms import CareForm, DiscardForm
from hotelwatch.screens.cases.forms_pane import FormsPane, mark_main
from hotelwatch.screens.cases.log_form import LogForm
from hotelwatch.screens.cases.log_view import LogView
from hotelwatch.screens.cases.paper_form import PaperForm, PaperList
from hotelwatch.screens.cases.treatment_forms import (
    FirmForm,
    OrderForm,
    TreatmentForm,
)
from hotelwatch.screens.forms.entry_form import clear_layout, text_label
from hotelwatch.screens.forms.fields import ChoiceField
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.wording.cautions import caution_text
from hotelwatch.wording.language import _
from hotelwatch.wording.treatment import (
    care_sentence,
    discarded_sentence,
    doubt_sentence,
    firm_sentence,
    heat_caution,
    log_name,
    order_sentence,
    treated_sentence,
)


class TreatmentPane(FormsPane):
    """What licensed firms did and will do in a case, and what their logs show."""

    def __init__(self, context: Context) -> None:
        """No case in view."""
        self.treatment, self.order = TreatmentForm(context), OrderForm(context)
        self.log_form, self.firm = LogForm(context), FirmForm(context)
        self.care, self.discard = CareForm(context), DiscardForm(context)
        self.paper = PaperForm(context)
        super().__init__(
            (
                self.treatment,
                self.order,
                self.log_form,
                self.paper,
                self.care,
                self.discard,
                self.firm,
            )
        )
        self._context = context
        self.papers: PaperList | None = None
        self.logs: tuple[KeptLog, ...] = ()
        self.log = ChoiceField()
        self.log.setAccessibleName(_("Log"))
        self.log.chosen.connect(self._show_log)
        self.log_view = LogView(context.hotel.house)
        self._make_buttons()
        self._lay_out()
        self.show_case(None)

    def title(self) -> str:
        """The tab's text."""
        return _("Treatment")

    def show_case(self, case: Case | None) -> None:
        """Put a case in view; an open form and the log chosen stay for the same case."""
        same = self._follow(case)
        self._fit_buttons()
        self._say_all()
        self._offer_logs(kept=self.log.value() if same else None)

    def text(self) -> str:
        """Everything said, line by line."""
        labels = self._inside.findChildren(QLabel)
        said = [one.text() for one in labels if one.isVisibleTo(self._inside)]
        return "\n".join(text for text in said if text)

    # --- what is said ---------------------------------------------------------

    def _say_all(self) -> None:
        clear_layout(self._left)
        case = self._case
        if case is None:
            return
        house = self._context.hotel.house
        zone = house.zone
        doubts = doubts_of_case(house, case.no)
        self._part(_("Look twice"), map(doubt_sentence, doubts), role="problem")
        treated = [row.fact for row in house.kept_of_case(TreatmentRecorded, case.no)]
        ordered = orders_of(house, case.no)
        self._part(_("Visits ordered"), (order_sentence(one, zone) for one in ordered))
        said = [treated_sentence(one, zone) for one in treated]
        self._part(_("Treatment as reported"), said or [_("No licensed treatment is recorded.")])
        care = [care_sentence(row.fact, zone) for row in house.kept_of_case(CareDone, case.no)]
        care += [discarded_sentence(r.fact) for r in house.kept_of_case(ItemDiscarded, case.no)]
        self._part(_("Things of the rooms"), care)
        self._show_papers(papers_of_case(house, case.no))
        known = firms(house).values()
        self._part(_("Licensed firms"), map(firm_sentence, known), role="muted")
        self._left.addStretch()

    def _part(self, title: str, lines: Iterable[str], *, role: str = "") -> None:
        said = list(lines)
        if not said:
            return
        self._left.addWidget(text_label(title, role="heading"))
        for line in said:
            self._left.addWidget(text_label(line, role=role))

    def _show_papers(self, papers: Sequence[PaperKept]) -> None:
        self.papers = PaperList(self._context, papers) if papers else None
        if self.papers is not None:
            self._left.addWidget(text_label(_("Papers"), role="heading"))
            self._left.addWidget(self.papers)

    def _offer_logs(self, *, kept: str | None) -> None:
        house, case = self._context.hotel.house, self._case
        before = len(self.logs)
        self.logs = () if case is None else logs_of_case(house, case.no)
        labels = [log.kept.log for log in self.logs]
        came_new = kept is not None and len(labels) > before
        chosen = kept if kept in labels and not came_new else (labels[-1] if labels else None)
        self.log.blockSignals(True)
        self.log.offer((log.kept.log, log_name(log.kept)) for log in self.logs)
        self.log.choose(chosen)
        self.log.blockSignals(False)
        self._show_log()

    def _show_log(self, _label: object = None) -> None:
        label = self.log.value()
        shown = next((log for log in self.logs if log.kept.log == label), None)
        self._log_choice.setVisible(bool(self.logs))
        self.log_view.setVisible(shown is not None)
        self._no_log.setVisible(not self.logs and self._case is not None)
        if shown is not None:
            self.log_view.show_log(shown.verdict, self._context.hotel.house)

    # --- making -----------------------------------------------------------------

    def _make_buttons(self) -> None:
        self.to_treat = self._opens(_("Record &treatment…"), self.treatment)
        self.to_order = self._opens(_("Or&der a visit…"), self.order)
        self.to_log = self._opens(_("Re&ad a log…"), self.log_form)
        self.to_paper = self._opens(_("Keep a &paper…"), self.paper)
        self.to_care = self._opens(_("Li&nen, luggage, tools…"), self.care)
        self.to_discard = self._opens(_("Thrown awa&y…"), self.discard)
        self.to_firm = self._opens(_("Fir&m…"), self.firm)
        self.for_others = offer_if_allowed(
            self._context,
            (
                (self.to_treat, (TreatmentRecorded,)),
                (self.to_order, (TreatmentOrdered,)),
                (self.to_log, (ProbeLogKept,)),
                (self.to_paper, (PaperKept,)),
                (self.to_care, (CareDone,)),
                (self.to_discard, (ItemDiscarded,)),
                (self.to_firm, (FirmDescribed,)),
            ),
        )

    def _fit_buttons(self) -> None:
        case = self._case
        for always in (self._bar, self.caution):
            always.setVisible(case is not None)
        if case is None:
            return
        goes_on = case.is_open and case.stage is not Stage.RULED_OUT
        for button in (self.to_treat, self.to_order):
            button.setVisible(goes_on)
        mark_main(self.to_treat, is_main=case.stage is Stage.CONFIRMED)

    def _lay_out(self) -> None:
        self._inside = QWidget()
        self._inside.setProperty("role", "plain")
        columns = QHBoxLayout(self._inside)
        columns.setContentsMargins(0, 0, 8, 0)
        columns.setSpacing(24)
        self._left, right = QVBoxLayout(), QVBoxLayout()
        for column, share in ((self._left, 2), (right, 3)):
            column.setSpacing(6)
            columns.addLayout(column, share)
        self._log_choice = QWidget()
        choice = QHBoxLayout(self._log_choice)
        choice.setContentsMargins(0, 0, 0, 0)
        named = QLabel(_("&Log"))
        named.setBuddy(self.log)
        choice.addWidget(named)
        choice.addWidget(self.log, 1)
        self._no_log = text_label(
            _("No log of probes is kept. Ask the firm for its log: only it tells the dose."),
            role="muted",
        )
        for widget in (self._log_choice, self.log_view, self._no_log):
            right.addWidget(widget)
        right.addStretch()
        scroll = UprightScroll()
        scroll.setWidget(self._inside)
        lines = QVBoxLayout(self._list)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self._bar)
        lines.addWidget(self.for_others)
        lines.addWidget(scroll, 1)
        cautions = (caution_text("heat"), heat_caution(), caution_text("chemicals"))
        self.caution = text_label(" ".join(cautions), role="muted")
        lines.addWidget(self.caution)
        self.setFocusProxy(self.to_treat)
