"""One application for the whole run, a pinned font, and nothing left behind."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication, QWidget

from hotelwatch.actions.hotel import start_hotel
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.core.facts import FACT_KINDS, HotelDescribed
from hotelwatch.screens.bus import Bus
from hotelwatch.screens.choices import ChoiceStore
from hotelwatch.screens.context import Context
from hotelwatch.screens.jobs import Jobs
from hotelwatch.screens.notices import Notices
from hotelwatch.screens.theme import Look, TextSize, Theme
from hotelwatch.screens.window import Doors, MainWindow
from tests.build import house, moment, rules

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


@pytest.fixture(autouse=True)
def _nothing_left_behind(qapp):
    """Fail a test that leaves a window open though its widgets were closed."""
    before = set(QApplication.topLevelWidgets())
    yield
    left = [w for w in QApplication.topLevelWidgets() if w.isVisible() and w not in before]
    for widget in left:
        widget.close()
    assert not left, f"left open: {left}"


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


@dataclass
class Went:
    """Where pages asked to go."""

    places: list = field(default_factory=list)

    def go_to(self, page, room=None):
        self.places.append((page, room))

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
            log_sighting=went.log_sighting,
            pages=frozenset(pages),
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
