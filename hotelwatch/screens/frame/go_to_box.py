"""One line in which one types a room's number, or what the window can do, and is there.

``goals_in_house`` and ``goals_in_menus`` list what can be named, ``fitting`` narrows it to
what is typed, and ``GoToBox`` shows it. The line keeps the keyboard all the while; each
step of the arrows is told to screen readers.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import partial
from typing import Protocol

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QAction,
    QKeyEvent,
    QKeySequence,
)
from PySide6.QtWidgets import (
    QHeaderView,
    QLabel,
    QLineEdit,
    QMenu,
    QTreeWidget,
    QTreeWidgetItem,
    QWidget,
)

from hotelwatch.core.cases.case import stage_of
from hotelwatch.core.facts import CaseNo, RoomDescribed, RoomNo
from hotelwatch.core.house import House
from hotelwatch.screens.layout.box import Box
from hotelwatch.screens.tables.model import folded
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label

MOST_SHOWN = 50
LETTERS_WIDE = 74
LINES_HIGH = 22
MOST_OF_WINDOW = 0.9
PAGE_ROWS = 8
ROW_AIR_PX = 10
STEPS = {
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_PageUp: -PAGE_ROWS,
    Qt.Key.Key_PageDown: PAGE_ROWS,
}


class Kind(IntEnum):
    """What is named; of what fits equally well the first kind comes first."""

    ROOM = 1
    CASE = 2
    PAGE = 3
    ACTION = 4
    TAB = 5


@dataclass(frozen=True, slots=True)
class Goal:
    """Something that can be named, and what happens when it is."""

    kind: Kind
    name: str
    """What one types: "104"."""
    text: str
    """What is shown: "Room 104"."""
    beside: str
    go: Callable[[], object]
    keys: str = ""
    is_possible: bool = True


@dataclass(frozen=True, slots=True)
class Ways:
    """How one comes to a room and to a case; None where no page shows them."""

    to_room: Callable[[RoomNo], object] | None
    to_case: Callable[[CaseNo], object] | None


def goals_in_house(house: House, ways: Ways) -> tuple[Goal, ...]:
    """Every room in use, known by its beds too, and every case, the newest first."""
    goals = []
    if ways.to_room is not None:
        for no, room in house.rooms.items():
            text, going = _("Room {room}").format(room=no), partial(ways.to_room, no)
            goals.append(Goal(Kind.ROOM, no, text, _about_room(house, room), going))
    if ways.to_case is not None:
        for case in sorted(house.sightings, reverse=True):
            text, going = _("Case {case}").format(case=case), partial(ways.to_case, case)
            goals.append(Goal(Kind.CASE, case, text, _about_case(house, case), going))
    return tuple(goals)


def goals_in_menus(
    menus: Sequence[QMenu], pages: Collection[QAction], *, besides: QAction
) -> tuple[Goal, ...]:
    """Every action of the menus but ``besides``; those in ``pages`` are pages."""
    inner = {menu.menuAction() for menu in menus}
    goals = []
    for menu in menus:
        for action in menu.actions():
            is_hidden = not action.isVisible() or not name_of(action)
            if action in inner or action is besides or is_hidden:
                continue
            is_page = action in pages
            of = _("Menu {menu}").format(menu=menu.title().replace("&", ""))
            goals.append(
                Goal(
                    Kind.PAGE if is_page else Kind.ACTION,
                    name_of(action),
                    name_of(action),
                    _("Page") if is_page else of,
                    action.trigger,
                    action.shortcut().toString(QKeySequence.SequenceFormat.NativeText),
                    is_possible=action.isEnabled(),
                )
            )
    return tuple(goals)


def name_of(action: QAction) -> str:
    """An action's text without the mark of its Alt letter and without dots."""
    return action.text().replace("&", "").rstrip("…")


