"""Painting pages in millimetres: text that wraps, boxes to tick, blocks that stay together.

A paper is a row of blocks. Each knows its height before anything is painted, so
pages are filled first, and "page x of y" is known on the first of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QMarginsF, QPointF, QRectF, Qt, QTextBoundaryFinder
from PySide6.QtGui import (
    QColor,
    QFont,
    QImage,
    QPagedPaintDevice,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPen,
    QPolygonF,
    QTextLayout,
    QTextOption,
)

from hotelwatch.printing.families import RIGHT_TO_LEFT_LETTER, families

Orientation = QPageLayout.Orientation
RESOLUTION = 300
MARGIN_MM = 12.0
INCH_MM = 25.4
TICK_BOX_MM = 5.6
"""Side of a box to tick; 5 mm is the least that a gloved hand ticks (common practice)."""
LINE_MM = 0.25
LEADING = 0.9
"""Of a font's own height of line: paper is narrow, and its air stands between rows."""
GREY = QColor(228, 228, 228)
"""Light enough to be read over on a grey printer."""
DARK = QColor(90, 90, 90)


@dataclass(frozen=True, slots=True)
class Style:
    """How text looks; nothing that is filled in by hand is smaller than 10 points."""

    size_pt: float = 10.0
    bold: bool = False
    italic: bool = False

    @property
    def font(self) -> QFont:
        """The font, from the first family that is installed."""
        font = QFont()
        font.setFamilies(families())
        font.setPointSizeF(self.size_pt)
        font.setBold(self.bold)
        font.setItalic(self.italic)
        # Letters drawn as one sign can't be found by whoever searches the PDF.
        font.setFeature(QFont.Tag("liga"), 0)
        return font


BODY = Style()
STRONG = Style(bold=True)
HINT = Style(italic=True)
SUBHEADING = Style(11.5, bold=True)
HEADING = Style(15.0, bold=True)


@dataclass(frozen=True, slots=True)
class Block:
    """Something that stays together on a page."""

    height: float
    paint: Callable[[float], None]
    """Paints it with its top at so many millimetres."""
    repeats: Block | None = None
    """Painted before it where it begins a page: "(continued)"."""
    keeps_next: bool = False
    """Whether it may not be the last one on a page."""
    parts: tuple[Block, ...] = ()
    """What it may be broken into where it is higher than a page."""


