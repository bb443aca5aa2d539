"""A case's way to its release: conditions as a checklist, the eggs' days, the range, the watch."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.case_facts import CaseClosed, NoticeGiven, QuarantineLifted
from hotelwatch.core.cases.case import Case, Stage
from hotelwatch.core.cases.conditions import Condition, conditions
from hotelwatch.core.cases.release import release_range
from hotelwatch.core.cases.set_back import set_back
from hotelwatch.core.checks.eggs import egg_dates
from hotelwatch.core.checks.follow_ups import treatments_done, visit_days
from hotelwatch.core.checks.watching import was_closed, watch_of
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.profile import Releaser
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import offer_if_allowed
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.cases.forms_pane import FormsPane, mark_main
from hotelwatch.screens.cases.lift_form import LiftForm
from hotelwatch.screens.cases.release_forms import (
    CloseForm,
    PlaceTrapForm,
    ReadTrapForm,
    ReleaseWordForm,
    standing_traps,
)
from hotelwatch.screens.forms.entry_form import clear_layout, text_label
from hotelwatch.screens.forms.fields import ChoiceField
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.wording.language import _
from hotelwatch.wording.release import (
    condition_sentence,
    egg_lines,
    missed_sentence,
    monitor_sentence,
    not_confirmed_lines,
    range_lines,
    set_back_sentence,
    visits_sentence,
    watch_lines,
    why_not_empty,
)
from hotelwatch.wording.sheet_cautions import limit_text

MET, MISSING = "✓", "○"


class ReleasePane(FormsPane):
    """What a room's release still lacks, when it may come, and how the watch goes on."""

    def __init__(self, context: Context) -> None:
        """No case in view."""
        self.lift, self.close_form = LiftForm(context), CloseForm(context)
        self.place, self.read = PlaceTrapForm(context), ReadTrapForm(context)
        self.word = ReleaseWordForm(context)
        super().__init__((self.lift, self.word, self.place, self.read, self.close_form))
        self._context = context
        self.room = ChoiceField()
        self.room.setAccessibleName(_("Room in quarantine"))
        self._make_buttons()
        self._lay_out()
        self.room.chosen.connect(self._show)
        self.show_case(None)

    def title(self) -> str:
        """The tab's text."""
        return _("Release")

    def show_case(self, case: Case | None) -> None:
        """Put a case in view; an open form and the room chosen stay for the same case."""
        same = self._follow(case)
        rooms = () if case is None else case.quarantined
        kept = self.room.value() if same else None
        self.room.blockSignals(True)
        self.room.offer((room, room) for room in rooms)
        self.room.choose(kept if kept in rooms else (rooms[0] if rooms else None))
        self.room.blockSignals(False)
        self._choice.setVisible(len(rooms) > 1)
        self._show()

    def show_form(self, form: CaseForm, opener: QPushButton | None = None) -> None:
        """Open a form; giving back begins with the room in view."""
        super().show_form(form, opener)
        if form is self.lift and self.room.value() is not None:
            self.lift.room.choose(self.room.value())

    def text(self) -> str:
        """Everything said, line by line."""
        return "\n".join(said.text() for said in self._inside.findChildren(QLabel))

    # --- what is said ---------------------------------------------------------

    def _show(self, _room: object = None) -> None:
        clear_layout(self._left)
        clear_layout(self._right)
        self._fit_buttons()
        case = self._case
        if case is None:
            return
        room = self.room.value()
        if room is not None:
            self._say_room(case, RoomNo(room))
        elif case.stage is Stage.RELEASED:
            self._say_watch(case)
        elif case.stage is Stage.CLOSED:
            self._say_closed(case)
        else:
            self._say(self._left, [_("No room of this case is in quarantine.")])
        self._say_traps(case)
        for column in (self._left, self._right):
            column.addStretch()

    def _say_room(self, case: Case, room: RoomNo) -> None:
        hotel = self._context.hotel
        house, now = hotel.house, hotel.now()
        heading = _("What room {room} needs to be given back").format(room=room)
        self._left.addWidget(text_label(heading, role="heading"))
        found = conditions(house, case.no, room, now=now)
        self._left.addWidget(self._checklist(found))
        if missed := missed_sentence(found, house):
            self._left.addWidget(text_label(missed, role="muted"))
        back = set_back(house, case.no, room, now)
        if back is not None:
            self._left.addWidget(text_label(set_back_sentence(back), role="problem"))
        self._right.addWidget(text_label(_("When"), role="heading"))
        self._right.addWidget(_table(range_lines(release_range(house, case.no, room, now))))
        done = treatments_done(house, case.no, room, hotel.today())
        if done and not all(condition.is_met for condition in found):
            self._right.addWidget(text_label(_("The next look"), role="heading"))
            self._say(self._right, egg_lines(egg_dates(house, done[-1].treated_on), house))
            self._say(self._right, [visits_sentence(visit_days(house, done[-1]))], role="muted")
        self._say(self._right, [why_not_empty(house)], role="muted")

    def _say_closed(self, case: Case) -> None:
        if was_closed(self._context.hotel.house, case.no):
            self._say(self._left, [_("The case is closed."), limit_text()])
        else:
            self._say(self._left, not_confirmed_lines())

    def _say_watch(self, case: Case) -> None:
        hotel = self._context.hotel
        watch = watch_of(hotel.house, case.no, hotel.today())
        self._left.addWidget(text_label(_("Released, under watch"), role="heading"))
        self._say(self._left, watch_lines(watch))

    def _say_traps(self, case: Case) -> None:
        traps = standing_traps(self._context, case)
        column = self._right if self.room.value() is None else self._left
        column.addWidget(text_label(_("Traps"), role="heading"))
        today = self._context.hotel.today()
        said = [monitor_sentence(one, today) for one in traps]
        self._say(column, said or [_("No trap stands in a room of this case.")])

    def _checklist(self, found: Iterable[Condition]) -> QWidget:
        zone = self._context.hotel.zone
        rows = []
        for condition in found:
            is_met = condition.is_met
            mark = f"{MET}  {_('met')}" if is_met else f"{MISSING}  {_('missing')}"
            rows.append((mark, condition_sentence(condition, zone)))
        rows.append((f"{MISSING}  {_('last')}", _("A named person signs and answers for it.")))
        return _table(rows)

    def _say(self, column: QVBoxLayout, lines: Iterable[str], *, role: str = "") -> None:
        for line in lines:
            column.addWidget(text_label(line, role=role))

    # --- making ---------------------------------------------------------------

    def _make_buttons(self) -> None:
        self.to_lift = self._opens(_("Give the room back…"), self.lift)
        self.to_word = self._opens(_("The word was given…"), self.word)
        self.to_place = self._opens(_("Place a trap…"), self.place)
        self.to_read = self._opens(_("Read a trap…"), self.read)
        self.to_close = self._opens(_("Close the case…"), self.close_form)
        self.for_others = offer_if_allowed(
            self._context,
            (
                (self.to_lift, (QuarantineLifted,)),
                (self.to_word, (NoticeGiven,)),
                (self.to_place, (MonitorPlaced,)),
                (self.to_read, (MonitorRead,)),
                (self.to_close, (CaseClosed,)),
            ),
        )

    def _fit_buttons(self) -> None:
        case, hotel = self._case, self._context.hotel
        self._bar.setVisible(case is not None)
        if case is None:
            return
        asks_word = hotel.house.profile.release_by is not Releaser.HOTEL
        self.to_lift.setVisible(bool(case.quarantined))
        self.to_word.setVisible(bool(case.quarantined) and asks_word)
        self.to_read.setVisible(bool(standing_traps(self._context, case)))
        self.to_close.setVisible(case.stage is Stage.RELEASED)
        room = self.room.value()
        is_ready = room is not None and all(
            one.is_met for one in conditions(hotel.house, case.no, RoomNo(room), now=hotel.now())
        )
        is_over = (
            case.stage is Stage.RELEASED and watch_of(hotel.house, case.no, hotel.today()).is_over
        )
        for button, is_main in ((self.to_lift, is_ready), (self.to_close, is_over)):
            mark_main(button, is_main=is_main)

    def _lay_out(self) -> None:
        self._choice = QWidget()
        choice = QHBoxLayout(self._choice)
        choice.setContentsMargins(0, 0, 0, 0)
        named = QLabel(_("Roo&m"))
        named.setBuddy(self.room)
        choice.addWidget(named)
        choice.addWidget(self.room)
        choice.addStretch()
        self._inside = QWidget()
        self._inside.setProperty("role", "plain")
        columns = QHBoxLayout(self._inside)
        columns.setContentsMargins(0, 0, 8, 0)
        columns.setSpacing(24)
        self._left, self._right = QVBoxLayout(), QVBoxLayout()
        for column, share in ((self._left, 5), (self._right, 4)):
            column.setSpacing(6)
            columns.addLayout(column, share)
        scroll = UprightScroll()
        scroll.setWidget(self._inside)
        lines = QVBoxLayout(self._list)
        lines.setContentsMargins(0, 0, 0, 0)
        for widget in (self._bar, self.for_others, self._choice):
            lines.addWidget(widget)
        lines.addWidget(scroll, 1)
        self.setFocusProxy(self.to_lift)


def _table(rows: Iterable[tuple[str, str]]) -> QWidget:
    """Pairs in two columns, the second one wrapping."""
    table = QWidget()
    table.setProperty("role", "plain")
    grid = QGridLayout(table)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setVerticalSpacing(6)
    grid.setHorizontalSpacing(12)
    grid.setColumnStretch(1, 1)
    top = Qt.AlignmentFlag.AlignTop
    for number, (name, said) in enumerate(rows):
        heading = QLabel(name)
        heading.setProperty("role", "muted")
        grid.addWidget(heading, number, 0, top)
        grid.addWidget(text_label(said), number, 1)
    return table
