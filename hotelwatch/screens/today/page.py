"""Today: what must happen and by whom, what is closed, what is late, how sure one may be."""

from __future__ import annotations

from collections.abc import Callable, Hashable

from PySide6.QtCore import QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import SlotRow
from hotelwatch.core.checks.today import Lack, what_lacks
from hotelwatch.core.facts import RoomNo, RoundPublished, Topic
from hotelwatch.core.roles import Sight
from hotelwatch.core.rounds.morning import morning
from hotelwatch.core.stays.kept_nights import sold_nights
from hotelwatch.core.whole.day import DayPicture, Part, TeamToday, day_picture
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.day_sheets import print_sheets_of, tip_for_sheets
from hotelwatch.screens.at_hand.next_step import NextStep
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.today.ahead import BacklogLine, MorningBar, WayBar
from hotelwatch.screens.today.behind import Behind
from hotelwatch.screens.today.seen import seen
from hotelwatch.screens.today.strips import Strip
from hotelwatch.screens.today.sure import SureTile
from hotelwatch.screens.today.tiles import Tile
from hotelwatch.wording.asked import sold_nights_sentence
from hotelwatch.wording.day_picture import (
    closed_lines,
    closed_words,
    late_lines,
    late_words,
    looks_lines,
    looks_words,
    part_name,
    team_count,
)
from hotelwatch.wording.language import _

EVERY_MINUTE_MS = 60_000
WIDE_FROM_LETTERS = 115
"""From so many letters on, tiles stand in one row and strips beside what is behind them."""
STRIPS_SHARE, BEHIND_SHARE = 3, 7
LOOKS, CLOSED, LATE = "looks", "closed", "late"


