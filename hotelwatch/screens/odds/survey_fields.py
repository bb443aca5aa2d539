"""What one asks of a survey, how one would look, and of which days."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QSpinBox, QWidget

from hotelwatch.core.odds.surveys.survey_wish import (
    SurveyLook,
    SurveyOrder,
    SurveyQuestion,
    SurveyWish,
)
from hotelwatch.screens.forms.fields import DayField, Form
from hotelwatch.screens.forms.figure_field import FigureField
from hotelwatch.wording.language import _
from hotelwatch.wording.survey_plan import look_text, order_text

IN_ALL = 100
MOST_ROOMS = 100_000
MOST_INSECTS = 1000
LEAST_TIMES, MOST_TIMES = 50, 99.9
LEAST_SHARE = 0.1
WEEK, FORTNIGHT, QUARTER, YEAR = 7, 14, 92, 365
MOST_MINUTES, MINUTES_STEP = 60_000, 30
SHORT = 14


class SurveyFields(Form):
    """The fields; those of planning and those of days past are shown in turns."""

    changed = Signal()

    def __init__(self, today: date) -> None:
        """Fields that say nothing yet of what is asked; ``show_question`` fills them."""
        super().__init__()
        counted = _choice([_("as a share"), _("as a number")])
        self.counted = self.add(_("I&nfested rooms"), counted)
        self.share = self.add(_("&Share, at least"), FigureField())
        self.share.setRange(LEAST_SHARE, IN_ALL)
        self.share.setSuffix(_(" %"))
        self.number = self.add(_("Num&ber, at least"), QSpinBox(minimum=1, maximum=MOST_ROOMS))
        self.insects = self.add(
            _("&Insects in each"),
            QSpinBox(minimum=1, maximum=MOST_INSECTS),
            hint=_("At least so many; a survey says nothing about smaller infestations."),
        )
        self.times = self.add(
            _("&One found, at least"),
            FigureField(),
            hint=_("How often such a survey is to find at least one of them."),
        )
        self.times.setRange(LEAST_TIMES, MOST_TIMES)
        self.times.setSuffix(_(" in 100"))
        self._add_planning(today)
        self._add_span(today)
        self._today = today
        self.show_today(today)
        self.show_planning(is_planning=True)
        self._listen()

    def _add_planning(self, today: date) -> None:
        self.look = self.add(_("&Looked at"), _choice(look_text(look) for look in SurveyLook))
        self.order = self.add(_("Which &rooms"), _choice(order_text(each) for each in SurveyOrder))
        self.first = self.add(_("From &day"), DayField(today))
        self.days = self.add(_("&Within"), QSpinBox(minimum=1, maximum=QUARTER, value=WEEK))
        self.days.setSuffix(_(" days"))
        self.minutes = self.add(
            _("&Time at most"), QSpinBox(maximum=MOST_MINUTES, singleStep=MINUTES_STEP)
        )
        self.minutes.setSpecialValueText(_("no limit"))
        self.minutes.setSuffix(_(" min"))
        self._planning = self.look, self.order, self.first, self.days, self.minutes

    def _add_span(self, today: date) -> None:
        self.last_days = self.add(
            _("Loo&ks of the last"), QSpinBox(minimum=1, maximum=YEAR, value=FORTNIGHT)
        )
        self.last_days.setSuffix(_(" days"))
        self.until = self.add(_("&Up to"), DayField(today))
        self._span = self.last_days, self.until

    def _listen(self) -> None:
        for box in (self.counted, self.look, self.order):
            box.currentIndexChanged.connect(self._tell)
        for field in self._numbers():
            # "12" is typed as a 1 and a 2: nothing is asked before both stand there.
            field.setKeyboardTracking(False)
            field.valueChanged.connect(self._tell)
        for day in (self.first, self.until):
            day.chosen.connect(self._tell)
        self.counted.currentIndexChanged.connect(self._count_so)
        self._count_so()

    def _numbers(self) -> tuple[QSpinBox | FigureField, ...]:
        return (
            self.share,
            self.number,
            self.insects,
            self.times,
            self.days,
            self.minutes,
            self.last_days,
        )

    # --- what stands there ----------------------------------------------------------

    def show_question(self, question: SurveyQuestion) -> None:
        """Show what is asked, without telling."""
        self.blockSignals(True)
        self.counted.setCurrentIndex(0 if question.number is None else 1)
        self.share.setValue(IN_ALL * question.share)
        self.number.setValue(question.number or 1)
        self.insects.setValue(question.insects)
        self.times.setValue(IN_ALL * question.confidence)
        self.blockSignals(False)

    def show_today(self, today: date) -> None:
        """Plan from today on and look back from today on, without telling."""
        self.blockSignals(True)
        follows = self.until.day() == self._today
        self.first.keep_within(today, today + timedelta(days=YEAR))
        self.until.keep_within(today - timedelta(days=2 * YEAR), today)
        if follows:
            self.until.set_day(today)
        self._today = today
        self.blockSignals(False)

    def keep_rooms(self, rooms: int) -> None:
        """Take no more infested rooms than there are rooms."""
        self.number.setMaximum(max(1, rooms))

    def show_planning(self, *, is_planning: bool) -> None:
        """Show the fields of planning one, or those of days past."""
        fields: Iterable[QWidget]
        for fields, shown in ((self._planning, is_planning), (self._span, not is_planning)):
            for field in fields:
                self.show_field(field, visible=shown)

    def question(self) -> SurveyQuestion:
        """What is asked."""
        by_number = self.counted.currentIndex() == 1
        return SurveyQuestion(
            insects=self.insects.value(),
            confidence=self.times.value() / IN_ALL,
            share=self.share.value() / IN_ALL,
            number=self.number.value() if by_number else None,
        )

    def wish(self) -> SurveyWish:
        """What is asked, and how one would look."""
        first_on = self.first.day()
        return SurveyWish(
            question=self.question(),
            first_on=first_on,
            days=self.days.value(),
            look=list(SurveyLook)[self.look.currentIndex()],
            order=list(SurveyOrder)[self.order.currentIndex()],
            minutes_at_most=self.minutes.value() or None,
            draw=first_on.toordinal(),
        )

    def span(self) -> tuple[date, date]:
        """First and last day of the looks that are asked about."""
        last_on = self.until.day()
        return last_on - timedelta(days=self.last_days.value() - 1), last_on

    def _count_so(self, *_place: object) -> None:
        by_number = self.counted.currentIndex() == 1
        self.show_field(self.share, visible=not by_number)
        self.show_field(self.number, visible=by_number)

    def _tell(self, *_value: object) -> None:
        self.changed.emit()


def _choice(texts: Iterable[str]) -> QComboBox:
    box = QComboBox(minimumContentsLength=SHORT)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.addItems(list(texts))
    return box
