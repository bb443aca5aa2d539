"""Visits: looks to agree with guests who stay, and rooms wanted sooner than their cycle."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QTabWidget, QVBoxLayout, QWidget

from hotelwatch.core.checks.sooner import Pull, pulls
from hotelwatch.core.facts import Fact
from hotelwatch.core.round_facts import FurnitureMoved, NightAsked, VisitArranged
from hotelwatch.core.rounds.to_arrange import ToArrange, to_arrange
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.rounds.visit_forms import FurnitureForm, NightForm, VisitForm
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.asked import declined_hint, declined_text
from hotelwatch.wording.dates import days_text, short_day_text
from hotelwatch.wording.doubts import doubt_sentence
from hotelwatch.wording.language import _
from hotelwatch.wording.reasons import pull_sentence

FORM_PX = 370


class VisitsPane(QWidget):
    """Two lists to the left, three short forms to the right."""

    def __init__(self, context: Context) -> None:
        """No room yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.arrange = _arrange_table()
        self.sooner = _sooner_table()
        self.visit = VisitForm(context)
        self.night = NightForm(context)
        self.furniture = FurnitureForm(context)
        self.forms = QTabWidget(documentMode=True)
        self.forms.tabBar().setAccessibleName(_("What to write down"))
        forms: tuple[tuple[QWidget, str, type[Fact]], ...] = (
            (self.visit, _("Guest asked"), VisitArranged),
            (self.night, _("Keep free"), NightAsked),
            (self.furniture, _("Furniture"), FurnitureMoved),
        )
        for form, title, kind in forms:
            self.forms.setTabVisible(self.forms.addTab(form, title), context.may(kind))
        self.for_others = offer(context, *(Deed(title, (kind,)) for _form, title, kind in forms))
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        self.arrange.current_changed.connect(self._take)
        self.arrange.activated.connect(self._begin)
        self.sooner.activated.connect(self._open_room)
        self._lay_out()

    def refresh(self) -> None:
        """Read the lists anew; what is being typed stays."""
        hotel = self._context.hotel
        house, seen = hotel.house, hotel.occupancy()
        for form in (self.visit, self.night, self.furniture):
            form.offer(house)
        self.arrange.show_rows(to_arrange(house, seen, hotel.now()))
        found = pulls(house, seen, hotel.today())
        self.sooner.show_rows(sorted(found.values(), key=lambda pull: pull.by_on))
        borne = int(house.rules.figures.visit_wait_days.value)
        self.note.setText(
            _(
                "Rooms wanted while a guest stays in them: for their cycle if that is more than"
                " {days} past the day they are due (an assumption), for a case at once. Late days:"
                " each bed's days from then, or from today if that is over, until a team can go in."
            ).format(days=days_text(borne))
        )

    # --- making -------------------------------------------------------------

    def _lay_out(self) -> None:
        card = Card(FORM_PX)
        card.body.addWidget(self.for_others)
        card.body.addWidget(self.forms)
        left = QVBoxLayout()
        left.addWidget(_heading(_("Looks to agree with guests")))
        left.addWidget(self.arrange, 3)
        left.addWidget(self.note)
        left.addWidget(_heading(_("Wanted sooner than their cycle")))
        left.addWidget(self.sooner, 2)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addLayout(left, 1)
        both.addWidget(card)

    def _take(self, row: ToArrange | None) -> None:
        if row is not None:
            self.forms.setCurrentWidget(self.visit)
            self.visit.take(row)

    def _begin(self, row: ToArrange) -> None:
        self._take(row)
        self.visit.day.setFocus()

    def _open_room(self, row: Pull) -> None:
        if "building" in self._context.pages:
            self._context.go_to("building", row.room)


def _heading(text: str) -> QLabel:
    label = QLabel(text)
    label.setProperty("role", "heading")
    return label


def _arrange_table() -> RowTable[ToArrange]:
    return RowTable(
        [
            Column[ToArrange](_("Room"), lambda row: row.room),
            Column[ToArrange](
                _("Due by"),
                _due_text,
                sort=lambda row: row.due_on,
                tint=lambda row: Tone.ASKED if row.is_asked else None,
            ),
            Column[ToArrange](
                _("Guest since"),
                lambda row: short_day_text(row.guest_since) if row.guest_since else _("not known"),
                sort=lambda row: row.guest_since,
            ),
            Column[ToArrange](
                _("Go in from"),
                lambda row: (
                    short_day_text(row.next_open_on) if row.next_open_on else _("not known")
                ),
                sort=lambda row: row.next_open_on,
            ),
            Column[ToArrange](
                _("Late days"),
                lambda row: str(row.overdue_bed_days),
                sort=lambda row: row.overdue_bed_days,
            ),
            Column[ToArrange](
                _("Agreed"),
                _agreed_text,
                tint=_agreed_tone,
                hint=_agreed_hint,
                wraps=True,
            ),
        ],
        key=lambda row: row.room,
        name=_("Looks to agree with guests"),
        empty=Empty(_("No guest is in the way of a look that is due, or only for a few days.")),
        filtered=False,
    )


def _due_text(row: ToArrange) -> str:
    if row.is_asked:
        return _("{day}, asked").format(day=short_day_text(row.due_on))
    return short_day_text(row.due_on)


def _agreed_text(row: ToArrange) -> str:
    if row.visit is None:
        return _("not yet") if row.declined is None else declined_text(row.declined)
    said = _("! {day}, {from_clock} to {until_clock}: nobody can come")
    if not row.doubts:
        said = _("✓ {day}, {from_clock} to {until_clock}")
    return said.format(
        day=short_day_text(row.visit.on),
        from_clock=row.visit.from_clock,
        until_clock=row.visit.until_clock,
    )


def _agreed_hint(row: ToArrange) -> str:
    if row.declined is not None:
        return declined_hint(row.declined)
    return " ".join((_agreed_text(row), *map(doubt_sentence, row.doubts)))


def _agreed_tone(row: ToArrange) -> Tone | None:
    if row.doubts:
        return Tone.LATE
    if row.declined is not None:
        return None
    return Tone.DONE if row.visit else Tone.DUE


def _sooner_table() -> RowTable[Pull]:
    return RowTable(
        [
            Column[Pull](_("Room"), lambda row: row.room),
            Column[Pull](_("By"), lambda row: short_day_text(row.by_on), lambda row: row.by_on),
            Column[Pull](_("Why"), pull_sentence, hint=pull_sentence, wraps=True),
        ],
        key=lambda row: row.room,
        name=_("Wanted sooner than their cycle"),
        empty=Empty(_("No room is wanted sooner than its cycle.")),
        filtered=False,
    )