class Canvas:
    """A page to paint on, measured in millimetres from its printable corner.

    On a mirrored page everything is said as for a page that is read from left to right and
    stands at the other side: columns, boxes, numbers, the edge at which lines of text begin.
    What shows something as it lies (a building's plan, a bed) is painted on ``plain``.
    """

    def __init__(
        self, device: QPagedPaintDevice, painter: QPainter, *, is_mirrored: bool = False
    ) -> None:
        """Paint with a painter that has begun on the device."""
        self._painter = painter
        self.is_mirrored = is_mirrored
        self._device = device
        self._px = device.logicalDpiX() / INCH_MM
        self.width = device.width() / self._px
        self.height = device.height() / self._px

    @property
    def plain(self) -> Canvas:
        """The same page, not mirrored."""
        return Canvas(self._device, self._painter)

    def draw(
        self,
        paint: Callable[[QPainter, QRectF], object],
        x: float,
        y: float,
        *,
        width: float,
        height: float,
    ) -> None:
        """Let something draw itself, never mirrored, into a place of the page."""
        self._painter.save()
        paint(self._painter, self._rect(x, y, width, height))
        self._painter.restore()

    def measure(self, text: str, width: float, style: Style = BODY) -> float:
        """The height of a text wrapped into a width."""
        return self._height(self._laid(text, width, style))

    def breaks_a_word(self, text: str, width: float, style: Style = BODY) -> bool:
        """Whether a text wrapped into a width ends a line where none may end."""
        layout = self._laid(text, width, style)
        ends = QTextBoundaryFinder(QTextBoundaryFinder.BoundaryType.Line, layout.text())
        for line in map(layout.lineAt, range(1, layout.lineCount())):
            ends.setPosition(start := line.textStart())
            if not ends.isAtBoundary() and layout.text()[start - 1] != " ":
                return True
        return False

    def text_width(self, text: str, style: Style = BODY) -> float:
        """The width of a text on one line."""
        layout = self._laid(text, self.width * 10, style)
        return layout.lineAt(0).naturalTextWidth() / self._px if text else 0.0

    def text(self, text: str, x: float, y: float, *, width: float, style: Style = BODY) -> float:
        """Paint a wrapped text; its height."""
        layout = self._laid(text, width, style)
        layout.draw(self._painter, QPointF(self._left(x, width) * self._px, y * self._px))
        return self._height(layout)

    def text_right(self, text: str, right: float, y: float, style: Style = BODY) -> None:
        """Paint a line of text that ends at ``right``."""
        width = self.text_width(text, style)
        self.text(text, right - width, y, width=width + 1, style=style)

    def tick_box(self, x: float, y: float, *, side: float = TICK_BOX_MM) -> None:
        """An empty box to tick."""
        self._painter.setPen(QPen(Qt.GlobalColor.black, 0.35 * self._px))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawRect(self._rect(x, y, side, side))

    def fill(self, x: float, y: float, *, width: float, height: float) -> None:
        """A light grey area."""
        self._painter.fillRect(self._rect(x, y, width, height), GREY)

    def frame(self, x: float, y: float, *, width: float, height: float) -> None:
        """A thin frame."""
        self._painter.setPen(QPen(DARK, LINE_MM * self._px))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawRect(self._rect(x, y, width, height))

    def line(self, x: float, y: float, *, to_x: float, thick: float = LINE_MM) -> None:
        """A level line, to write on or to part rows."""
        self._painter.setPen(QPen(DARK, thick * self._px))
        self._painter.drawLine(self._point(x, y), self._point(to_x, y))

    def polygon(
        self, corners: Sequence[tuple[float, float]], *, thick: float, is_filled: bool = False
    ) -> None:
        """An outline through these corners, light grey within where it is filled."""
        self._painter.setPen(QPen(DARK, thick * self._px))
        self._painter.setBrush(GREY if is_filled else Qt.BrushStyle.NoBrush)
        self._painter.drawPolygon(QPolygonF([self._point(x, y) for x, y in corners]))

    def picture(self, image: QImage, x: float, y: float, *, width: float, height: float) -> None:
        """A picture as large as the place allows, its shape kept; a frame where there is none."""
        if image.isNull():
            self.frame(x, y, width=width, height=height)
            return
        scale = min(width / image.width(), height / image.height())
        place = self._rect(x, y, image.width() * scale, image.height() * scale)
        self._painter.drawImage(place, image)

    def triangle(self, x: float, y: float, size: float) -> None:
        """A black triangle that points down."""
        corners = ((x, y), (x + size, y), (x + size / 2, y + size))
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(Qt.GlobalColor.black)
        self._painter.drawPolygon(QPolygonF([self._point(a, b) for a, b in corners]))

    def dots(self, x: float, y: float, *, full: int, of: int, size: float) -> None:
        """A row of dots, the first ones filled."""
        self._painter.setPen(QPen(Qt.GlobalColor.black, LINE_MM * self._px))
        for number in range(of):
            is_full = number < full
            self._painter.setBrush(Qt.GlobalColor.black if is_full else Qt.BrushStyle.NoBrush)
            self._painter.drawEllipse(self._rect(x + number * size * 1.3, y, size, size))

    def _left(self, x: float, width: float) -> float:
        return self.width - x - width if self.is_mirrored else x

    def _point(self, x: float, y: float) -> QPointF:
        return QPointF(self._left(x, 0.0) * self._px, y * self._px)

    def _rect(self, x: float, y: float, width: float, height: float) -> QRectF:
        left = self._left(x, width)
        return QRectF(left * self._px, y * self._px, width * self._px, height * self._px)

    def _height(self, layout: QTextLayout) -> float:
        lines = (layout.lineAt(number) for number in range(layout.lineCount()))
        return sum(line.height() for line in lines) * LEADING / self._px

    def _laid(self, text: str, width: float, style: Style) -> QTextLayout:
        layout = QTextLayout(text.replace("\n", "\u2028"), style.font, self._device)
        option = QTextOption()
        option.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
        if self.is_mirrored:
            option.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignAbsolute)
        if RIGHT_TO_LEFT_LETTER.search(text):
            option.setTextDirection(Qt.LayoutDirection.RightToLeft)
            if not self.is_mirrored:
                option.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignAbsolute)
        layout.setTextOption(option)
        self._painter.setPen(Qt.GlobalColor.black)
        y = 0.0
        layout.beginLayout()
        while (line := layout.createLine()).isValid():
            line.setLineWidth(width * self._px)
            line.setPosition(QPointF(0, y))
            y += line.height() * LEADING
        layout.endLayout()
        return layout


# --- blocks -------------------------------------------------------------------------


def stacked(blocks: Sequence[Block], *, repeats: Block | None = None) -> Block:
    """Blocks one below the other that stay together."""

    def paint(top: float) -> None:
        for block in blocks:
            block.paint(top)
            top += block.height

    height = sum(block.height for block in blocks)
    return Block(height, paint, repeats, parts=tuple(blocks))


def gap(height: float) -> Block:
    """Nothing, so high."""
    return Block(height, lambda _: None)


