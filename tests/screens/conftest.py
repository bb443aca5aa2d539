"""One application for the whole run, a pinned font, and nothing left behind."""

from __future__ import annotations

import threading
import weakref
from dataclasses import dataclass, field
from pathlib import Path

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtCore import QEvent, QThread, QTimer
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication, QWidget
from shiboken6 import isValid

from hotelwatch.actions.hotel import start_hotel
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.screens.at_hand.bus import Bus
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.at_hand.odds_kept import OddsKept
from hotelwatch.screens.look.theme import Look, TextSize, Theme
from hotelwatch.screens.window import Doors, MainWindow
from hotelwatch.wording import language
from tests.build import house, moment, rules
from tests.walk import build_invented, copied, settle, window_on

FONT = "DejaVu Sans"
ROOM_PAGE_KEYS = ("building", "load_roster", "load_bookings")


@pytest.fixture(scope="session")
def look(qapp):
    """The look of the program, worn once for the whole run."""
    qapp.setFont(QFont(FONT))
    return Look(qapp)


@pytest.fixture(autouse=True)
def worn(look):
    """Every test starts in the light look at normal size."""
    if (look.theme, look.text_size) != (Theme.LIGHT, TextSize.NORMAL):
        look.choose(Theme.LIGHT, TextSize.NORMAL)


@pytest.fixture
def qtbot(qtbot, look):
    """Dresses what a test puts on the screen by itself as the window would."""
    add = qtbot.addWidget

    def dress_and_add(widget, **named):
        if not widget.styleSheet():
            look.dress(widget)
        add(widget, **named)

    qtbot.addWidget = dress_and_add
    return qtbot


class Made:
    """Every timer and thread made from Python since it began to note them."""

    def __init__(self):
        self._noted = []

    def note(self, kind):
        """Note what this class makes from now on; the class as it was comes back by ``undo``."""
        before, noted = kind.__init__, self._noted

        def begin(this, *args, **named):
            before(this, *args, **named)
            noted.append(weakref.ref(this))

        kind.__init__ = begin
        return lambda: setattr(kind, "__init__", before)

    def at_work(self):
        """Timers that tick and threads that run."""
        there = [made for ref in self._noted if (made := ref()) is not None and isValid(made)]
        self._noted[:] = [weakref.ref(made) for made in there]
        return [m for m in there if (m.isActive() if isinstance(m, QTimer) else m.isRunning())]

    def python_threads(self):
        """Threads that Python began; those that Qt began show as dummies."""
        dummy = threading._DummyThread
        return {t for t in threading.enumerate() if not isinstance(t, dummy)}


@pytest.fixture(scope="session")
def made():
    """Notes timers and threads of the whole run."""
    noting = Made()
    undo = [noting.note(QTimer), noting.note(QThread)]
    yield noting
    for one in undo:
        one()


@pytest.fixture(autouse=True)
def _nothing_left_behind(qapp, made):
    """Fail a test that leaves a window open, a timer ticking or a thread running.

    What its widgets own goes with them: they are deleted first.
    """
    before, threads = set(QApplication.topLevelWidgets()), made.python_threads()
    yield
    open_still = [
        w
        for w in QApplication.topLevelWidgets()
        if isValid(w) and w.isVisible() and w not in before
    ]
    for widget in open_still:
        widget.close()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    at_work = made.at_work()
    for one in at_work:
        one.stop() if isinstance(one, QTimer) else (one.quit(), one.wait(2000))
    more = made.python_threads() - threads
    assert not open_still, f"left open: {open_still}"
    assert not at_work, f"left at work: {[told(one) for one in at_work]}"
    assert not more, f"threads left: {more}"


def told(one):
    """A timer or thread with whom it belongs to, for whoever looks for it."""
    return f"{type(one).__name__} of {type(one.parent()).__name__}, {one!r}"


@dataclass
class Clock:
    """A clock that a test sets."""

    moment: object = field(default_factory=lambda: moment(40))

    def __call__(self):
        return self.moment


@pytest.fixture
def clock():
    """The moment of the test: day 40, 9 o'clock UTC."""
    return Clock()


@pytest.fixture
def make_hotel(tmp_path, clock):
    """Makes real files that hold what a ``tests.build`` house holds."""
    opened = []

    def make(build, name="inn"):
        path = tmp_path / f"{name}.hotelwatch"
        described = HotelDescribed(name="House of tests", zone="Europe/Vienna")
        hotel = start_hotel(path, described, rules(), clock=clock, by="tester")
        facts = [fact for kind in FACT_KINDS for fact in build.house.all_of(kind)]
        hotel.record(lambda _: facts, action="test")
        opened.append(hotel)
        return hotel

    yield make
    for hotel in opened:
        hotel.close()


