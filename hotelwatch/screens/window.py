"""The window: where one is, which hotel is open, and the one connection to the bus.

It knows pages only by their PageSpec. Menus are in menus.py, the first screen in
welcome.py, navigation and header in navigation.py.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QMainWindow, QWidget

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.facts import RoomNo, Topic
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.screens.at_hand.bus import Bus
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.at_hand.context import Context, Files, PageSpec
from hotelwatch.screens.at_hand.doors import Doors
from hotelwatch.screens.at_hand.files import FileDialogs
from hotelwatch.screens.at_hand.jobs import JobBar, Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.at_hand.odds_kept import OddsKept
from hotelwatch.screens.drafts.draft_file import DraftFile
from hotelwatch.screens.drafts.kept import Drafts
from hotelwatch.screens.frame.guide import Guide
from hotelwatch.screens.frame.help import keys_on
from hotelwatch.screens.frame.leaving import Doubt, doubt_about_leaving, keep_size
from hotelwatch.screens.frame.menus import Deeds, Menus
from hotelwatch.screens.frame.navigation import Header, HeaderText, Navigation
from hotelwatch.screens.frame.page_stack import ALL_TOPICS, PageStack
from hotelwatch.screens.frame.undoing import Undoing
from hotelwatch.screens.hotel_file.backups import Backups, Leaving
from hotelwatch.screens.hotel_file.opening import Opening, Room
from hotelwatch.screens.hotel_file.record_care import RecordCare
from hotelwatch.screens.hotel_file.welcome import Welcome
from hotelwatch.screens.layout.enter import let_enter_press
from hotelwatch.screens.layout.tab_order import in_turn
from hotelwatch.screens.layout.window_frame import framed
from hotelwatch.screens.loading.drops import Drops, files_in
from hotelwatch.screens.loading.pasting import Pasting
from hotelwatch.screens.loading.settings_drop import SettingsDrop
from hotelwatch.screens.lock.desk_lock import Covered, DeskLock
from hotelwatch.screens.look.theme import Look, TextSize, Theme
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _

LISTEN_EVERY_MS = 1000
TITLE_BAR_PX = 40


class MainWindow(QMainWindow):
    """One window on one hotel's file, or the first screen while none is open."""

    def __init__(
        self,
        doors: Doors,
        specs: Sequence[PageSpec],
        *,
        look: Look,
        store: ChoiceStore,
        files: Files | None = None,
    ) -> None:
        """A window without a hotel; ``show_hotel`` or ``open_path`` gives it one."""
        super().__init__()
        self.hotel: OpenHotel | None = None
        self.doors, self.look, self.store = doors, look, store
        self.files: Files = files if files is not None else FileDialogs(self)
        self.bus, self.jobs, self.notices = Bus(), Jobs(self), Notices()
        self._odds: OddsKept | None = None
        self._day: date | None = None
        self._told_code, self._is_leaving = "", False
        look.dress(self)
        self.stack = PageStack(specs, self.notices)
        room = Room(self.show_hotel, self._all_pages, self._adapt_menus)
        self.opening = Opening(self, room, self)
        self._lay_out()
        self.backups = Backups(self, Leaving(self._leave_hotel, self.desk.ask), self)
        self.opening.way_back = self.backups.way_back
        self.care = RecordCare(self.notices, files=self.files, jobs=self.jobs, parent=self)
        self.drafts = Drafts(self.notices, stack=self.stack, bus=self.bus, parent=self)
        self.desk.entered.connect(self.drafts.offer)
        self.undoing = Undoing(self.notices, hotel=lambda: self.hotel, bus=self.bus, parent=self)
        settings = SettingsDrop(
            self.notices, hotel=lambda: self.hotel, walk_to=self.walk_to, parent=self
        ).take
        self.drops = Drops(
            self.notices,
            jobs=self.jobs,
            open_path=self.opening.ask_to_open,
            load=self.load_table,
            settings=settings,
            parent=self,
        )
        self.pasting = Pasting(
            self.notices,
            jobs=self.jobs,
            load=self.load_table,
            settings=settings,
            has_rooms=lambda: self.hotel is not None and bool(self.hotel.house.rooms),
            parent=self,
        )
        self.setAcceptDrops(True)
        self.menus = self._make_menus()
        self.bus.changed.connect(self._hear)
        self.jobs.failed.connect(self.notices.fail)
        self.jobs.idle.connect(self._leave_if_asked, Qt.ConnectionType.QueuedConnection)
        self._listen = QTimer(self, interval=LISTEN_EVERY_MS)
        self._listen.timeout.connect(self.listen)
        self.setWindowTitle("hotelwatch")
        self.setMinimumSize(960, 600)
        self._fit_screen(store.choices.width, store.choices.height)
        self.show_welcome()

    def _fit_screen(self, width: int, height: int) -> None:
        """Take that size, or what the screen has beside its bars and the window's title."""
        room = self.screen().availableSize()
        self.resize(min(width, room.width()), min(height, room.height() - TITLE_BAR_PX))

    def _lay_out(self) -> None:
        in_navigation = [spec for spec in self.stack.specs.values() if spec.in_navigation]
        self.navigation = Navigation(in_navigation)
        self.navigation.picked.connect(self.walk_to)
        self.stack.shown.connect(self.navigation.show_place)
        self.header = Header(can_log=self.stack.can_log)
        self.header.writer_changed.connect(self.write_as)
        self.header.sighting_wanted.connect(self.log_sighting)
        self.welcome = Welcome(self.doors.folder, self.doors.zone, self.stack.come_back)
        self.welcome.demo_wanted.connect(self.opening.open_demo)
        self.welcome.open_wanted.connect(self.opening.choose_file)
        self.welcome.start_wanted.connect(self.opening.start)
        self.opening.reading.connect(self.welcome.show_opening)
        self.opening.failed.connect(self.welcome.show_choices)
        self.stack.addWidget(self.welcome)
        self.job_bar = JobBar(self.jobs)
        self.guide = Guide(self.store, lambda: self.stack.shown_keys)
        self.guide.wanted.connect(self.walk_to)
        self.guide.new_wanted.connect(self.new_hotel)
        self.stack.shown.connect(self.guide.stand_on)
        inside = (self.guide, self.notices, self.stack, self.job_bar)
        around = (self.navigation, self.header)
        whole = framed(*around, inside, pages=self.stack, bare=self.welcome)
        self.desk = DeskLock(self, Covered(whole, self.stack, self.notices, self.jobs))
        self.desk.entered.connect(self._fit_to_person)
        self.desk.screen.other_wanted.connect(self._leave_locked)
        self.header.lock_wanted.connect(self.desk.lock)
        self.setCentralWidget(self.desk.cover)
        let_enter_press(self)

    def _make_menus(self) -> Menus:
        deeds = Deeds(
            new_hotel=self.new_hotel,
            choose_file=self.opening.choose_file,
            open_path=self.opening.ask_to_open,
            forget=self._forget_files,
            page_keys=lambda: keys_on(self.stack),
            back_up=lambda: self.of_record(self.care.back_up),
            backups=self.backups.show,
            check_record=lambda: self.of_record(self.care.check),
            export=lambda: self.of_record(self.care.export),
            take_in=lambda: self.care.take_in(self.open_path),
            lock=self.desk.lock,
            change_pin=self.desk.change_pin,
            undoing=self.undoing,
            paste=self.pasting.paste,
            show_way=self.guide.resume,
            quit=self.close,
            walk_to=self.walk_to,
            log_sighting=self.log_sighting if self.stack.can_log else None,
            wear=self.wear,
            house=lambda: self.hotel.house if self.hotel is not None else None,
            go_to=self.stack.go_to,
            go_to_case=self.stack.go_to_case,
            go_to_tab=self.walk_to,
            go_to_sheet=self.stack.go_to_sheet,
        )
        return Menus(
            self, deeds, specs=tuple(self.stack.specs.values()), choices=self.store.choices
        )

    def _forget_files(self, files: tuple[str, ...]) -> None:
        self.store.keep(self.store.choices.forgetting(files))
        self._adapt_menus()

    def _adapt_menus(self) -> None:
        recent, rights = self.store.choices.recent, self.desk.rights()
        self.menus.adapt(is_open=self.hotel is not None, recent=recent, rights=rights)

    # --- coming by a hotel --------------------------------------------------

    def show_welcome(self) -> None:
        """Show the first screen."""
        self.stack.setCurrentWidget(self.welcome)
        self.welcome.show_choices()
        self._adapt_menus()

    def new_hotel(self) -> None:
        """Ask what the new hotel is called and where its file goes."""
        self.show_welcome()
        self.welcome.show_form()

    def open_path(self, path: Path) -> bool:
        """Open a hotel's file at once; False, and why in a notice, if it can't be opened."""
        return self.opening.open_at_once(path)

    def show_hotel(self, hotel: OpenHotel) -> None:
        """Work on this hotel from now on; the one before is closed."""
        self._leave_hotel()
        self.hotel = hotel
        hotel.announce = self.bus.announce
        self._odds = OddsKept(hotel, self.jobs, self)
        self.store.keep(self.store.choices.opened(hotel.path))
        self.header.writer.offer(self.store.names())
        self.header.writer.setText(hotel.by)
        self.desk.begin(hotel, partial(self._context, hotel))
        self._listen.start()
        self.drafts.begin(hotel, DraftFile(self.doors.drafts, hotel.path))
        self.guide.begin(hotel)
        self.backups.begin(hotel)

    def _context(self, hotel: OpenHotel) -> Context:
        assert self._odds is not None  # kept as soon as a hotel is open
        return Context(
            hotel=hotel,
            bus=self.bus,
            jobs=self.jobs,
            notices=self.notices,
            files=self.files,
            people=self.store,
            go_to=self.stack.go_to,
            go_to_rooms=self.stack.go_to_rooms,
            log_sighting=self.log_sighting,
            pages=self.desk.shown_pages(),
            odds=self._odds,
            copied_to=lambda: self.store.choices.backup_place,
        )

    def _fit_to_person(self) -> None:
        """Offer what who sits there may see and do."""
        rights = self.desk.rights()
        self.header.show_person(self.desk.seated_text(), logs=rights.logs)
        self.navigation.offer(self.desk.shown_pages())
        self._say_where()
        self._adapt_menus()

    def _leave_locked(self) -> None:
        """Leave a hotel that is locked for another one, unless something would be lost."""
        doubt = self._doubt()
        if doubt is not None:
            self.desk.ask(doubt, self._stop_and_close)
        else:
            self._leave_hotel()
            self.show_welcome()

    def _leave_hotel(self) -> None:
        self._listen.stop()
        self.drafts.leave()
        self.guide.leave()
        self.pasting.forget()
        self.jobs.stop_all()
        self.notices.clear()
        self.desk.end()
        self.stack.use(None)
        if self._odds is not None:
            self._odds.deleteLater()
        if self.hotel is not None:
            self.hotel.close()
        self.hotel = self._odds = None
        self.backups.leave()

    # --- going places -------------------------------------------------------

    def walk_to(self, page: str, tab: str = "") -> None:
        """Go to a page, or its tab of that title, because the person asked for it."""
        if self.hotel is not None:
            self.notices.clear()
            self.stack.go_to_tab(page, tab) if tab else self.stack.come_to(page)

    def load_table(self, page: str, path: Path) -> None:
        """Give a table to the page that loads such tables, while a hotel is open."""
        if self.hotel is not None and page in self.stack.specs:
            self.notices.clear()
            self.stack.take_file(page, path)

    def log_sighting(self, room: RoomNo | None = None) -> None:
        """Go to the form that logs a sighting, perhaps with its room filled in."""
        if self.hotel is not None and self.stack.can_log:
            self.stack.log_sighting(room)

    # --- hearing of changes -------------------------------------------------

    def listen(self) -> None:
        """Take in what another window wrote down; and notice that a new day began."""
        if self.hotel is None:
            return
        try:
            self.hotel.refresh()
            self._told_code = ""
        except Refusal as refusal:
            if refusal.code != self._told_code:
                self.notices.refuse(refusal)
            self._told_code = refusal.code
        if self._day != self.hotel.today():
            self._say_where()
            self._hear(Changes(ALL_TOPICS))

    def _hear(self, changes: Changes) -> None:
        if Topic.SETTINGS in changes.topics:
            self._say_where()
        self.desk.hear(changes)
        self.guide.follow()
        self.stack.hear(changes, in_sight=not self.desk.is_locked)

    def _say_where(self) -> None:
        if self.hotel is None:
            return
        self._day = self.hotel.today()
        described = self.hotel.house.hotel
        name = described.name if described else _("A hotel without a name")
        self.header.say(HeaderText(name, day_text(self._day), self.hotel.path.name))
        if not self.desk.is_locked:
            self.setWindowTitle(f"{name} – hotelwatch")

    def of_record(self, deed: Callable[[OpenHotel], object]) -> None:
        """Back up, check or export the record of the hotel that is open."""
        if self.hotel is not None:
            deed(self.hotel)

    def write_as(self, name: str) -> None:
        """Let this name stand beside what is written down from now on."""
        if self.hotel is not None:
            self.hotel.by = name
        self.store.keep(replace(self.store.choices.with_names((name,)), written_by=name))

    def wear(self, theme: Theme, text_size: TextSize) -> None:
        """Wear this look from now on, and at the next start."""
        self.look.choose(theme, text_size)
        self.store.keep(replace(self.store.choices, theme=theme.value, text_size=text_size.value))

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Let Tab come to every control in turn."""
        with in_turn(self):
            return super().focusNextPrevChild(forward)

    # --- files dropped here ---------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take hotel files and tables."""
        if files_in(event.mimeData()) and not self.desk.is_locked:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Bring dropped files to where they belong."""
        paths = files_in(event.mimeData())
        if paths:
            event.acceptProposedAction()
            self.drops.take(paths, is_open=self.hotel is not None)

    # --- leaving ------------------------------------------------------------

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask first while something is done or typed; then leave everything in order."""
        doubt = self._doubt()
        if doubt is not None:
            event.ignore()
            self.desk.ask(doubt, self._stop_and_close)
            return
        if self.backups.before_closing():
            event.ignore()
            return
        keep_size(self, self.store)
        self._leave_hotel()
        self.jobs.close()
        event.accept()

    def _all_pages(self) -> list[QWidget]:
        return [page for *_of, page in self.stack.all_pages()]

    def _doubt(self) -> Doubt | None:
        pages = () if self._is_leaving else self._all_pages()
        return doubt_about_leaving(pages, is_busy=self.jobs.does_asked_work)

    def _stop_and_close(self) -> None:
        self._is_leaving = True
        self.jobs.stop_all()
        self._leave_if_asked()

    def _leave_if_asked(self) -> None:
        if self._is_leaving and not self.jobs.is_busy:
            self.close()