class TodayPage(QWidget):
    """Four tiles, a strip for each team and person, and the rooms behind what was pressed."""

    topics = frozenset(Topic)

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.told: DayPicture | None = None
        self._chosen: Hashable = None
        self._picks: dict[Hashable, QPushButton] = {}
        self.looks, self.closed, self.late = Tile(), Tile(), Tile()
        self.sure = SureTile(context)
        self.strips: list[Strip] = []
        self.behind = Behind(context)
        self.next_step, self.begin = NextStep(), NextStep()
        self.again = MorningBar()
        self.sold = WayBar(_("Go to front &desk"))
        self.backlog = BacklogLine(context)
        self.print_sheets = QPushButton(_("&Print today's sheets"))
        self.print_sheets.setToolTip(tip_for_sheets())
        self._lay_out()
        self._connect()
        self.setFocusProxy(self.looks)
        # A deadline passes though nobody writes anything down.
        self._clock = QTimer(self, interval=EVERY_MINUTE_MS)
        self._clock.timeout.connect(self._tick)
        self._clock.start()

    # --- what the window asks -----------------------------------------------

    def refresh(self) -> None:
        """Read the house anew."""
        hotel = self._context.hotel
        house, now = hotel.house, hotel.now()
        lack = what_lacks(house, hotel.today())
        self._panes.setCurrentIndex(0 if lack is Lack.NO_ROSTER else 1)
        if lack is not None:
            reason = Calendar(house).closed_reason(hotel.today()) or ""
            self.begin.show_lack(lack)
            self.next_step.show_lack(lack, reason)
        self.print_sheets.setVisible(lack is None and self._context.sees(Sight.ROUNDS))
        whole = day_picture(house, hotel.occupancy(), now)
        told = self.told = seen(whole, self._context)
        self._leave_out(told)
        self._show_tiles(told)
        self._show_strips(told)
        self._show_ways_on(lack, [row for team in whole.teams for row in team.rows])
        self._arrange()
        self._stand_where_work_is(lack)
        self._choose_again()
        self.backlog.refresh()
        self.sure.refresh()

    def _leave_out(self, told: DayPicture) -> None:
        """Hide what is none of the business of who sits there."""
        sees = self._context.sees
        self.looks.setVisible(sees(Sight.CHECKS))
        # Who does not see looks is not told that nothing is late.
        self.late.setVisible(sees(Sight.CHECKS) or bool(told.late))
        self.closed.setVisible(sees(Sight.CASES))
        self.sure.setVisible(sees(Sight.ODDS))
        self.backlog.setVisible(sees(Sight.ROUNDS))

    def focus_room(self, room: RoomNo) -> None:
        """Give a room the place wherever it stands on this page."""
        for key in (self._chosen, LOOKS, LATE, CLOSED, *self._picks):
            if key in self._picks and self._picks[key].isEnabled():
                self._show_behind(key)
                if self.behind.focus_room(room):
                    return

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand side by side where there is room."""
        super().resizeEvent(event)
        self._arrange()

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        self._group = QButtonGroup(self)
        for key, tile in ((LOOKS, self.looks), (CLOSED, self.closed), (LATE, self.late)):
            tile.setCheckable(True)
            self._group.addButton(tile)
            self._picks[key] = tile
        self._group.buttonClicked.connect(self._pick)
        self.behind.wanted.connect(self._go)
        self.behind.rooms_wanted.connect(self._context.go_to_rooms)
        self.sure.clicked.connect(lambda: self._go("odds"))
        self.print_sheets.clicked.connect(self._print)
        self.again.wanted.connect(lambda: self._go("rounds"))
        self.sold.wanted.connect(lambda: self._go("desk"))
        for step in (self.begin, self.next_step):
            step.wanted.connect(self._go)

    def _lay_out(self) -> None:
        self.print_sheets.setProperty("role", MAIN)
        self._tiles = QGridLayout()
        self._tiles.setSpacing(10)
        self._lines = QVBoxLayout()
        self._lines.setSpacing(6)
        self._who = QLabel(_("Who has what to do"))
        self._who.setProperty("role", "heading")
        self._left = QWidget()
        column = QVBoxLayout(self._left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._who)
        column.addWidget(self.next_step)
        column.addLayout(self._lines)
        column.addStretch(1)
        self._both = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._both.setSpacing(16)
        self._scroll = _scrolling(self._left)
        self._both.addWidget(self._scroll, STRIPS_SHARE)
        self._both.addWidget(self.behind, BEHIND_SHARE)
        day = QWidget()
        lines = QVBoxLayout(day)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(10)
        lines.addLayout(self._tiles)
        lines.addWidget(self.again)
        lines.addWidget(self.sold)
        lines.addLayout(self._both, 1)
        lines.addLayout(self._foot())
        self._panes = QStackedWidget()
        self._panes.addWidget(self.begin)
        self._panes.addWidget(_scrolling(day))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._panes)
        self._arrange()

    def _foot(self) -> QHBoxLayout:
        limit = QLabel(_("A clean look does not prove a clean room."))
        limit.setProperty("role", "muted")
        said = QVBoxLayout()
        said.setSpacing(0)
        said.addWidget(self.backlog)
        said.addWidget(limit)
        foot = QHBoxLayout()
        foot.addLayout(said, 1)
        foot.addWidget(self.print_sheets)
        return foot

    def _arrange(self) -> None:
        """Tiles in one row or two, strips beside or above what is behind them."""
        is_wide = self.width() >= WIDE_FROM_LETTERS * self.fontMetrics().averageCharWidth()
        tiles = (self.looks, self.closed, self.late, self.sure)
        columns = len(tiles) if is_wide else len(tiles) // 2
        for number, tile in enumerate(tiles):
            self._tiles.addWidget(tile, number // columns, number % columns)
        for column in range(len(tiles)):
            self._tiles.setColumnStretch(column, int(column < columns))
        way = QBoxLayout.Direction
        self._both.setDirection(way.LeftToRight if is_wide else way.TopToBottom)
        self.behind.stand(is_beside=is_wide)
        self._who.setMinimumHeight(self.behind.act.sizeHint().height() if is_wide else 0)
        # One below the other, strips scroll with the page and not within it.
        lines = self._left.layout()
        high = 0 if is_wide or lines is None else lines.totalHeightForWidth(self.width())
        self._scroll.setMinimumHeight(max(0, high))

    # --- showing --------------------------------------------------------------

    def _show_tiles(self, told: DayPicture) -> None:
        hotel = self._context.hotel
        zone, today = hotel.zone, hotel.today()
        self.looks.say(
            looks_words(told), looks_lines(told, zone, today=today), leads=bool(told.rooms)
        )
        self.closed.say(
            closed_words(told.closed), closed_lines(told.closed, zone), leads=bool(told.closed)
        )
        late = bool(told.late)
        self.late.say(late_words(told), late_lines(told), is_pressing=late, leads=late)

    def _show_strips(self, told: DayPicture) -> None:
        """A strip for each team and each person; those there are keep their place."""
        hotel = self._context.hotel
        wanted: list[TeamToday | Part] = [*told.teams, *told.parts]
        while len(self.strips) < len(wanted):
            strip = Strip()
            self.strips.append(strip)
            self._lines.addWidget(strip)
        for key in [key for key, pick in self._picks.items() if pick in self.strips]:
            del self._picks[key]
        for number, strip in enumerate(self.strips):
            strip.setVisible(number < len(wanted))
            if number >= len(wanted):
                self._group.removeButton(strip)
                continue
            self._group.addButton(strip)
            one = wanted[number]
            if isinstance(one, TeamToday):
                strip.show_team(one)
            else:
                strip.show_part(one, hotel.zone, today=hotel.today())
            self._picks[_key_of(one)] = strip

    def _show_ways_on(self, lack: Lack | None, slots: list[SlotRow]) -> None:
        """Offer to plan the day, where a round was published for it, or else what comes before."""
        hotel = self._context.hotel
        may_plan = self._context.may(RoundPublished)
        is_empty = lack is Lack.NOTHING_ON_SHEETS
        again = None
        if may_plan and (lack is None or is_empty):
            again = morning(hotel.house, hotel.occupancy(), hotel.now(), rows=slots)
        self.again.show_morning(again, is_empty=is_empty)
        self.next_step.setVisible(lack is not None and may_plan and self.again.isHidden())
        sold = sold_nights(hotel.house, hotel.occupancy(), hotel.today())
        is_theirs = self._context.sees(Sight.ROUNDS) or self._context.sees(Sight.DESK)
        self.sold.say(sold_nights_sentence(sold) if sold and is_theirs else "")
        self.sold.button.setVisible("desk" in self._context.pages)

    def _stand_where_work_is(self, lack: Lack | None) -> None:
        """Let the keyboard come to the next step, else to the first tile that presses."""
        tiles = (self.looks, self.late, self.closed, self.sure)
        first: QWidget = next((tile for tile in tiles if tile.isEnabled()), self.sure)
        if lack is Lack.NO_ROSTER:
            first = self.begin.button
        elif not self.next_step.isHidden():
            first = self.next_step.button
        self.setFocusProxy(first)

    def _choose_again(self) -> None:
        """Keep to what was pressed while it is there; else the first with something behind it."""
        able = [key for key, pick in self._picks.items() if pick.isEnabled()]
        if self._chosen not in able:
            self._chosen = next(iter(able), None)
        self.behind.setVisible(self._chosen is not None)
        if self._chosen is None:
            self._group.setExclusive(False)
            for button in self._group.buttons():
                button.setChecked(False)
            self._group.setExclusive(True)
            return
        self._show_behind(self._chosen)

    def _pick(self, button: QPushButton) -> None:
        key = next(key for key, pick in self._picks.items() if pick is button)
        self._show_behind(key)

    def _show_behind(self, key: Hashable) -> None:
        """Show what is behind a tile or a strip."""
        told = self.told
        if told is None:
            return
        self._chosen = key
        self._picks[key].setChecked(True)
        if key in (LOOKS, CLOSED, LATE) and self.next_step.isHidden():
            # Coming back, one stands on what is shown, not beside it.
            self.setFocusProxy(self._picks[key])
        shows: dict[Hashable, Callable[[], None]] = {
            LOOKS: lambda: self.behind.show_rooms(
                looks_words(told), told.rooms, of_one_team=len(told.teams) == 1 and not _loose(told)
            ),
            CLOSED: lambda: self.behind.show_closed(closed_words(told.closed), told.closed),
            LATE: lambda: self.behind.show_late(late_words(told), told.late),
        }
        if key in shows:
            shows[key]()
            return
        everybody: list[TeamToday | Part] = [*told.teams, *told.parts]
        one = next(one for one in everybody if _key_of(one) == key)
        if isinstance(one, TeamToday):
            rows = [row for row in told.rooms if row.team == one.team]
            title = _("{team}: {count}").format(team=one.team, count=team_count(one))
            self.behind.show_rooms(title, rows, of_one_team=True)
        else:
            self.behind.show_duties(part_name(one), one.duties)

    # --- going on -----------------------------------------------------------

    def _go(self, page: str, room: RoomNo | None = None) -> None:
        if page in self._context.pages:
            self._context.go_to(page, room)

    def _print(self) -> None:
        print_sheets_of(self._context, self._context.hotel.today())

    def _tick(self) -> None:
        if self.isVisible():
            self.refresh()


def _key_of(one: TeamToday | Part) -> Hashable:
    if isinstance(one, TeamToday):
        return "team", one.team
    return "part", one.role, one.owner


def _loose(told: DayPicture) -> bool:
    """Whether a room is to be looked at that no team has today."""
    return any(row.team is None for row in told.rooms)


def _scrolling(body: QWidget) -> QScrollArea:
    scroll = UprightScroll()
    scroll.setWidget(body)
    return scroll
