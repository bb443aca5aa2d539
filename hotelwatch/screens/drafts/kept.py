"""Half-entered forms are kept a moment after each change, and offered after a crash.

Every form of every page is kept by one way, in half_entered.py. A page on which more is begun
than stands in forms offers ``draft()``, plain JSON values with a ``what`` in words (None while
nothing is half entered), and ``take_draft(values)``. Nothing is ever filled in without the
person's word.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.days import local_day
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.bus import Bus
from hotelwatch.screens.at_hand.notices import Bar, Notices
from hotelwatch.screens.drafts.draft_file import DraftFile, KeptDraft
from hotelwatch.screens.forms.half_entered import half_entered, take_up
from hotelwatch.screens.frame.page_stack import PageStack
from hotelwatch.wording.dates import clock_text, moment_text
from hotelwatch.wording.language import _, join

LOOK_EVERY_MS = 1000
UNREADABLE = (LookupError, TypeError, ValueError, AttributeError)


class Drafts(QObject):
    """Keeps what is half entered on the pages of the open hotel."""

    def __init__(self, notices: Notices, *, stack: PageStack, bus: Bus, parent: QObject) -> None:
        """Watch these pages; ``begin`` says of which hotel and where."""
        super().__init__(parent)
        self._notices, self._stack = notices, stack
        self._file: DraftFile | None = None
        self._hotel: OpenHotel | None = None
        self._live: dict[tuple[str, str], KeptDraft] = {}
        self._left: tuple[KeptDraft, ...] = ()
        self._written: tuple[KeptDraft, ...] = ()
        self._bar: Bar | None = None
        self._looking = QTimer(self, interval=LOOK_EVERY_MS)
        self._looking.timeout.connect(self.keep)
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self.keep)
        bus.changed.connect(self._look_soon)

    def begin(self, hotel: OpenHotel, file: DraftFile) -> None:
        """Keep drafts of this hotel from now on, and offer what an earlier window left."""
        self._hotel, self._file = hotel, file
        self._left = file.open()
        self._written = self._left
        self._live = {}
        self._looking.start()
        self.offer()

    def leave(self) -> None:
        """The hotel is closed in good order: what was not saved was given up."""
        self._looking.stop()
        self._soon.stop()
        if self._file is not None:
            self._file.write(self._left)
            self._file.close()
        self._file = self._hotel = self._bar = None
        self._live, self._left, self._written = {}, (), ()

    # --- keeping ---------------------------------------------------------------

    def keep(self) -> None:
        """Write down what is half entered now, if anything changed."""
        if self._hotel is None or self._file is None:
            return
        live = {}
        for person, key, page in self._stack.all_pages():
            values = self._draft_of(key, page)
            if values is not None:
                live[person, key] = self._as_kept(person, key, values)
        self._live = live
        drafts = (*self._left, *live.values())
        if drafts != self._written:
            self._file.write(drafts)
            self._written = drafts

    def _as_kept(self, person: str, key: str, values: Mapping[str, Any]) -> KeptDraft:
        before = self._live.get((person, key))
        if before is not None and before.values == values:
            return before
        assert self._hotel is not None  # only then is anything kept
        by = person or self._hotel.by
        return KeptDraft(key, by, self._hotel.now().isoformat(), values)

    def _look_soon(self) -> None:
        if self._hotel is not None:
            self._soon.start()

    # --- offering ----------------------------------------------------------------

    def offer(self) -> None:
        """Say what an earlier window left half entered; the person says what becomes of it."""
        offered = self._for_who_sits_there()
        if not offered:
            return
        said = " ".join(self._sentence(draft) for draft in offered)
        self._bar = self._notices.choose(
            said, [(_("Go on with it"), self.go_on), (_("Throw it away"), self.throw_away)]
        )

    def _for_who_sits_there(self) -> tuple[KeptDraft, ...]:
        """Where people have roles only their own, and only for pages that they see."""
        hotel = self._hotel
        if hotel is None or (hotel.is_guarded and hotel.seat is None):
            return ()
        keys = self._stack.shown_keys
        return tuple(
            draft
            for draft in self._left
            if draft.page in keys and (not hotel.is_guarded or draft.by == hotel.by)
        )

    def _sentence(self, draft: KeptDraft) -> str:
        assert self._hotel is not None  # it is offered for a hotel
        zone = self._hotel.zone
        day = local_day(draft.moment, zone)
        when = clock_text(draft.moment, zone)
        if day != self._hotel.today():
            when = moment_text(draft.moment, zone)
        if draft.by != self._hotel.by:
            said = _("Half entered by {name} ({when}) and kept: {what}.")
            return said.format(name=draft.by, when=when, what=draft.what)
        return _("Half entered ({when}) and kept: {what}.").format(when=when, what=draft.what)

    def go_on(self) -> None:
        """Put what was kept back into its forms, in sight; nothing is written down by it."""
        for draft in self._take_offered():
            try:
                self._put_back(draft)
            except Refusal as refusal:
                self._notices.refuse(refusal, _("Throw it away"), partial(self._drop, draft))
                self._left = (*self._left, draft)
            except UNREADABLE:
                self._say_lost(draft.what)
        self.keep()

    def throw_away(self) -> None:
        """Forget what an earlier window left."""
        self._take_offered()
        self.keep()

    def _take_offered(self) -> tuple[KeptDraft, ...]:
        offered = self._for_who_sits_there()
        self._left = tuple(draft for draft in self._left if draft not in offered)
        return offered

    def _put_back(self, draft: KeptDraft) -> None:
        self._stack.go_to(draft.page)
        page: Any = self._stack.pages[draft.page]
        if hasattr(page, "take_draft"):
            page.take_draft(draft.values)
            return
        for form in draft.values["forms"]:
            try:
                take_up(page, form)
            except UNREADABLE:
                self._say_lost(str(form["what"]))

    def _say_lost(self, what: str) -> None:
        self._notices.warn(
            _(
                "One can't go on with what was kept, {what}: what it belongs to is gone, or it "
                "can't be read."
            ).format(what=what)
        )

    def _drop(self, draft: KeptDraft) -> None:
        self._left = tuple(one for one in self._left if one is not draft)
        self.keep()

    def _draft_of(self, key: str, page: QWidget) -> Mapping[str, Any] | None:
        asked = getattr(page, "draft", None)
        if asked is not None:
            values: Mapping[str, Any] | None = asked()
            return values
        forms = half_entered(page, self._stack.specs[key].title)
        return {"what": join([form["what"] for form in forms]), "forms": forms} if forms else None