@dataclass
class Files:
    """Stands in for the person at a file dialog: answers at once."""

    chosen: Path | None = None
    asked: list = field(default_factory=list)
    shown: list = field(default_factory=list)
    can_show: bool = True

    def open(self, title, patterns, then):
        self.asked.append((title, patterns))
        if self.chosen is not None:
            then(self.chosen)

    def save(self, title, patterns, suggested, then):
        self.asked.append((title, patterns))
        then(self.chosen or suggested)

    def folder(self, title, suggested, then):
        self.asked.append((title, ""))
        then(self.chosen or suggested)

    def show(self, path):
        self.shown.append(path)
        return self.can_show


@dataclass
class Went:
    """Where pages asked to go."""

    places: list = field(default_factory=list)

    def go_to(self, page, room=None):
        self.places.append((page, room))

    def go_to_rooms(self, name, rooms):
        self.places.append((name, rooms))

    def log_sighting(self, room=None):
        self.places.append(("log_sighting", room))


@pytest.fixture
def make_context(qtbot, tmp_path):
    """Makes the context of a page on its own, with stand-ins for files and for going places."""
    jobs, notices = Jobs(), Notices()
    qtbot.addWidget(notices)
    folder = tmp_path / "config"
    folder.mkdir()

    def make(hotel, pages=("checks", "cases", "load_roster")):
        went, bus = Went(), Bus()
        hotel.announce = bus.announce
        return Context(
            hotel=hotel,
            bus=bus,
            jobs=jobs,
            notices=notices,
            files=Files(),
            people=ChoiceStore(folder),
            go_to=went.go_to,
            go_to_rooms=went.go_to_rooms,
            log_sighting=went.log_sighting,
            pages=frozenset(pages),
            odds=OddsKept(hotel, jobs, jobs),
        )

    yield make
    jobs.close()


@pytest.fixture
def went():
    """Reads where a context's pages asked to go."""
    return lambda context: context.go_to.__self__.places


@pytest.fixture
def make_window(qtbot, look, tmp_path, clock):
    """Makes windows on real files; ``specs`` are their pages."""
    windows = []

    def make(specs, folder="choices"):
        (tmp_path / folder).mkdir(exist_ok=True)
        doors = Doors(
            open=lambda path: open_hotel(path, rules(), clock=clock, by="tester"),
            start=lambda path, said: start_hotel(path, said, rules(), clock=clock, by="tester"),
            make_demo=lambda progress: tmp_path / "inn.hotelwatch",
            folder=tmp_path,
            drafts=tmp_path / "drafts",
            zone="Europe/Vienna",
        )
        window = MainWindow(
            doors, specs, look=look, store=ChoiceStore(tmp_path / folder), files=Files()
        )
        windows.append(window)
        qtbot.addWidget(window)
        window.show()
        with qtbot.waitActive(window):
            window.activateWindow()
        return window

    yield make
    for window in windows:
        window.jobs.stop_all()
        window.close()


@pytest.fixture
def nameless():
    """Lists widgets reached by keys that a screen reader could not name."""
    from PySide6.QtCore import Qt
    from PySide6.QtGui import QAccessible

    def find(widget):
        found = []
        for one in [widget, *widget.findChildren(QWidget)]:
            by_keys = one.focusPolicy().value & Qt.FocusPolicy.TabFocus.value
            if not one.isVisibleTo(widget) or not by_keys:
                continue
            if one.focusProxy() is not None or one.parent() is None:
                continue
            if one.objectName().startswith("qt_") and one.objectName() != "qt_tabwidget_tabbar":
                continue
            told = QAccessible.queryAccessibleInterface(one)
            if not told.text(QAccessible.Text.Name).strip():
                found.append(one)
        return found

    return find


@pytest.fixture
def two_floors():
    """Four rooms on two floors, with beds, one overdue, one never looked at."""
    from tests.build import day

    build = house().floors("1", "2")
    build.room("101", floor="1").bed("A").checked("A", day(-80))
    build.room("102", floor="1").bed("A").bed("B").checked("A", day(30)).checked("B", day(20))
    build.room("201", floor="2").bed("A").checked("A", day(30))
    build.room("202", floor="2")
    return build


@pytest.fixture(scope="session")
def invented(tmp_path_factory):
    """The invented hotel's file, built once."""
    return build_invented(tmp_path_factory.mktemp("invented"))


@pytest.fixture
def make_invented(invented, look, tmp_path, qtbot):
    """Opens the window on a copy of the invented hotel, at one size of text."""
    made = []

    def make(text=TextSize.NORMAL, *, wide=1280, tall=800):
        look.choose(Theme.LIGHT, text)
        window = window_on(copied(invented, tmp_path / "hotel"), look, tmp_path / "choices")
        made.append(window)
        qtbot.addWidget(window)
        window.resize(wide, tall)
        window.show()
        with qtbot.waitActive(window):
            window.activateWindow()
        settle(window)
        return window

    yield make
    for window in made:
        window._stop_and_close()
    language.use(language.SOURCE)
