"""Rooms drawn, moved and split; the drawing follows, and so do the neighbours.

Nothing is written down before Save. Each step can be undone and done again until then.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.drawing import check_new_number, save_drawing
from hotelwatch.core.building.drawing import Drawing
from hotelwatch.core.building.outlines import Outline
from hotelwatch.core.building.redrawing import Change
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.building.draw_tool import DrawTool
from hotelwatch.screens.building.draw_work import DrawWork
from hotelwatch.screens.building.house_view import HouseView
from hotelwatch.screens.building.shape_fields import ShapeFields
from hotelwatch.screens.building.split_fields import SplitFields
from hotelwatch.screens.layout.flow import FlowRow, HeldScroll
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.hug import Hug
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.drawing import flaw_text, ways_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.problems import refusal_sentence

SETTLE_MS = 350
MOST_FLAWS_TOLD = 3
LIST_ROWS = 8


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """One room that is a neighbour in other ways than before."""

    room: str
    what: str
    is_gained: bool


class DrawPanel(QFrame):
    """Numbers, splitting, undo, neighbours and what is wrong; at the side of the drawing."""

    previewed = Signal(object)
    """The Building as it would be."""
    wanted = Signal(object)
    """A room that was pressed on the drawing."""
    left = Signal()
    """Saved or thrown away."""

    def __init__(self, context: Context, view: HouseView) -> None:
        """Nothing to draw before ``begin``; ``view`` is where one draws by hand."""
        super().__init__()
        self.setProperty("role", "card")
        self._context, self._view = context, view
        self.work = DrawWork(self)
        self.work.tried_changed.connect(self._show_tried)
        self.work.course_changed.connect(self._show_course)
        self.title, self.how = QLabel(), QLabel(wordWrap=True)
        self.title.setProperty("role", "title")
        self.how.setProperty("role", "muted")
        self.shape, self.split = ShapeFields(), SplitFields()
        self._tool = DrawTool(self.work, view, self._press, self.split.line)
        self.split.line_changed.connect(view.update)
        self.shape.drawn.connect(self._try)
        self.split.wanted.connect(self._split)
        self.take_back = QPushButton(_("&As laid out again"))
        self.take_back.setToolTip(_("Let the room lie where the roster lays it out"))
        self.take_back.clicked.connect(self.work.take_back)
        self.undo, self.redo = QPushButton(_("&Undo step")), QPushButton(_("&Redo step"))
        self.undo.clicked.connect(self._undo)
        self.redo.clicked.connect(self._redo)
        self.flaws, self.said = QLabel(wordWrap=True), QLabel(wordWrap=True)
        self.flaws.setProperty("role", "problem")
        self.beside = QLabel(wordWrap=True)
        self.neighbours = self._make_list()
        Hug(self.neighbours, LIST_ROWS)
        self.save = QPushButton(_("&Save the drawing"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.cancel = QPushButton(_("&Leave"))
        self.cancel.clicked.connect(self.leave)
        self._settling = QTimer(self, singleShot=True, interval=SETTLE_MS)
        self._settling.timeout.connect(self.work.settle)
        self._lay_out()

    # --- coming and going ---------------------------------------------------

    def begin(self, room: RoomNo | None) -> None:
        """Start from what is written down, with a room in hand."""
        hotel = self._context.hotel
        self.work.begin(hotel.house, hotel.building)
        self._view.tool = self._tool
        self._view.installEventFilter(self)
        self.work.choose(room)
        (self.shape.east if self.work.room else self._view).setFocus()

    def refresh(self) -> None:
        """Another desk changed the building: what is drawn here starts from that."""
        hotel = self._context.hotel
        if not self.work.is_changed:
            room = self.work.room
            self.work.begin(hotel.house, hotel.building)
            self.work.choose(room)

    def choose(self, room: RoomNo | None) -> None:
        """Take the room in hand that is chosen elsewhere."""
        if room is not None and room != self.work.room:
            self._settling.stop()
            self.work.settle()
            self.work.choose(room)

    def leave(self) -> None:
        """Go back; what is drawn and not saved is asked for first."""
        self._settling.stop()
        self.work.settle()
        if not self.work.is_changed:
            self._go()
            return
        self._context.notices.ask(
            _("What you drew is not saved. Throw it away?"), _("Throw away"), self._go
        )

    def unsaved(self) -> tuple[str, ...]:
        """What is drawn and not saved."""
        if self._view.tool is self._tool and self.work.is_changed:
            return (_("Rooms that you drew are not saved."),)
        return ()

    def _go(self) -> None:
        self._view.tool = None
        self._view.removeEventFilter(self)
        self._view.unsetCursor()
        self.left.emit()

    def _save(self) -> None:
        self._settling.stop()
        self.work.settle()
        with self._context.notices.refusals():
            changes = save_drawing(self._context.hotel, self.work.course.now)
            self._go()
            self._context.notices.done(
                _("The drawing is saved. Neighbours follow from it.")
                if changes.topics
                else _("Nothing was changed, so nothing was written down.")
            )

    # --- steps --------------------------------------------------------------

    def _try(self, outline: Outline, is_step: bool) -> None:
        """Show what is typed at once; when typing rests it is a step."""
        if is_step:
            self._settling.stop()
            self.work.settle()
        self.work.try_outline(outline)
        if is_step:
            self.work.settle()
        else:
            self._settling.start()

    def _undo(self) -> None:
        self._settling.stop()
        self.work.settle()
        self.work.undo()

    def _redo(self) -> None:
        self._settling.stop()
        self.work.settle()
        self.work.redo()

    def _split(self) -> None:
        room, halves = self.work.room, self.split.halves()
        if room is None:
            return
        new = self.split.new_room(room)
        try:
            check_new_number(self._context.hotel.house, new.room)
            if self.work.shape_of(new.room) is not None:
                raise Refusal("room_exists", room=new.room)
        except Refusal as refusal:
            self._say(" ".join(refusal_sentence(refusal)), is_problem=True)
            self.split.number.setFocus()
            return
        if halves is None:
            said = _("The cut misses the room. Type a smaller number of metres.")
            self._say(said, is_problem=True)
            self.split.at.setFocus()
            return
        self.work.split(new, *halves)
        self._say(
            _("Room {room} was split; the new room is {new}.").format(room=room, new=new.room)
        )

    def _press(self, room: object) -> None:
        self._settling.stop()
        self.work.settle()
        self.work.choose(room)  # type: ignore[arg-type]
        self.wanted.emit(room)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Ctrl+Z and Ctrl+Y go back and forth over the drawing; Escape leaves."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif not (self._tool.wants(event) and self._tool.key(event)):
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Keep Ctrl+Z for the drawing while one draws."""
        if self._is_ours(event):
            event.accept()
            return True
        return super().event(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The same where one draws by hand; Escape there leaves."""
        if self._is_ours(event):
            event.accept()
            return True
        is_press = event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent)
        if is_press and self._leaves(event):  # type: ignore[arg-type]
            self.leave()
            return True
        return False

    def _leaves(self, event: QKeyEvent) -> bool:
        return event.key() == Qt.Key.Key_Escape and not self._tool.key(event)

    def _is_ours(self, event: QEvent) -> bool:
        is_override = event.type() == QEvent.Type.ShortcutOverride
        return is_override and isinstance(event, QKeyEvent) and self._tool.wants(event)

    # --- what is shown --------------------------------------------------------

    def _show_tried(self) -> None:
        room, tried = self.work.room, self.work.tried()
        self._body.setEnabled(room is not None)
        if room is None or tried is None:
            self.title.setText(_("Draw rooms"))
            self.how.setText(_("Press a room on the drawing, or type its number above it."))
            self._show_changes([])
            return
        self.title.setText(_("Room {room}").format(room=room))
        self.how.setText(
            _("Drawn by hand.") if self.work.is_drawn(room) else _("Laid out from the roster.")
        )
        self.shape.show_outline(tried.outline)
        house = self._context.hotel.house
        self.split.show_room(tried.outline, house.beds_of(room))
        self.take_back.setEnabled(self.work.is_drawn(room) and room in house.rooms)
        self._show_changes([_row_of(change, room) for change in tried.changes])
        flaws = tried.flaws or self.work.all_flaws()
        told = [flaw_text(flaw) for flaw in flaws[:MOST_FLAWS_TOLD]]
        self.flaws.setText("\n".join(told))
        self.flaws.setVisible(bool(told))
        self._allow_steps()
        self._view.update()

    def _show_changes(self, rows: list[ChangeRow]) -> None:
        """In a line who comes and goes, always in view; in the table in which ways."""
        parts = []
        for is_gained, said in ((True, _("new: {rooms}")), (False, _("no more: {rooms}"))):
            rooms = [row.room for row in rows if row.is_gained is is_gained]
            if rooms:
                parts.append(said.format(rooms=", ".join(rooms)))
        told = "; ".join(parts) or _("as before")
        self.beside.setText(_("Neighbours: {told}").format(told=told))
        for widget in (self._changing, self.neighbours):
            widget.setVisible(bool(rows))
        self.neighbours.show_rows(rows)

    def _allow_steps(self) -> None:
        course, is_changed = self.work.course, self.work.is_changed
        self.undo.setEnabled(bool(course.before) or (is_changed and course.now == Drawing()))
        self.redo.setEnabled(bool(course.after))
        self.save.setEnabled(is_changed)

    def _show_course(self) -> None:
        course = self.work.course
        self._allow_steps()
        n = len(course.now.outlines)
        self._say(
            ngettext("{n} room is drawn otherwise.", "{n} rooms are drawn otherwise.", n).format(
                n=n
            )
            if n
            else _("Nothing is changed yet.")
        )
        building = self.work.building()
        if building is not None and self._view.tool is self._tool:
            self.previewed.emit(building)

    def _say(self, text: str, *, is_problem: bool = False) -> None:
        self.said.setText(text)
        self.said.setProperty("role", "problem" if is_problem else "")
        self.said.style().unpolish(self.said)
        self.said.style().polish(self.said)

    # --- making -------------------------------------------------------------

    def _make_list(self) -> RowTable[ChangeRow]:
        return RowTable(
            [
                Column[ChangeRow](
                    _("Neighbour"), lambda row: f"{'+' if row.is_gained else '−'} {row.room}"
                ),
                Column[ChangeRow](_("Change"), lambda row: row.what, wraps=True),
            ],
            key=lambda row: (row.room, row.is_gained),
            name=_("Who becomes a neighbour by the drawing, and who is one no more"),
            empty=Empty(_("Neighbours stay as they are written down.")),
            filtered=False,
        )

    def _lay_out(self) -> None:
        self._body = QWidget()
        self._body.setProperty("role", "plain")
        lines = QVBoxLayout(self._body)
        lines.setContentsMargins(0, 0, 8, 0)
        lines.addWidget(_heading(_("Place and size")))
        lines.addWidget(self.shape)
        lines.addWidget(self.take_back)
        lines.addWidget(_heading(_("Split in two")))
        lines.addWidget(self.split)
        self._changing = _heading(_("Neighbours that change"))
        lines.addWidget(self._changing)
        lines.addWidget(self.neighbours)
        lines.addStretch()
        scroll = HeldScroll()
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(self._body)
        steps, ends = FlowRow(), QHBoxLayout()
        for button in (self.undo, self.redo):
            steps.flow.addWidget(button)
        ends.addWidget(self.cancel)
        ends.addStretch()
        ends.addWidget(self.save)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 10, 14, 10)
        for widget in (self.title, self.how, self.flaws):
            whole.addWidget(widget)
        whole.addWidget(scroll, 1)
        whole.addWidget(self.beside)
        whole.addWidget(self.said)
        whole.addWidget(steps)
        whole.addLayout(ends)
        self.flaws.hide()


def _row_of(change: Change, room: RoomNo) -> ChangeRow:
    gained = bool(change.gained)
    other = change.other if change.room == room else f"{change.room} – {change.other}"
    parts = []
    if change.gained:
        parts.append(_("now: {ways}").format(ways=ways_text(change.gained)))
    if change.lost:
        parts.append(_("no more: {ways}").format(ways=ways_text(change.lost)))
    return ChangeRow(other, "; ".join(parts), gained)


def _heading(text: str) -> QLabel:
    heading = QLabel(text, wordWrap=True)
    heading.setProperty("role", "heading")
    return heading
