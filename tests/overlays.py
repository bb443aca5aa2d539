"""What lies above a page or in its place: boxes, the lock, the first screen, the strip, bars.

Each is opened as a person opens it, in every state that it has, one after the other. A new kind
of box wants a line in ``BOXES``: the tests of what everyone must be able to see ask for it.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import replace

from PySide6.QtWidgets import QApplication, QDialog, QWidget

import hotelwatch.screens
from hotelwatch.actions.backups import back_up_now, wish_of
from hotelwatch.actions.people import describe_person
from hotelwatch.core.people_facts import StaffRole
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.notices import BugDialog
from hotelwatch.screens.forms.pin_form import PinForm
from hotelwatch.screens.frame.go_to_box import GoToBox
from hotelwatch.screens.frame.help import AboutDialog, KeysDialog
from hotelwatch.screens.frame.leaving import Doubt
from hotelwatch.screens.hotel_file.backups_dialog import BackupsDialog
from hotelwatch.screens.window import MainWindow
from tests.walk import SEEN_AT, settle

State = tuple[str, QWidget]
PIN = "2580"
PEOPLE = {
    "Eva": StaffRole.EXECUTIVE,
    "Maximiliane von Hohenberg-Sonnenfels": StaffRole.SUPERVISOR,
    "Dan": StaffRole.FRONT_DESK,
}


def kinds_of(base: type) -> set[type]:
    """Every class of the program's window that is one of these, but for those others build on."""
    for module in pkgutil.walk_packages(hotelwatch.screens.__path__, "hotelwatch.screens."):
        importlib.import_module(module.name)
    return {kind for kind in _below(base) if kind.__module__.startswith("hotelwatch.")}


def _below(base: type) -> Iterator[type]:
    for kind in base.__subclasses__():
        yield from _below(kind)
        if not kind.__subclasses__():
            yield kind


def stand_in(top: QWidget, window: MainWindow) -> None:
    """Give the keyboard to a box or the window, as a desktop does with what comes to the front."""
    top.activateWindow()
    settle(window)


# --- boxes --------------------------------------------------------------------


def boxes(window: MainWindow) -> Iterator[State]:
    """Open every kind of box in each of its states; it is closed again after the last one."""
    for kind, open_it in BOXES.items():
        for state in open_it(window):
            box = opened(kind)
            stand_in(box, window)
            yield f"{kind.__name__}/{state}" if state else kind.__name__, box
        box.close()
        settle(window)


def opened(kind: type[QDialog]) -> QDialog:
    """The box of that kind that is open."""
    found = [one for one in QApplication.topLevelWidgets() if isinstance(one, kind)]
    return next(one for one in found if one.isVisible())


def _where_to(window: MainWindow) -> Iterator[str]:
    window.menus.ask_where()
    yield ""
    line = opened(GoToBox).line
    line.setText("10")
    yield "found"
    line.setText("Nowhere at all")
    yield "unknown"


def _keys(window: MainWindow) -> Iterator[str]:
    window.menus.show_keys()
    yield ""


def _about(window: MainWindow) -> Iterator[str]:
    window.menus.show_about()
    yield ""


def _bug(window: MainWindow) -> Iterator[str]:
    window.notices.bug(RuntimeError("a mistake made on purpose"))
    yield ""


def _backups(window: MainWindow) -> Iterator[str]:
    # Only while it is open: a window with a clock makes backups by itself.
    window.doors = replace(window.doors, clock=lambda: SEEN_AT)
    window.backups.show()
    window.doors = replace(window.doors, clock=None)
    yield "none"
    back_up_now(wish_of(window.hotel))
    window.backups._show_again()
    box = opened(BackupsDialog)
    yield ""
    box.notices.warn("The copy on the share could not be made.")
    yield "told"
    box.table.select(str(box.listed[0].path))
    box.restore.click()
    yield "loss"


def _pin(window: MainWindow) -> Iterator[str]:
    seat_people(window)
    window.desk.change_pin()
    box = opened(PinForm)
    yield ""
    box.new.setText("1")
    box.save.click()
    yield "refused"


BOXES: dict[type, Callable[[MainWindow], Iterator[str]]] = {
    GoToBox: _where_to,
    KeysDialog: _keys,
    AboutDialog: _about,
    BugDialog: _bug,
    BackupsDialog: _backups,
    PinForm: _pin,
}


# --- in a page's place ----------------------------------------------------------


def seat_people(window: MainWindow) -> None:
    """Describe a few people with PINs, and let the first of them sit there."""
    hotel = window.hotel
    if not hotel.is_guarded:
        for name, role in PEOPLE.items():
            describe_person(hotel, name, role, pin=PIN)
    if hotel.seat is None or window.desk.is_locked:
        window.desk.lock()
        window.desk._try(next(iter(PEOPLE)), PIN)
    settle(window)


def covers(window: MainWindow) -> Iterator[State]:
    """What stands above a page or in its place, in each state; the window is left locked."""
    for states in (_bars, _first_screen, _lock):
        for where in states(window):
            stand_in(window, window)
            yield where, window


def _bars(window: MainWindow) -> Iterator[str]:
    window.walk_to("today")
    window.guide.resume()
    yield "strip"
    window.notices.done("3 sheets are printed.", "Open", window.notices.clear)
    window.notices.warn("The file can only be read: another program has it open just now.")
    window.notices.refuse(Refusal("nothing_to_undo"))
    yield "bars"
    window.notices.clear()
    window.notices.ask("Throw the draft away?", "Throw it away", window.notices.clear)
    yield "question"
    window.notices.clear()
    window.guide.hide()


def _first_screen(window: MainWindow) -> Iterator[str]:
    window.show_welcome()
    yield "first screen"
    window.welcome.show_form()
    yield "new hotel"
    window.welcome.form.file.setText("")
    window.welcome.begin.click()
    yield "new hotel, refused"
    window.welcome.show_opening("a hotel with rather a long name.hotelwatch")
    yield "opening"
    window.desk._open_pages()


def _lock(window: MainWindow) -> Iterator[str]:
    seat_people(window)
    window.desk.lock()
    yield "lock"
    window.desk.screen.show_work(goes_on=True)
    window.desk._try("Eva", "9999")
    yield "lock, wrong PIN"
    window.desk.ask(Doubt("", ""), window.desk.screen.pad.clear)
    yield "lock, closing"
