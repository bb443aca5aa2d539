"""Undo and redo in the window: what the menu says of them, and the button after a deed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, QTimer

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.undo import last_deed, last_undone, redo, undo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.undoing import LOOKED_AT_ANEW, NOT_TO_BE_UNDONE, Deed
from hotelwatch.screens.at_hand.bus import Bus
from hotelwatch.screens.at_hand.notices import Notices, Step
from hotelwatch.wording.deeds import deed_text
from hotelwatch.wording.language import _


class Undoing(QObject):
    """Undoes and does again what the person at this desk did in the open hotel."""

    def __init__(
        self,
        notices: Notices,
        *,
        hotel: Callable[[], OpenHotel | None],
        bus: Bus,
        parent: QObject,
    ) -> None:
        """Tell in these notices, and offer to undo beside what they tell as done."""
        super().__init__(parent)
        self._notices, self._hotel = notices, hotel
        self._is_fresh = False
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self._let_it_age)
        bus.changed.connect(self._hear)
        notices.offer = self.offer

    def undo_text(self) -> str:
        """What the menu's line says; plain where there is nothing to undo."""
        deed = self._last_deed()
        can_be = deed is None or deed.action not in NOT_TO_BE_UNDONE
        named = _("&Undo: {deed}") if can_be else _("&Undo is not possible: {deed}")
        return _text_with(named, _("&Undo"), deed)

    def redo_text(self) -> str:
        """What the menu's line says; plain where there is nothing to do again."""
        hotel = self._hotel()
        deed = last_undone(hotel) if hotel else None
        is_simple = deed is None or not any(isinstance(one, LOOKED_AT_ANEW) for one in deed.facts)
        named = (
            _("&Redo: {deed}") if is_simple else _("&Redo is not possible, sign it anew: {deed}")
        )
        return _text_with(named, _("&Redo"), deed)

    def can_undo(self) -> bool:
        """Whether this person did something here since the file was opened."""
        deed, hotel = self._last_deed(), self._hotel()
        if deed is None or hotel is None:
            return False
        return hotel.may_take_back(hotel.session.entry_now(deed.entry))

    def can_redo(self) -> bool:
        """Whether this person undid something that may be done again."""
        hotel = self._hotel()
        return hotel is not None and last_undone(hotel) is not None

    def undo(self) -> None:
        """Take the last deed back, and say so."""
        hotel = self._hotel()
        if hotel is None:
            return
        try:
            deed = undo(hotel)
        except Refusal as refusal:
            self._notices.refuse(refusal)
            return
        self._is_fresh = False
        self._notices.forget_deed()
        said = _("Undone: {deed}. It stays in the record and counts no more.")
        self._notices.done(said.format(deed=deed_text(deed)), _("Redo"), self.redo)

    def redo(self) -> None:
        """Do again what was undone last, and say so."""
        hotel = self._hotel()
        if hotel is None:
            return
        try:
            deed = redo(hotel)
        except Refusal as refusal:
            self._notices.refuse(refusal)
            return
        self._notices.done(_("Done again: {deed}.").format(deed=deed_text(deed)))

    def offer(self) -> Step | None:
        """A button that undoes what was done this moment; None where that was nothing."""
        deed = self._last_deed()
        hotel = self._hotel()
        if not self._is_fresh or deed is None or deed.action in NOT_TO_BE_UNDONE:
            return None
        if hotel is None or not hotel.may_take_back(hotel.session.entry_now(deed.entry)):
            return None
        self._is_fresh = False
        return _("Undo"), partial(self._undo_this, deed)

    def _hear(self, _changes: object) -> None:
        # What is told later than in the same moment, as by a job, is another matter.
        self._is_fresh = True
        self._soon.start()

    def _let_it_age(self) -> None:
        self._is_fresh = False

    def _undo_this(self, deed: Deed) -> None:
        if self._last_deed() is deed:
            self.undo()
        else:
            self._notices.warn(
                _(
                    "Something else was done since “{deed}”. Undo goes step by step, the last "
                    "one first: Ctrl+Z."
                ).format(deed=deed_text(deed))
            )

    def _last_deed(self) -> Deed | None:
        hotel = self._hotel()
        return last_deed(hotel) if hotel is not None else None


def _text_with(named: str, bare: str, deed: Deed | None) -> str:
    # An ampersand in a name would mark a letter for the keys.
    return named.format(deed=deed_text(deed).replace("&", "&&")) if deed is not None else bare