class Finder:
    """Narrows goals to what is typed; what is compared is made ready once."""

    def __init__(self, goals: Iterable[Goal]) -> None:
        """Look among these."""
        self.goals = tuple(goals)
        self._words = {Kind.ROOM: folded(_("Room")), Kind.CASE: folded(_("Case"))}
        self._ready = [
            (goal, folded(goal.name), folded(f"{goal.name} {goal.beside} {goal.keys}"))
            for goal in self.goals
        ]

    def fitting(self, typed: str) -> tuple[Goal, ...]:
        """What fits, the best first; while nothing is typed, pages and actions.

        First what has exactly this name, then what begins with it, then what holds it,
        then what has every word somewhere: "104", "room 104", "lake 2", "load".
        """
        words = folded(typed).split()
        if not words:
            named = [goal for goal in self.goals if goal.kind in (Kind.PAGE, Kind.ACTION)]
            return tuple(sorted(named, key=lambda goal: (not goal.is_possible, goal.kind)))
        found = []
        for order, (goal, name, whole) in enumerate(self._ready):
            said_kind = words[0] == self._words.get(goal.kind)
            rank = _rank(words[1:] if said_kind else words, name, whole)
            if rank is not None:
                found.append((rank, goal.kind, order, goal))
        return tuple(goal for *_place, goal in sorted(found, key=lambda one: one[:3]))


def _rank(words: Sequence[str], name: str, whole: str) -> int | None:
    """How well it fits, 0 best; None for not at all."""
    typed = " ".join(words)
    if typed == name:
        return 0
    if typed and name.startswith(typed):
        return 1
    if typed in name:
        return 2
    return 3 if all(word in whole for word in words) else None


class Read(Protocol):
    """Where a sheet's mark leads, or why nowhere."""

    @property
    def goals(self) -> tuple[Goal, ...]:
        """Where one may go, the likeliest first."""

    @property
    def problem(self) -> str:
        """Why nowhere."""


ReadMark = Callable[[str], Read | None]


def not_a_mark(typed: str) -> Read | None:
    """No text is a sheet's mark."""


