"""Which rooms each cart serves: a sign in one asks for the others of its cart."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from hotelwatch.actions.links import serve_with_cart
from hotelwatch.core.cases.links import carts
from hotelwatch.core.choice_facts import CartServes
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import ChoiceField, DayField, Form
from hotelwatch.screens.forms.rooms_typed import rooms_named
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, join

CARD_PX = 460


class CartsPane(QWidget):
    """A list of carts, and a form to say which rooms one serves from a day on."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.table: RowTable[CartServes] = RowTable(
            [
                Column[CartServes](_("Cart"), lambda row: row.cart),
                Column[CartServes](
                    _("Since"), lambda row: day_text(row.from_on), sort=lambda row: row.from_on
                ),
                Column[CartServes](_("Rooms"), lambda row: join(list(row.rooms)), wraps=True),
            ],
            key=lambda row: row.cart,
            name=_("Carts and the rooms they serve"),
            empty=Empty(_("No cart is known: no case asks for rooms because of one.")),
            filtered=False,
        )
        self.table.current_changed.connect(self._show)
        self._make_form()
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.drop = QPushButton(_("No &longer used"))
        self.drop.clicked.connect(self._drop)
        deed = Deed(_("Say which rooms a cart serves"), (CartServes,), (self.save, self.drop))
        self.for_others = offer(context, deed)
        card = Card(CARD_PX)
        for widget in self._above():
            card.body.addWidget(widget)
        card.body.addWidget(self.form)
        card.body.addWidget(self.for_others)
        card.body.addStretch()
        card.foot.addWidget(self.drop)
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addWidget(self.table, 1)
        both.addWidget(card)

    def refresh(self) -> None:
        """Read carts and floors anew; what is being typed stays."""
        hotel = self._context.hotel
        self.table.show_rows(carts(hotel.house, hotel.today()))
        self.floor.offer(
            (floor, _("Floor {floor}").format(floor=floor)) for floor in hotel.house.rooms_by_floor
        )
        self.drop.setEnabled(self.table.current() is not None)

    def _above(self) -> tuple[QLabel, QLabel]:
        title = QLabel(_("Say which rooms a cart serves"))
        title.setProperty("role", "heading")
        why = QLabel(
            _(
                "A sign in one room asks for the others that its cart served since the look-back"
                " began. Insects are carried that way; how often, nobody measured."
            ),
            wordWrap=True,
        )
        why.setProperty("role", "muted")
        return title, why

    def _make_form(self) -> None:
        self.form = Form()
        self.name = self.form.add(_("&Cart"), QLineEdit())
        self.name.setPlaceholderText(_("As on its handle"))
        self.on = self.form.add(_("Fro&m"), DayField(self._context.hotel.today()))
        self.rooms = self.form.add(_("&Rooms"), QLineEdit())
        self.rooms.setPlaceholderText("301, 302, 303")
        self.floor = self.form.add(
            _("&Add all of"), ChoiceField(), hint=_("Puts the floor's rooms into the line above.")
        )
        self.floor.chosen.connect(self._add_floor)

    def _show(self, row: CartServes | None) -> None:
        self.drop.setEnabled(row is not None)
        if row is not None:
            self.form.clear()
            self.name.setText(row.cart)
            self.rooms.setText(", ".join(row.rooms))
            self.rooms.setCursorPosition(0)

    def _add_floor(self, floor: str | None) -> None:
        if floor is None:
            return
        more = self._context.hotel.house.rooms_by_floor.get(floor, ())
        named, strange = rooms_named(self.rooms.text(), self._context.hotel.house.rooms)
        self.rooms.setText(", ".join(dict.fromkeys((*named, *strange, *more))))
        self.floor.choose(None)

    def _save(self) -> None:
        self.form.clear()
        hotel = self._context.hotel
        cart = " ".join(self.name.text().split())
        named, strange = rooms_named(self.rooms.text(), hotel.house.rooms)
        if not cart:
            self.form.say(self.name, _("Name the cart."))
        if strange:
            told = join(list(strange))
            self.form.say(self.rooms, _("No room of the roster: {rooms}.").format(rooms=told))
        elif not named:
            self.form.say(self.rooms, _("Name the rooms that it serves, with commas between."))
        if self.on.day() > hotel.today():
            self.form.say(self.on, _("This day has not come yet."))
        if not self.form.has_problems():
            self._write(CartServes(cart, named, self.on.day()), _("The cart's rooms are set."))

    def _drop(self) -> None:
        row = self.table.current()
        if row is not None:
            gone = CartServes(row.cart, (), self._context.hotel.today())
            self._write(gone, _("The cart is no longer used; what it tied until today counts on."))

    def _write(self, serves: CartServes, said: str) -> None:
        with self._context.notices.refusals():
            serve_with_cart(self._context.hotel, serves)
            self.name.clear()
            self.rooms.clear()
            self.form.settle()
            self.refresh()
            self._context.notices.done(said)
