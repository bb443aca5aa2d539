"""The beds of a visit as drawings, one behind the other, with what their signs mean."""

from __future__ import annotations

import math
from itertools import groupby

from PySide6.QtCore import QEvent, QPoint, QRectF, QSize, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.beds import Place
from hotelwatch.core.checks.looking import RoomLook
from hotelwatch.core.checks.place_looks import PlaceLook, PlaceState, place_looks
from hotelwatch.core.facts import BedNo
from hotelwatch.core.house import House
from hotelwatch.printing.bed_drawing.beds import drawn_bed, drawn_room
from hotelwatch.printing.bed_drawing.legend import paint_scale, scale_width
from hotelwatch.printing.bed_drawing.picture import BedPicture
from hotelwatch.screens.checks.bed_style import style_of
from hotelwatch.screens.checks.bed_view import BedView
from hotelwatch.screens.checks.place_keys import Saying
from hotelwatch.screens.checks.place_model import bed_text
from hotelwatch.screens.checks.words import STATE_SIGNS, state_words
from hotelwatch.screens.look.theme import QUIET
from hotelwatch.wording.bed_drawing import hatching_text, optional_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label

KEY_STATES = (PlaceState.SEEN, PlaceState.UNSEEN, PlaceState.FOUND)


class BedPane(QWidget):
    """Tabs of beds, the drawing, what is left or found on it, a legend."""

    stand_wanted = Signal(str, str)
    """A bed and a place that was pressed there."""
    step_wanted = Signal(int)
    said = Signal(object)
    menu_wanted = Signal(QPoint)

    def __init__(self) -> None:
        """No visit yet."""
        super().__init__()
        self.beds = QTabBar(expanding=False, drawBase=False)
        self.beds.setAccessibleName(_("Beds of this room"))
        self.beds.currentChanged.connect(self._take_tab)
        self.all_seen = QPushButton(_("All looked at (A)"))
        self.all_seen.setAccessibleName(_("All of this bed looked at"))
        self.all_seen.setToolTip(_("Every place of this bed was looked at; what was found stays"))
        self.all_seen.setProperty("role", QUIET)
        self.all_seen.clicked.connect(lambda: self.said.emit(Saying.ALL_SEEN))
        self.view = BedView()
        self.left_over = QLabel(wordWrap=True)
        self.legend = BedLegend()
        self._looks: dict[str, list[PlaceLook]] = {}
        self._pictures: dict[str, BedPicture] = {}
        self._names: dict[str, str] = {}
        self._drawn: dict[tuple[str, bool, tuple[Place, ...]], BedPicture] = {}
        self._is_showing = False
        self.view.stand_wanted.connect(self._take_place)
        self.view.step_wanted.connect(self.step_wanted)
        self.view.edge_wanted.connect(self._take_edge)
        self.view.said.connect(self.said)
        self.view.menu_wanted.connect(self.menu_wanted)
        self._lay_out()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.beds, 1)
        top.addWidget(self.all_seen)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(4)
        lines.addLayout(top)
        lines.addWidget(self.view, 1)
        lines.addWidget(self.left_over)
        lines.addWidget(self.legend)

    def minimumSizeHint(self) -> QSize:
        """As high as its wrapped lines need at this width; a splitter asks for no more."""
        least = super().minimumSizeHint()
        layout = self.layout()
        if layout is None or not layout.hasHeightForWidth():
            return least
        width = max(self.width(), least.width())
        return QSize(least.width(), max(least.height(), layout.minimumHeightForWidth(width)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lines wrap elsewhere in another width."""
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()

    # --- what is shown ----------------------------------------------------------

    def show_visit(self, house: House, look: RoomLook) -> None:
        """Show the beds of a visit and how their places stand."""
        told = groupby(place_looks(house, look), key=lambda one: one.bed)
        self._looks = {bed: list(places) for bed, places in told}
        self._names = {bed: bed_text(house, bed) for bed in self._looks}
        self._pictures = {bed: self._picture(house, bed) for bed in self._looks}
        self._show_tabs()
        self._show_bed()

    def stand_on(self, look: PlaceLook | None, following: PlaceLook | None) -> None:
        """Show the bed of the current place, and which place is next."""
        if look is None:
            return
        beds = list(self._looks)
        if look.bed in beds:
            self._is_showing = True
            self.beds.setCurrentIndex(beds.index(look.bed))
            self._is_showing = False
        self._show_bed()
        is_here = following is not None and following.bed == look.bed
        self.view.stand_on(look.place.code, following.place.code if is_here and following else "")

    def bed(self) -> str:
        """The bed that is shown; empty for the room's other places."""
        beds = list(self._looks)
        number = self.beds.currentIndex()
        return beds[number] if 0 <= number < len(beds) else ""

    def _picture(self, house: House, bed: str) -> BedPicture:
        """A bed's picture, drawn once for its kind; for no bed the room's."""
        described = house.beds[BedNo(bed)] if bed else None
        kind = house.rules.bed_kinds[described.kind] if described else None
        encased = described is not None and described.encased
        places = kind.places_of(encased=encased) if kind else house.rules.room_places
        key = (kind.code if kind else "", encased, places)
        if key not in self._drawn:
            self._drawn[key] = drawn_bed(kind, encased=encased) if kind else drawn_room(places)
        return self._drawn[key]

    def _show_tabs(self) -> None:
        names = [bed or _("Room") for bed in self._looks]
        if names == [self.beds.tabText(number) for number in range(self.beds.count())]:
            return
        self._is_showing = True
        while self.beds.count():
            self.beds.removeTab(0)
        for bed, name in zip(self._looks, names, strict=True):
            self.beds.setTabToolTip(self.beds.addTab(name), self._names[bed])
        self._is_showing = False

    def _show_bed(self) -> None:
        bed = self.bed()
        looks = self._looks.get(bed, [])
        by_code = {look.place.code: look for look in looks}
        self.view.show_bed(self._pictures.get(bed), self._names.get(bed, ""), by_code)
        self.left_over.setText(_left_text(self._pictures.get(bed), looks))

    # --- what a person does -------------------------------------------------------

    def _take_tab(self, number: int) -> None:
        beds = list(self._looks)
        if not self._is_showing and 0 <= number < len(beds):
            self.stand_wanted.emit(beds[number], self._looks[beds[number]][0].place.code)

    def _take_place(self, place: str) -> None:
        self.stand_wanted.emit(self.bed(), place)

    def _take_edge(self, number: int) -> None:
        looks = self._looks.get(self.bed())
        if looks:
            self.stand_wanted.emit(self.bed(), looks[number].place.code)


class BedLegend(QWidget):
    """How hatching, numbers and signs are read, in words."""

    def __init__(self) -> None:
        """The same for every bed."""
        super().__init__()
        signs = join([f"{STATE_SIGNS[state]} {label(state)}" for state in KEY_STATES])
        self.scale = _Scale()
        self.hatching = QLabel(hatching_text(), wordWrap=True)
        self.hatching.setProperty("role", "muted")
        self.hatching.setToolTip("\n".join((signs, optional_text())))
        line = QHBoxLayout(self)
        line.setContentsMargins(2, 0, 2, 0)
        line.setSpacing(8)
        line.addWidget(self.scale)
        line.addWidget(self.hatching, 1)


class _Scale(QWidget):
    """The five samples of hatching, as high as a capital letter and a little more."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Five squares and the gaps between them."""
        side = self.fontMetrics().ascent()
        return QSize(math.ceil(scale_width(side)) + 2, side + 2)

    def changeEvent(self, event: QEvent) -> None:
        """Paint anew in another look."""
        super().changeEvent(event)
        self.updateGeometry()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the samples."""
        painter = QPainter(self)
        style = style_of(self.palette(), self.font())
        paint_scale(painter, QRectF(self.rect()).adjusted(1, 1, -1, -1), style)
        painter.end()


def _left_text(picture: BedPicture | None, looks: list[PlaceLook]) -> str:
    """What is found or left on a bed, by number and in words; or that nothing is."""
    said = []
    for look in looks:
        mark = picture.mark_of(look.place.code) if picture else None
        if mark is not None and (look.is_gap or look.state is PlaceState.FOUND):
            state, why = state_words(look)
            text = _("{n} {state}: {why}") if why else _("{n} {state}")
            said.append(text.format(n=mark.number, state=state, why=why))
    if said:
        return "  ·  ".join(said)
    return _("{sign} Everything asked for was looked at").format(sign=STATE_SIGNS[PlaceState.SEEN])
