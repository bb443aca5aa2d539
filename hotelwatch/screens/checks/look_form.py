"""The form of one room's look: head, places, the current place, what it counts for, Save."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial

from PySide6.QtCore import QEvent, Qt, QTime, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QMenu,
    QPushButton,
    QSpinBox,
    QTimeEdit,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.case_facts import Sign
from hotelwatch.core.checks.looking import NOT_ASKED, RoomLook
from hotelwatch.core.checks.place_looks import (
    WHY_NOBODY,
    PlaceLook,
    PlaceState,
    find_signs,
    leave,
    leave_all,
    look_at,
    look_at_all,
    people_needed,
    reasons_for,
)
from hotelwatch.core.days import moment_of
from hotelwatch.core.facts import BedNo
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.checks.before_saving import BeforeSaving
from hotelwatch.screens.checks.draft import Draft
from hotelwatch.screens.checks.look_head import LookHead
from hotelwatch.screens.checks.place_card import PlaceCard
from hotelwatch.screens.checks.place_keys import Saying
from hotelwatch.screens.checks.place_model import lines_of
from hotelwatch.screens.checks.places_pane import PlacesPane
from hotelwatch.screens.checks.visit_fields import CLOCK_CODES, AidsButton, ClockFields
from hotelwatch.screens.checks.words import why_label
from hotelwatch.screens.forms.fields import Form, leave_wheel
from hotelwatch.screens.layout.flow import HeldScroll
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.dates import clock_text
from hotelwatch.wording.language import _

SIDE_PX = 290
SIDE_LETTERS = 48
"""The side is no wider than so many letters: the drawing and the list have the rest."""
CARD_RIM_PX = 16
PLACES_SHARE, SIDE_SHARE = 5, 3
MOST_MINUTES = 240
SAVE_KEYS = ("Ctrl+Return", "Ctrl+Enter")
WHO_CODES = frozenset({"who_looked_missing", "named_twice", "needs_two_people"})


class LookForm(QWidget):
    """A draft on screen; every change is told, nothing is written down here."""

    changed = Signal(object)
    """The draft as it stands now."""
    save_wanted = Signal()
    start_over_wanted = Signal()

    def __init__(self, context: Context) -> None:
        """No draft yet; ``show_draft`` gives one."""
        super().__init__()
        self._context = context
        self._draft: Draft | None = None
        self._why = ""
        self._is_showing = False
        self.head = LookHead(context)
        self.both = PlacesPane()
        self.bed, self.places = self.both.bed, self.both.places
        self.card = PlaceCard()
        self.before = BeforeSaving(context)
        self.minutes: dict[BedNo, QSpinBox] = {}
        self.visit, self.aids = ClockFields(), AidsButton()
        self.note = QLineEdit()
        self.found_at = QTimeEdit()
        leave_wheel(self.found_at)
        self.found_at.setDisplayFormat("HH:mm")
        self.save = QPushButton(_("Save (Ctrl+Enter)"))
        self.start_over = QPushButton(_("Start over"))
        self.nobody = QPushButton(_("Nobody could look…"))
        self.why_nobody = QMenu(self)
        for why in WHY_NOBODY:
            self.why_nobody.addAction(why_label(why), partial(self._leave_all, why))
        self.nobody.setMenu(self.why_nobody)
        self._connect()
        self._lay_out()

    # --- what is shown ------------------------------------------------------

    @property
    def draft(self) -> Draft | None:
        """The draft as it stands now."""
        return self._draft

    def show_draft(self, draft: Draft) -> None:
        """Show a draft; the cursor waits on the first place, or where a name lacks."""
        is_other = self._draft is None or self._draft.key != draft.key
        self._draft = draft
        self._is_showing = True
        self.head.show_draft(draft)
        self._show_minutes(draft.look)
        self.visit.show_look(draft.look)
        self.aids.choose(draft.look.aids)
        self.note.setText(draft.look.noted)
        self._show_clock(draft)
        self._is_showing = False
        if is_other:
            self.places.show_lines(())
            self._scroll.verticalScrollBar().setValue(0)
        self._show()

    def refresh(self) -> None:
        """Say anew what the draft counts for; fields stay as a person has them."""
        self._show()

    def forget(self) -> None:
        """Hold no draft any more."""
        self._draft = None

    def take_cursor(self) -> None:
        """Put the cursor where a person goes on."""
        draft = self._draft
        if draft is None:
            return
        needed = people_needed(self._context.hotel.house, draft.look)
        if draft.corrects is not None and not draft.reason:
            self.head.reason.setFocus()
        elif len(draft.look.by) < needed:
            self.head.who.setFocus()
        else:
            self.places.setFocus()

    def show_refusal(self, refusal: Refusal) -> None:
        """Put the cursor where a refusal can be mended."""
        if refusal.code in WHO_CODES:
            self.head.who.setFocus()
        elif refusal.code in CLOCK_CODES:
            self.visit.setFocus()
        elif refusal.code == "correction_needs_reason":
            self.head.reason.setFocus()
        elif refusal.code == "other_reason_needs_note":
            self.note.setFocus()
        elif "place" in refusal.values:
            code = refusal.values["place"]
            where = refusal.values.get("where", "")
            if not self.places.stand_on(where, code):
                self.places.stand_on("", code)
            self.places.setFocus()

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        self.head.changed.connect(self._take_fields)
        self.visit.changed.connect(self._take_fields)
        self.aids.changed.connect(self._take_fields)
        self.note.textChanged.connect(self._take_fields)
        self.found_at.timeChanged.connect(self._take_clock)
        self.places.said.connect(self._take_key)
        self.places.moved.connect(self._show_card)
        self.bed.said.connect(self._take_key)
        self.bed.menu_wanted.connect(self.card.ask_all)
        self.card.looked_at.connect(self._look_at)
        self.card.left.connect(self._leave)
        self.card.found.connect(self._find)
        self.save.clicked.connect(self.save_wanted)
        self.start_over.clicked.connect(self.start_over_wanted)
        for keys in SAVE_KEYS:
            saving = QShortcut(QKeySequence(keys), self)
            saving.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            saving.setAutoRepeat(False)
            saving.activated.connect(self.save_wanted)

    def _lay_out(self) -> None:
        self.save.setProperty("role", MAIN)
        self.start_over.setToolTip(_("Forget what was typed for this room"))
        self.nobody.setToolTip(_("Every place not looked at, for one reason"))
        self._fields = Form()
        self._fields.add(_("Found a&t"), self.found_at)
        self._fields.add(_("Vi&sit"), self.visit)
        self._fields.add(_("A&ids"), self.aids)
        self._fields.add(_("N&ote"), self.note)
        self._minutes_form = Form()
        fields = QFrame()
        fields.setProperty("role", "card")
        self._field_lines = QVBoxLayout(fields)
        self._field_lines.setContentsMargins(14, 10, 14, 12)
        self._field_lines.addWidget(self._minutes_form)
        self._field_lines.addWidget(self._fields)
        self._field_lines.addWidget(self.nobody)
        self._field_lines.addWidget(self.start_over)
        self._side = self._make_side(fields)
        self._fit_side()
        both = QHBoxLayout()
        both.setSpacing(12)
        both.addWidget(self.both, PLACES_SHARE)
        both.addWidget(self._side, SIDE_SHARE)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.head)
        lines.addLayout(both, 1)

    def _make_side(self, fields: QWidget) -> QWidget:
        """The current place, what the check counts for and the fields, above Save."""
        inside = QWidget()
        inside.setProperty("role", "plain")
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for widget in (self.card, self.before, fields):
            column.addWidget(widget)
        column.addStretch()
        self._scroll = HeldScroll()
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.viewport().setAutoFillBackground(False)
        self._scroll.setWidget(inside)
        side = QVBoxLayout()
        side.addWidget(self._scroll, 1)
        side.addWidget(self.save)
        side_pane = QWidget()
        side.setContentsMargins(0, 0, 0, 0)
        side_pane.setLayout(side)
        return side_pane

    def changeEvent(self, event: QEvent) -> None:
        """Fit the side to another size of text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_side"):
            self._fit_side()

    def _fit_side(self) -> None:
        """No narrower than its longest button, no wider than the words need."""
        buttons = (self.card.seen, self.card.left_out, self.card.found_there, self.save)
        rims = 2 * CARD_RIM_PX + self._scroll.verticalScrollBar().sizeHint().width()
        narrowest = max(SIDE_PX, rims + max(button.sizeHint().width() for button in buttons))
        widest = SIDE_LETTERS * self.fontMetrics().averageCharWidth()
        self._side.setMinimumWidth(narrowest)
        self._side.setMaximumWidth(max(narrowest, widest))

    def _show_minutes(self, look: RoomLook) -> None:
        if list(self.minutes) != [bed.bed for bed in look.beds]:
            form = Form()
            self.minutes = {bed.bed: self._minutes_field(form, bed.bed) for bed in look.beds}
            self._field_lines.replaceWidget(self._minutes_form, form)
            self._minutes_form.hide()
            self._minutes_form.deleteLater()
            self._minutes_form = form
        for bed in look.beds:
            self.minutes[bed.bed].setValue(bed.minutes)

    def _minutes_field(self, form: Form, bed: BedNo) -> QSpinBox:
        field = QSpinBox()
        leave_wheel(field)
        field.setRange(0, MOST_MINUTES)
        field.setAccessibleName(_("Minutes for bed {bed}").format(bed=bed))
        field.valueChanged.connect(self._take_fields)
        return form.add(_("Minutes {bed}").format(bed=bed), field)

    def _show_clock(self, draft: Draft) -> None:
        hotel = self._context.hotel
        shown = draft.look.found_at or hotel.now()
        self.found_at.setTime(QTime.fromString(clock_text(shown, hotel.zone), "HH:mm"))

    # --- what a person says ---------------------------------------------------

    def _take_key(self, saying: Saying) -> None:
        look = self.places.current()
        if look is None or self._draft is None:
            return
        acts: dict[Saying, Callable[[], object]] = {
            Saying.SEEN: self._look_at,
            Saying.LEAVE: self.card.ask_why,
            Saying.FIND: self.card.ask_signs,
            Saying.TOGGLE: partial(self._toggle, look),
            Saying.ALL_SEEN: partial(self._look_at_all, look),
        }
        acts[saying]()

    def _toggle(self, look: PlaceLook) -> None:
        """Looked at becomes not looked at, for the reason given last; anything else looked at."""
        if look.state is not PlaceState.SEEN:
            self._look_at()
            return
        assert self._draft is not None  # a place is shown
        known = reasons_for(self._draft.look, look.place)
        if self._why in known:
            self._leave(self._why)
        elif NOT_ASKED in known:
            self._leave(NOT_ASKED)
        else:
            self.card.ask_why()

    def _look_at(self) -> None:
        self._say(look_at)

    def _look_at_all(self, place: PlaceLook) -> None:
        """All of the bed that one stands on, or of the room beside its beds."""
        if self._draft is not None:
            house = self._context.hotel.house
            self._take(replace(self._draft, look=look_at_all(house, self._draft.look, place.bed)))

    def _leave_all(self, why: str) -> None:
        if self._draft is None:
            return
        look = leave_all(self._context.hotel.house, self._draft.look, why)
        self._is_showing = True
        self._show_minutes(look)
        self._is_showing = False
        self._take(replace(self._draft, look=look))

    def _leave(self, why: str) -> None:
        if why != NOT_ASKED:
            self._why = why
        self._say(partial(_leave_for, why))

    def _find(self, signs: Iterable[Sign]) -> None:
        self._say(partial(_find_there, tuple(signs)))

    def _say(self, telling: Callable[[RoomLook, str, str], RoomLook]) -> None:
        place = self.places.current()
        if place is not None and self._draft is not None:
            self._take(
                replace(self._draft, look=telling(self._draft.look, place.bed, place.place.code))
            )
            if not self.bed.view.hasFocus():
                self.places.setFocus()

    def _take_fields(self) -> None:
        if self._is_showing or self._draft is None:
            return
        draft = self.head.put_into(self._draft)
        beds = tuple(replace(bed, minutes=self.minutes[bed.bed].value()) for bed in draft.look.beds)
        begun, ended = self.visit.clocks()
        look = replace(
            draft.look,
            beds=beds,
            noted=self.note.text().strip(),
            from_clock=begun,
            until_clock=ended,
            aids=self.aids.chosen(),
        )
        if look.checked_on != self._draft.look.checked_on:
            look = self._at_clock(look)  # a find of another day is of that day
        self._take(replace(draft, look=look))

    def _at_clock(self, look: RoomLook) -> RoomLook:
        clock = self.found_at.time().toString("HH:mm")
        return replace(look, found_at=moment_of(look.checked_on, clock, self._context.hotel.zone))

    def _take_clock(self) -> None:
        if not self._is_showing and self._draft is not None:
            self._take(replace(self._draft, look=self._at_clock(self._draft.look)))

    def _take(self, draft: Draft) -> None:
        self._draft = draft
        self._show()
        self.changed.emit(draft)

    def _show(self) -> None:
        draft = self._draft
        if draft is None:
            return
        house = self._context.hotel.house
        self.bed.show_visit(house, draft.look)
        self.places.show_lines(lines_of(house, draft.look))
        found = [*draft.look.found, *(one for bed in draft.look.beds for one in bed.found)]
        self._fields.show_field(self.found_at, visible=bool(found))
        self.start_over.setEnabled(draft.is_begun or draft.corrects is not None)
        self.before.show_draft(draft)
        self._show_card()

    def _show_card(self) -> None:
        if self._draft is not None:
            here = self.places.current()
            self.card.show_place(here, self._draft.look)
            self.bed.stand_on(here, self.places.following())


def _leave_for(why: str, look: RoomLook, bed: str, place: str) -> RoomLook:
    return leave(look, bed, place, why)


def _find_there(signs: tuple[Sign, ...], look: RoomLook, bed: str, place: str) -> RoomLook:
    return find_signs(look, bed, place, signs)