class GoToBox(Box):
    """The line, what fits what is typed in it, and what to do next."""

    def __init__(
        self,
        goals: Iterable[Goal],
        parent: QWidget,
        *,
        marks: ReadMark = not_a_mark,
        hides_rooms: bool = False,
    ) -> None:
        """Look among these goals; ``marks`` says where a sheet's mark leads.

        ``hides_rooms`` where there are rooms that who sits there may not go to.
        """
        super().__init__(_("Where to?"), parent)
        self._marks = marks
        self.finder = Finder(goals)
        self.hides_rooms = hides_rooms
        self.has_rooms = any(goal.kind is Kind.ROOM for goal in self.finder.goals)
        self.shown: tuple[Goal, ...] = ()
        self.line = QLineEdit()
        self.line.setAccessibleName(_("Room, bed, case, page or action"))
        self.line.setPlaceholderText(self.line.accessibleName())
        self.line.setAccessibleDescription(_("Arrows choose, Enter takes, Esc closes."))
        self.list = self._make_list()
        self.problem = QLabel(wordWrap=True)
        self.problem.setProperty("role", "problem")
        self.problem.setTextFormat(Qt.TextFormat.PlainText)
        self.count = QLabel()
        self.count.setProperty("role", "muted")
        self.heading.setBuddy(self.line)
        for widget in (self.line, self.problem):
            self.lines.addWidget(widget)
        self.lines.addWidget(self.list, 1)
        self.lines.addWidget(self.count)
        self.line.installEventFilter(self)
        self.line.textChanged.connect(self._narrow)
        self.line.returnPressed.connect(self._take_current)
        self.list.itemClicked.connect(self._take_item)
        self.line.setFocus()
        self._narrow("")

    def sizeHint(self) -> QSize:
        """So many letters and lines, within the window."""
        letters = self.fontMetrics()
        wide, high = LETTERS_WIDE * letters.averageCharWidth(), LINES_HIGH * letters.lineSpacing()
        return QSize(wide, high).boundedTo(self._room() * MOST_OF_WINDOW)

    def current(self) -> Goal | None:
        """What Enter takes; None where nothing fits."""
        row = self.list.currentIndex().row()
        return self.shown[row] if 0 <= row < len(self.shown) else None

    def take(self, goal: Goal) -> None:
        """Go there, or say that it can't be done now."""
        if not goal.is_possible:
            self._say(_("“{name}” is not possible now.").format(name=goal.text))
            return
        self.accept()
        goal.go()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let up and down in the line choose in the list."""
        if watched is self.line and isinstance(event, QKeyEvent):
            by = STEPS.get(Qt.Key(event.key()))
            if by is not None:
                if event.type() is QEvent.Type.KeyPress:
                    self._step(by)
                return True
        return super().eventFilter(watched, event)

    # --- making -------------------------------------------------------------

    def _make_list(self) -> QTreeWidget:
        made = QTreeWidget()
        made.setColumnCount(3)
        made.setHeaderHidden(True)
        made.setRootIsDecorated(False)
        made.setUniformRowHeights(True)
        made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        made.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        made.setAccessibleName(_("What fits"))
        header = made.header()
        header.setStretchLastSection(False)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.ResizeToContents)
        return made

    # --- what is shown ------------------------------------------------------

    def _narrow(self, typed: str) -> None:
        read = self._marks(typed)
        found = self.finder.fitting(typed) if read is None else read.goals
        self.shown = found[:MOST_SHOWN]
        self.list.clear()
        self.list.addTopLevelItems([self._item(goal) for goal in self.shown])
        self._stand_on(0)
        self.problem.setVisible(not found)
        self.count.setText(_count_text(len(self.shown), len(found)))
        if found:
            self._tell(self._sentence())
        elif read is not None:
            self._say(read.problem)
        else:
            self._say(self._unknown_text(typed.strip()))

    def _item(self, goal: Goal) -> QTreeWidgetItem:
        beside = goal.beside if goal.is_possible else _("Not possible now")
        item = QTreeWidgetItem([goal.text, beside, goal.keys])
        height = self.fontMetrics().lineSpacing() + ROW_AIR_PX
        item.setSizeHint(1, QSize(0, height))  # the column whose width is what is left
        item.setToolTip(0, goal.text)
        item.setToolTip(1, beside)
        item.setData(0, Qt.ItemDataRole.AccessibleTextRole, _spoken(goal))
        if not goal.is_possible:
            for column in range(3):
                item.setForeground(column, self.palette().placeholderText())
        return item

    def _step(self, by: int) -> None:
        if not self.shown:
            return
        row = self.list.currentIndex().row()
        row = max(0, min(len(self.shown) - 1, row + by))
        self._stand_on(row)
        self.problem.hide()
        self._tell(self._sentence())

    def _stand_on(self, row: int) -> None:
        self.list.setCurrentIndex(self.list.model().index(row, 0))

    def _sentence(self) -> str:
        goal = self.current()
        if goal is None:
            return ""
        return _("{goal}. {place} of {count}.").format(
            goal=_spoken(goal), place=self.shown.index(goal) + 1, count=len(self.shown)
        )

    def _say(self, text: str) -> None:
        self.problem.setText(text)
        self.problem.show()
        self._tell(text)

    def _unknown_text(self, typed: str) -> str:
        if self.has_rooms:
            text = _(
                "Nothing here is called “{typed}”. You may type the number of a room, a bed or "
                "a case, a page's name, or any words of a menu."
            )
        elif self.hides_rooms:
            text = _(
                "Nothing here is called “{typed}”. Your role goes to no room and no case; you may "
                "type a page's name or any words of a menu."
            )
        else:
            text = _(
                "Nothing here is called “{typed}”. No rooms are known yet; you may type a page's "
                "name or any words of a menu."
            )
        return text.format(typed=typed)

    def _tell(self, text: str) -> None:
        self.line.setAccessibleDescription(text)
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self.line, text))

    def _take_current(self) -> None:
        goal = self.current()
        if goal is not None:
            self.take(goal)

    def _take_item(self, item: QTreeWidgetItem, _column: int) -> None:
        self.take(self.shown[self.list.indexOfTopLevelItem(item)])


def _about_room(house: House, room: RoomDescribed) -> str:
    beds = [str(bed.bed) for bed in house.beds_of(room.room)]
    parts = [_("Floor {floor}").format(floor=room.floor), room.wing]
    if beds:
        said = ngettext("Bed {beds}", "Beds {beds}", len(beds))
        parts.append(said.format(beds=", ".join(beds)))
    return " · ".join(part for part in parts if part)


def _about_case(house: House, case: CaseNo) -> str:
    rooms = list(dict.fromkeys(str(kept.fact.room) for kept in house.sightings[case]))
    said = ngettext("Room {rooms}", "Rooms {rooms}", len(rooms)).format(rooms=join(rooms))
    return f"{said} · {label(stage_of(house, case))}"


def _spoken(goal: Goal) -> str:
    parts = [goal.text, goal.beside if goal.is_possible else _("Not possible now"), goal.keys]
    return ", ".join(part for part in parts if part)


def _count_text(shown: int, found: int) -> str:
    said = _("Arrows choose, Enter takes, Esc closes.")
    if shown < found:
        text = _("The first {shown} of {found}; type more to see fewer.")
        return f"{text.format(shown=shown, found=found)} {said}"
    return said
