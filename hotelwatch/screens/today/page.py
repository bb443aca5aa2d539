"""Today: what must happen, said in five seconds, and the way to each of it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.cases.desk_duties import MOVE_GUEST, OTHER_ROOM, with_guests
from hotelwatch.core.cases.duties import Duty, duties
from hotelwatch.core.cases.quarantined import QuarantineRow, quarantine_rows
from hotelwatch.core.checks.slots import SlotRow, published_rows
from hotelwatch.core.checks.today import AskedRoom, Lack, Overdue, asked_rooms, overdue, what_lacks
from hotelwatch.core.facts import RoomNo, Topic
from hotelwatch.core.rounds.morning import morning
from hotelwatch.screens.context import Context
from hotelwatch.screens.day_sheets import ask_and_print
from hotelwatch.screens.next_step import NextStep
from hotelwatch.screens.theme import MAIN
from hotelwatch.screens.today.ahead import BacklogLine, MorningBar
from hotelwatch.screens.today.numbers import NumberButton
from hotelwatch.screens.today.tables import TEAM_COLUMN, asked_table, duties_table, slots_table
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, ngettext

EVERY_MINUTE_MS = 60_000
LOOKS_ASKED = frozenset({"check_room", "check_neighbours"})
"""Steps that stand in the table of looks, room by room."""
LEFT_PX, RIGHT_PX = 540, 520
UPPER_PX, LOWER_PX = 310, 150
SLOT_LINES, DUTY_LINES = 10, 5
"""Lines of text for which the tables leave room at least."""


class TodayPage(QWidget):
    """Four numbers, looks that cases want, today's sheets, what is next in cases."""

    topics = frozenset(Topic)

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._worst: RoomNo | None = None
        self.asked_number = NumberButton(_("Checks that cases ask for"))
        self.sheets_number = NumberButton(_("Rooms on today's sheets"))
        self.quarantine_number = NumberButton(_("Rooms in quarantine"))
        self.overdue_number = NumberButton(_("Undersides overdue"))
        self.asked = asked_table(context)
        self.slots = slots_table()
        self.duties = duties_table(context)
        self._closed: tuple[QuarantineRow, ...] = ()
        self.next_step = NextStep()
        self.begin = NextStep()
        self.again = MorningBar()
        self.backlog = BacklogLine(context)
        self.print_sheets = QPushButton(_("&Print today's sheets…"))
        self.record_asked = QPushButton(_("&Record a check"))
        self.record_slot = QPushButton(_("Re&cord a check"))
        self.open_case = QPushButton(_("Open the ca&se"))
        self._connect()
        self._lay_out()
        self.setFocusProxy(self.asked_number)
        # A deadline passes though nobody writes anything down.
        self._clock = QTimer(self, interval=EVERY_MINUTE_MS)
        self._clock.timeout.connect(self._tick)
        self._clock.start()

    # --- what the window asks -----------------------------------------------

    def refresh(self) -> None:
        """Read the house anew."""
        hotel = self._context.hotel
        house, today, now = hotel.house, hotel.today(), hotel.now()
        lack = what_lacks(house, today)
        self._panes.setCurrentIndex(0 if lack is Lack.NO_ROSTER else 1)
        if lack is not None:
            self.begin.show_lack(lack)
            self.next_step.show_lack(lack)
        self._right.setCurrentIndex(0 if lack is None else 1)
        self._stand_where_work_is(lack)
        for button in (self.print_sheets, self.record_slot):
            button.setVisible(lack is None)
        slots = published_rows(house, hotel.occupancy(), from_on=today, until_on=today, now=now)
        wanted, self._closed = asked_rooms(house, now), quarantine_rows(house, now)
        found = with_guests(house, hotel.occupancy(), duties(house, now), now)
        next_up = [duty for duty in found if duty.step.code not in LOOKS_ASKED]
        self.asked.show_rows(wanted)
        self.slots.view.setColumnHidden(TEAM_COLUMN, len({row.team for row in slots}) <= 1)
        self.slots.show_rows(slots)
        self.duties.show_rows(next_up)
        self.record_asked.setVisible(bool(wanted))
        self.open_case.setVisible(bool(next_up))
        self._count_asked(wanted)
        self._count_slots(slots)
        self._count_quarantine(self._closed)
        self._count_overdue(overdue(house, today))
        self.again.show_morning(None if lack else morning(house, hotel.occupancy(), now))
        self.backlog.refresh()

    def _stand_where_work_is(self, lack: Lack | None) -> None:
        """Let the keyboard come to the next step, else to the first number."""
        steps: dict[Lack | None, QWidget] = {
            None: self.asked_number,
            Lack.NO_ROSTER: self.begin.button,
        }
        self.setFocusProxy(steps.get(lack, self.next_step.button))

    def changeEvent(self, event: QEvent) -> None:
        """Leave room for rows of the new size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "duties"):
            self._leave_room()

    def focus_room(self, room: RoomNo) -> None:
        """Give a room the place wherever it stands on this page."""
        self.slots.show_all()
        for wanted in self.asked.model.rows:
            if wanted.room == room:
                self.asked.select(room)
        for slot in self.slots.model.rows:
            if slot.room == room:
                self.slots.select((slot.team, room))
        for duty in self.duties.model.rows:
            if duty.room == room:
                self.duties.select((duty.case, duty.step.code, room))
                break

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        self.asked_number.clicked.connect(self._lead_asked)
        self.sheets_number.clicked.connect(self._lead_slots)
        self.quarantine_number.clicked.connect(self._lead_quarantine)
        self.overdue_number.clicked.connect(self._lead_overdue)
        self.asked.activated.connect(self._record)
        self.slots.activated.connect(self._record)
        self.duties.activated.connect(self._open_case)
        self.record_asked.clicked.connect(self._record_asked)
        self.record_slot.clicked.connect(self._record_slot)
        self.open_case.clicked.connect(self._open_current_case)
        self.print_sheets.clicked.connect(self._print)
        self.again.wanted.connect(self._plan_again)
        for step in (self.begin, self.next_step):
            step.wanted.connect(self._go)

    def _leave_room(self) -> None:
        line = self.fontMetrics().height()
        self.slots.setMinimumHeight(line * SLOT_LINES)
        self.duties.setMinimumHeight(line * DUTY_LINES)

    def _lay_out(self) -> None:
        self._leave_room()
        self.print_sheets.setProperty("role", MAIN)
        numbers = QHBoxLayout()
        numbers.setSpacing(10)
        for button in (
            self.asked_number,
            self.sheets_number,
            self.quarantine_number,
            self.overdue_number,
        ):
            numbers.addWidget(button, 1)
        self._right = QStackedWidget()
        self._right.addWidget(self.slots)
        self._right.addWidget(self.next_step)
        upper = QSplitter()
        upper.addWidget(_titled(_("What cases want, late first"), self.asked, self.record_asked))
        upper.addWidget(_titled(_("Today's sheets"), self._right, self.record_slot))
        upper.setSizes([LEFT_PX, RIGHT_PX])
        whole = QSplitter(Qt.Orientation.Vertical)
        whole.addWidget(upper)
        whole.addWidget(_titled(_("What is next in cases"), self.duties, self.open_case))
        whole.setSizes([UPPER_PX, LOWER_PX])
        whole.setStretchFactor(0, 2)
        whole.setStretchFactor(1, 1)
        for splitter in (upper, whole):
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(12)
        limit = QLabel(_("A clean look does not prove a clean room."))
        limit.setProperty("role", "muted")
        day = QWidget()
        lines = QVBoxLayout(day)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(numbers)
        lines.addWidget(self.again)
        scroll = QScrollArea(widgetResizable=True)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(whole)
        lines.addWidget(scroll, 1)
        end = QHBoxLayout()
        said = QVBoxLayout()
        said.addWidget(self.backlog)
        said.addWidget(limit)
        end.addLayout(said, 1)
        end.addWidget(self.print_sheets)
        lines.addLayout(end)
        self._panes = QStackedWidget()
        self._panes.addWidget(self.begin)
        self._panes.addWidget(day)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._panes)

    # --- counting -----------------------------------------------------------

    def _count_asked(self, rows: tuple[AskedRoom, ...]) -> None:
        late = sum(row.is_late for row in rows)
        at_risk = sum(row.is_at_risk for row in rows)
        said = [_("{n} late").format(n=late)] if late else []
        said += [_("{n} not planned in time").format(n=at_risk)] if at_risk else []
        self.asked_number.say(
            str(len(rows)), ", ".join(said) or _("None is late"), presses=bool(said)
        )

    def _count_slots(self, rows: tuple[SlotRow, ...]) -> None:
        done = sum(row.is_done for row in rows)
        if not rows:
            detail = _("Nothing on a sheet")
        elif done == len(rows):
            detail = _("All looked at")
        else:
            detail = _("{done} of {all} looked at").format(done=done, all=len(rows))
        self.sheets_number.say(str(len(rows)), detail, presses=False)

    def _count_quarantine(self, rows: tuple[QuarantineRow, ...]) -> None:
        rooms = len({row.room for row in rows})
        cases = len({row.case for row in rows})
        detail = ngettext("Of {n} case", "Of {n} cases", cases).format(n=cases)
        self.quarantine_number.say(
            str(rooms), detail if rooms else _("None is closed"), presses=False
        )

    def _count_overdue(self, found: Overdue) -> None:
        self._worst = found.oldest.room if found.oldest else None
        if found.oldest is None:
            detail = _("All within their cycle")
        else:
            detail = _("Oldest: {room}, {day}").format(
                room=found.oldest.room, day=short_day_text(found.oldest.due_on)
            )
        self.overdue_number.say(str(found.beds), detail, presses=found.beds > 0)

    # --- going on -----------------------------------------------------------

    def _go(self, page: str, room: RoomNo | None = None) -> None:
        if page in self._context.pages:
            self._context.go_to(page, room)

    def _plan_again(self) -> None:
        self._go("rounds")

    def _lead_asked(self) -> None:
        rows = self.asked.model.rows
        self._go("checks", rows[0].room if rows else None)

    def _lead_slots(self) -> None:
        rows = self.slots.model.rows
        if not rows:
            self._go("rounds")
            return
        open_rows = [row for row in rows if not row.is_done] or rows
        self._go("checks", open_rows[0].room)

    def _lead_quarantine(self) -> None:
        self._go("cases", self._closed[0].room if self._closed else None)

    def _lead_overdue(self) -> None:
        self._go("building", self._worst)

    def _record(self, row: AskedRoom | SlotRow) -> None:
        self._go("checks", row.room)

    def _record_asked(self) -> None:
        self._record(self.asked.current() or self.asked.shown_rows()[0])

    def _record_slot(self) -> None:
        row = self.slots.current()
        open_rows = [one for one in self.slots.shown_rows() if not one.is_done]
        if row is not None or open_rows:
            self._record(row or open_rows[0])
        else:
            self._go("checks")

    def _open_case(self, row: Duty) -> None:
        if row.step.code in (MOVE_GUEST, OTHER_ROOM):
            self._go("desk")
            return
        self._go("cases", row.room)

    def _open_current_case(self) -> None:
        self._open_case(self.duties.current() or self.duties.shown_rows()[0])

    def _print(self) -> None:
        ask_and_print(self._context, self._context.hotel.today())

    def _tick(self) -> None:
        if self.isVisible():
            self.refresh()


def _titled(title: str, body: QWidget, *buttons: QPushButton) -> QWidget:
    """A pane with its title, and what can be done there beside it."""
    pane = QWidget()
    heading = QLabel(title)
    heading.setProperty("role", "heading")
    top = QHBoxLayout()
    top.addWidget(heading, 1)
    for button in buttons:
        top.addWidget(button)
    lines = QVBoxLayout(pane)
    lines.setContentsMargins(0, 0, 0, 0)
    lines.addLayout(top)
    lines.addWidget(body, 1)
    return pane
