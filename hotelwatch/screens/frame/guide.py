"""A slim strip above the page that names the next thing to do, and leads there.

For the invented hotel it shows around; for one's own it goes from the roster to the first
check. A step ticks itself once the record shows it. The strip can be closed, and comes back
from the menu Help.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.facts import BedChecked
from hotelwatch.core.guide import INVENTED, MY_HOTEL, Step, Way, is_told_by_record, next_step
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.at_hand.doors import DEMO_FILE
from hotelwatch.screens.frame.page_tabs import tab_of
from hotelwatch.screens.layout.enter import let_enter_press
from hotelwatch.screens.look.theme import QUIET
from hotelwatch.wording.guide import end_text, step_text
from hotelwatch.wording.language import _

CLOSED, BEGAN = "closed", "began"
GOES_WITH = {"record_check": ("undo_it",)}
"""Steps that make no sense once another was left out."""


class Guide(QFrame):
    """The strip; ``begin`` says for which hotel, ``follow`` that something changed."""

    wanted = Signal(str, str)
    """The key of the page on which the step is taken, and the title of its tab, if one matters."""
    new_wanted = Signal()
    """The person wants to start an own hotel."""

    def __init__(self, store: ChoiceStore, shown_keys: Callable[[], frozenset[str]]) -> None:
        """No hotel yet; ``shown_keys`` are the pages that who sits there may see."""
        super().__init__()
        self._store, self._shown_keys = store, shown_keys
        self._hotel: OpenHotel | None = None
        self.way: Way | None = None
        self._place = ""
        self.setProperty("role", "notice")
        self.setProperty("tone", "asked")
        self.text = QLabel(wordWrap=True)
        self.go = QPushButton()
        self.next = QPushButton()
        self.close_button = QPushButton(_("Close"))
        self.close_button.setToolTip(_("It comes back from the menu Help."))
        for button in (self.next, self.close_button):
            button.setProperty("role", QUIET)
        self.go.clicked.connect(self._go)
        self.next.clicked.connect(self._pass_by)
        self.close_button.clicked.connect(self.put_away)
        line = QHBoxLayout(self)
        line.setContentsMargins(12, 1, 6, 1)
        line.addWidget(self.text, 1)
        for button in (self.go, self.next, self.close_button):
            line.addWidget(button)
        let_enter_press(self)
        self.hide()

    # --- what the window says -----------------------------------------------------

    def begin(self, hotel: OpenHotel) -> None:
        """Show the way for this hotel, unless it was closed or is over."""
        self._hotel = hotel
        is_demo = hotel.path.name == DEMO_FILE
        self.way = INVENTED if is_demo else MY_HOTEL
        is_new = not hotel.house.all_of(BedChecked)
        if not self._kept(BEGAN) and (is_demo or is_new):
            self._keep(f"{BEGAN} {max(hotel.house.entries, default=0)}")
        if not self._kept(BEGAN) or self._kept(CLOSED) or self._step() is None:
            self.hide()
        else:
            self.follow()

    def leave(self) -> None:
        """The hotel is left."""
        self._hotel = self.way = None
        self.hide()

    def stand_on(self, page: str) -> None:
        """Another page shows."""
        self._place = page
        if self.isVisible():
            self.follow()

    def follow(self) -> None:
        """Say the step that is next now."""
        if self._hotel is None or self.way is None or self._kept(CLOSED) or not self._kept(BEGAN):
            return
        step = self._step()
        if step is not None and step.page not in self._shown_keys():
            self.hide()
            return
        self._say(step_text(self.way, step) if step is not None else end_text(self.way))
        self._fit_buttons(step)
        self.show()

    def resume(self) -> None:
        """Show the way again: from where it stands, or once over from its beginning."""
        if self._hotel is None:
            return
        kept = [one for one in self._all() if one != CLOSED]
        if self._step() is None or not self._kept(BEGAN):
            kept = [f"{BEGAN} {max(self._hotel.house.entries, default=0)}"]
        self._write(kept)
        self.follow()

    def put_away(self) -> None:
        """Close the strip; it stays closed for this hotel."""
        self._keep(CLOSED)
        self.hide()

    # --- inside ---------------------------------------------------------------------

    def _step(self) -> Step | None:
        if self._hotel is None or self.way is None:
            return None
        since = int(self._kept(BEGAN).partition(" ")[2] or 0)
        return next_step(self.way, self._hotel.house, self._all(), since=since)

    def _fit_buttons(self, step: Step | None) -> None:
        is_over, is_here = step is None, step is not None and step.page == self._place
        can_start = is_over and self.way is INVENTED
        tab = tab_of(step.page, step.tab) if step is not None else None
        said = _("Go to “{tab}”").format(tab=tab.title) if tab is not None else _("Go there")
        self.go.setText(_("Start my hotel") if can_start else said)
        self.go.setVisible(can_start or (not is_over and (tab is not None or not is_here)))
        is_told = step is not None and is_told_by_record(step)
        self.next.setText(_("Leave it out") if is_told else _("Next"))
        self.next.setVisible(not is_over and (is_told or is_here))

    def _say(self, text: str) -> None:
        if text == self.text.text() and self.isVisible():
            return
        self.text.setText(text)
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, text))

    def _go(self) -> None:
        step = self._step()
        if step is not None:
            self._lead_to(step)
        else:
            self.put_away()
            self.new_wanted.emit()

    def _lead_to(self, step: Step) -> None:
        tab = tab_of(step.page, step.tab)
        self.wanted.emit(step.page, tab.title if tab is not None else "")

    def _pass_by(self) -> None:
        step = self._step()
        if step is None:
            return
        for code in (step.code, *GOES_WITH.get(step.code, ())):
            self._keep(code)
        self.follow()
        following = self._step()
        if following is not None and not is_told_by_record(step):
            self._lead_to(following)

    # --- what is remembered for each hotel's file --------------------------------------

    def _all(self) -> list[str]:
        before = self._mark
        kept = self._store.choices.guided
        return [one.removeprefix(before) for one in kept if one.startswith(before)]

    @property
    def _mark(self) -> str:
        path = self._hotel.path if self._hotel is not None else Path()
        return f"{path}\t"

    def _kept(self, word: str) -> str:
        return next((one for one in self._all() if one.split(" ")[0] == word), "")

    def _keep(self, word: str) -> None:
        self._write([*self._all(), word])

    def _write(self, words: list[str]) -> None:
        others = [one for one in self._store.choices.guided if not one.startswith(self._mark)]
        mine = [f"{self._mark}{word}" for word in dict.fromkeys(words)]
        self._store.keep(replace(self._store.choices, guided=(*others, *mine)))