def text_block(
    canvas: Canvas, text: str, style: Style = BODY, *, x: float = 0.0, width: float = 0.0
) -> Block:
    """A wrapped text; over the whole width unless one is given."""
    width = width or canvas.width - x

    def paint(top: float) -> None:
        canvas.text(text, x, top, width=width, style=style)

    return Block(canvas.measure(text, width, style), paint)


def rule(canvas: Canvas) -> Block:
    """A level line over the whole width."""

    def paint(top: float) -> None:
        canvas.line(0, top + 1.0, to_x=canvas.width)

    return Block(2.0, paint)


def two_sides(canvas: Canvas, left: str, right: str, style: Style, *, share: float = 0.66) -> Block:
    """A text at the left, on so much of the width, and one that ends at the right edge."""
    free = canvas.width - canvas.text_width(right, style) - 4
    side = max(canvas.width * share, free)
    rest = canvas.width - side
    height = max(canvas.measure(left, side - 2, style), canvas.measure(right, rest, style))

    def paint(top: float) -> None:
        canvas.text(left, 0, top, width=side - 2, style=style)
        if canvas.text_width(right, style) <= rest:
            canvas.text_right(right, canvas.width, top, style)
        else:
            canvas.text(right, side, top, width=rest, style=style)

    return Block(height, paint)


def cells(
    canvas: Canvas, texts: Sequence[str], columns: Sequence[float], style: Style = BODY
) -> Block:
    """Texts side by side, each wrapped into its column; a column is where it begins."""
    ends = (*columns[1:], canvas.width)
    widths = [end - start - 1 for start, end in zip(columns, ends, strict=True)]
    height = max(canvas.measure(t, w, style) for t, w in zip(texts, widths, strict=True))

    def paint(top: float) -> None:
        for text, x, width in zip(texts, columns, widths, strict=True):
            canvas.text(text, x, top, width=width, style=style)

    return Block(height, paint)


def paginate(blocks: Iterable[Block], room: float) -> list[list[Block]]:
    """Blocks page by page, in order; one that is higher than a page is broken into its parts."""
    pages: list[list[Block]] = [[]]
    used = 0.0
    for group in _fitting(blocks, room):
        height = sum(block.height for block in group)
        if pages[-1] and used + height > room:
            before = group[0].repeats
            pages.append([before] if before else [])
            used = before.height if before else 0.0
        pages[-1].extend(group)
        used += height
    return pages


def _fitting(blocks: Iterable[Block], room: float) -> Iterator[list[Block]]:
    for group in _groups(blocks):
        before = group[0].repeats.height if group[0].repeats else 0.0
        if sum(block.height for block in group) + before <= room:
            yield group
        else:
            yield from _groups(part for block in group for part in _parts(block))


def _parts(block: Block) -> Iterator[Block]:
    if not block.parts:
        yield block
    for part in block.parts:
        yield replace(part, repeats=block.repeats)


def _groups(blocks: Iterable[Block]) -> Iterator[list[Block]]:
    """Blocks that must stand on one page: those that keep the next, and the next."""
    group: list[Block] = []
    for block in blocks:
        group.append(block)
        if not block.keeps_next:
            yield group
            group = []
    if group:
        yield group


# --- papers ---------------------------------------------------------------------------

Edge = Callable[[int, int], Block]
"""The block above or below a page, from its number and the count of pages."""


def paint_pages(
    device: QPagedPaintDevice, canvas: Canvas, blocks: Sequence[Block], *, head: Edge, foot: Edge
) -> int:
    """Paint blocks over as many pages as they need; how many those were."""
    top = head(1, 1).height
    bottom = canvas.height - foot(1, 1).height
    pages = paginate(blocks, bottom - top)
    for number, page in enumerate(pages, 1):
        if number > 1:
            device.newPage()
        head(number, len(pages)).paint(0.0)
        foot(number, len(pages)).paint(bottom)
        y = top
        for block in page:
            block.paint(y)
            y += block.height
    return len(pages)


def pdf_writer(
    path: Path, *, paper: str, title: str, orientation: Orientation = Orientation.Portrait
) -> QPdfWriter:
    """A PDF file of that paper (A4 or Letter) to paint on, upright unless said otherwise."""
    size = QPageSize.PageSizeId.Letter if paper == "Letter" else QPageSize.PageSizeId.A4
    writer = QPdfWriter(str(path))
    writer.setResolution(RESOLUTION)
    writer.setTitle(title)
    writer.setCreator("hotelwatch")
    margins = QMarginsF(MARGIN_MM, MARGIN_MM, MARGIN_MM, MARGIN_MM)
    writer.setPageLayout(
        QPageLayout(QPageSize(size), orientation, margins, QPageLayout.Unit.Millimeter)
    )
    return writer
