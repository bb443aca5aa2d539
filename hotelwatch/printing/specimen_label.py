"""Labels for specimens on plain paper, to cut out: what it is, its mark, its way to tick off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from PySide6.QtGui import QPagedPaintDevice, QPainter

from hotelwatch.core.cases.specimens import Specimen, specimen_text, specimens_named
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.printing.application import ensure_application
from hotelwatch.printing.page import Canvas, Style, pdf_writer
from hotelwatch.printing.room_mark import paint_text
from hotelwatch.wording.language import _
from hotelwatch.wording.specimens import chain_lines, found_lines

ACROSS, DOWN = 2, 3
GAP_MM, PAD_MM = 4.0, 3.0
MARK_MM = 26.0
BOX_MM, LINE_MM = 4.0, 8.6
SMALL, TEXT, BOLD, NAME = Style(10.0), Style(10.5), Style(10.5, bold=True), Style(17.0, bold=True)


@dataclass(frozen=True, slots=True)
class LabelWish:
    """Which labels are printed."""

    case: CaseNo
    labels: tuple[str, ...] = ()
    """Empty: those of every specimen of the case."""
    copies: int = 1


def print_labels(house: House, wish: LabelWish, path: Path) -> int:
    """Write labels of a case's specimens as a PDF, six to a page; how many pages it has.

    Refusal("unknown_case"), ("no_specimen"), ("no_such_folder"), ("read_only_folder").
    """
    found = specimens_named(house, wish.case, wish.labels)
    if not path.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(path.parent))
    ensure_application()
    paper = house.hotel.paper if house.hotel else "A4"
    title = _("Specimen labels of case {case}").format(case=wish.case)
    try:
        device = pdf_writer(path, paper=paper, title=title)
        return paint_labels(house, [one for one in found for _copy in range(wish.copies)], device)
    except OSError as error:
        raise Refusal("read_only_folder", path=str(path)) from error


def paint_labels(house: House, found: Sequence[Specimen], device: QPagedPaintDevice) -> int:
    """Paint labels; how many pages they take."""
    painter = QPainter()
    if not painter.begin(device):
        raise OSError("the device can't be painted on")
    try:
        canvas = Canvas(device, painter)
        for number, specimen in enumerate(found):
            place = number % (ACROSS * DOWN)
            if number and not place:
                device.newPage()
            _Label(canvas, house, place).paint(specimen)
    finally:
        painter.end()
    return -(-len(found) // (ACROSS * DOWN))


class _Label:
    """One label in its place on the page."""

    def __init__(self, canvas: Canvas, house: House, place: int) -> None:
        self._canvas, self._house = canvas, house
        self._width = (canvas.width - GAP_MM * (ACROSS - 1)) / ACROSS
        self._height = (canvas.height - GAP_MM * (DOWN - 1)) / DOWN
        self._x = (place % ACROSS) * (self._width + GAP_MM)
        self._y = (place // ACROSS) * (self._height + GAP_MM)

    def paint(self, specimen: Specimen) -> None:
        canvas = self._canvas
        canvas.frame(self._x, self._y, width=self._width, height=self._height)
        left, inner = self._x + PAD_MM, self._width - 2 * PAD_MM
        mark_x = left + inner - MARK_MM
        painting = partial(paint_text, specimen_text(self._house, specimen))
        canvas.draw(painting, mark_x, self._y + PAD_MM, width=MARK_MM, height=MARK_MM)
        beside = inner - MARK_MM - 2.0
        y = self._y + PAD_MM
        hotel = self._house.hotel.name if self._house.hotel else ""
        y += self._short(hotel, left, y, width=beside, style=SMALL, most=1)
        name = _("Specimen {label}").format(label=specimen.label)
        y += self._short(name, left, y, width=beside, style=NAME)
        case = _("Case {case}, room {room}").format(case=specimen.case, room=specimen.room)
        y += self._short(case, left, y, width=beside, style=BOLD)
        y = max(y, self._y + PAD_MM + MARK_MM) + 1.0
        for title, said in found_lines(specimen, self._house.zone):
            y += self._line(title, said, y)
        canvas.line(left, y + 0.6, to_x=left + inner)
        y += 1.6
        for title, said, is_done in chain_lines(specimen, self._house.zone):
            y += self._box(title, said, y, is_done=is_done)

    def _short(
        self, text: str, x: float, y: float, *, width: float, style: Style, most: int = 2
    ) -> float:
        """Text on so many lines at most, cut where it is longer; its height."""
        canvas = self._canvas
        most_high = (most + 0.5) * canvas.measure("X", width, style)
        shown = text
        while canvas.measure(shown, width, style) > most_high:
            text = text[:-1]
            shown = _("{text}…").format(text=text.rstrip())
        return canvas.text(shown, x, y, width=width, style=style)

    def _line(self, title: str, said: str, y: float) -> float:
        """A title with what is known, or a line to write on; its height."""
        canvas, left = self._canvas, self._x + PAD_MM
        inner = self._width - 2 * PAD_MM
        if said:
            whole = _("{title}: {said}").format(title=title, said=said)
            return self._short(whole, left, y, width=inner, style=TEXT) + 0.6
        wide = canvas.text_width(title, TEXT) + 2.0
        height = canvas.text(title, left, y, width=wide, style=TEXT)
        canvas.line(left + wide, y + height - 0.6, to_x=left + inner)
        return height + 0.6

    def _box(self, title: str, said: str, y: float, *, is_done: bool) -> float:
        canvas, left = self._canvas, self._x + PAD_MM
        inner = self._width - 2 * PAD_MM
        canvas.tick_box(left, y + 1.2, side=BOX_MM)
        if is_done:
            canvas.text("✓", left + 0.4, y + 0.8, width=BOX_MM, style=BOLD)
        x = left + BOX_MM + 1.6
        text = _("{title}: {said}").format(title=title, said=said) if said else title
        height = self._short(text, x, y + 1.2, width=inner - (x - left), style=TEXT)
        if not said:
            end = x + canvas.text_width(title, TEXT) + 2.0
            canvas.line(end, y + height + 0.8, to_x=left + inner)
        return max(LINE_MM, height + 2.0)
