"""Drawn beds as painted: on paper in grey, small, and with what was said of places."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import QMarginsF, QRectF
from PySide6.QtGui import QColor, QFont, QImage, QPageLayout, QPageSize, QPainter, QPdfWriter

from hotelwatch.printing.bed_drawing.beds import drawn_bed
from hotelwatch.printing.bed_drawing.legend import paint_sample, paint_scale, scale_width
from hotelwatch.printing.bed_drawing.painting import at, fitted, label_size, paint_bed
from hotelwatch.printing.bed_drawing.picture import HEIGHT
from hotelwatch.printing.bed_drawing.style import SaidOfPlaces, paper_style
from tests.build import rules

BEDS = [(kind, encased) for kind in rules().bed_kinds.values() for encased in (False, True)]
IDS = [f"{kind.code}{', encased' if encased else ''}" for kind, encased in BEDS]
MM_PER_INCH, DPI = 25.4, 300
PER_MM = DPI / MM_PER_INCH
SMALL_MM, LARGE_MM = 60.0, 170.0
LEAST_POINT = 6.0
"""The smallest figures that print well (common practice, no source)."""

every_bed = pytest.mark.parametrize(("kind", "encased"), BEDS, ids=IDS)


def font():
    made = QFont("DejaVu Sans")
    made.setPointSizeF(10)
    return made


def painted(picture, width_mm, said=None):
    """A picture as a grey printer would print it, white all around."""
    side = round(width_mm * PER_MM)
    image = QImage(side, round(side * HEIGHT), QImage.Format.Format_Grayscale8)
    image.setDotsPerMeterX(round(DPI / 0.0254))
    image.setDotsPerMeterY(round(DPI / 0.0254))
    image.fill(QColor("white"))
    painter = QPainter(image)
    more = {"said": said} if said else {}
    style = paper_style(font(), per_mm=PER_MM)
    paint_bed(painter, QRectF(image.rect()), picture=picture, style=style, **more)
    painter.end()
    return image


def greys(image, rect=None):
    """The tones of a grey image, 0 to 255, of a part of it if one is given."""
    box = rect or QRectF(image.rect())
    left, right = int(box.left()), int(box.right())
    rows = range(int(box.top()), int(box.bottom()))
    return [grey for y in rows for grey in bytes(image.constScanLine(y))[left:right]]


def luminance(grey):
    """Relative luminance of a grey of 0 to 255 (WCAG 2.2, definition)."""
    share = grey / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


@pytest.mark.parametrize("width_mm", [SMALL_MM, LARGE_MM])
@every_bed
def test_numbers_stand_in_a_pdf_at_every_width(kind, encased, width_mm, tmp_path, read_paper):
    picture = drawn_bed(kind, encased=encased)
    path = tmp_path / "bed.pdf"
    writer = QPdfWriter(str(path))
    writer.setResolution(DPI)
    margins = QMarginsF(10, 10, 10, 10)
    page = QPageSize(QPageSize.PageSizeId.A4)
    writer.setPageLayout(
        QPageLayout(page, QPageLayout.Orientation.Portrait, margins, QPageLayout.Unit.Millimeter)
    )
    painter = QPainter(writer)
    rect = QRectF(0, 0, width_mm * PER_MM, width_mm * PER_MM * HEIGHT)
    paint_bed(painter, rect, picture=picture, style=paper_style(font(), per_mm=PER_MM))
    painter.end()
    pieces = read_paper(path).pieces()
    wanted = [str(mark.number) for mark in picture.marks]
    assert sorted(piece.text for piece in pieces) == sorted(wanted)
    assert min(piece.size for piece in pieces) >= LEAST_POINT
    # No bitmap: the page holds no image.
    assert not list(read_paper(path).reader.pages[0].images)


@every_bed
def test_lines_stand_out_on_a_grey_printer(kind, encased):
    image = painted(drawn_bed(kind, encased=encased), SMALL_MM)
    tones = greys(image)
    dark = sum(grey < 100 for grey in tones) / len(tones)
    assert 0.02 < dark < 0.35  # neither empty nor filled with ink
    ink = luminance(min(tones)) + 0.05
    assert (luminance(255) + 0.05) / ink >= 3  # WCAG 2.2, 1.4.11: 3:1 for what is drawn
    corner = greys(image, QRectF(0, 0, 10, 10))
    assert min(corner) == 255


def test_likelier_is_darker_in_grey_and_by_more_lines():
    """By pattern as well as by tint (WCAG 2.2, 1.4.1), so that any eye and printer tells ranks."""
    style, side = paper_style(font(), per_mm=PER_MM), round(12 * PER_MM)
    means, crossings = [], []
    for rank in range(1, 6):
        image = QImage(side, side, QImage.Format.Format_Grayscale8)
        image.fill(QColor("white"))
        painter = QPainter(image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_sample(painter, QRectF(0, 0, side, side), rank=rank, style=style)
        painter.end()
        inner = QRectF(8, 8, side - 16, side - 16)
        tones = greys(image, inner)
        means.append(sum(tones) / len(tones))
        # Lines alone, the tint taken away: ink of the hatching against its ground.
        ground = QColor(style.glow[rank - 1]).lightness()
        crossings.append(sum(grey < ground - 60 for grey in tones) / len(tones))
    assert all(a - b >= 8 for a, b in pairwise(means)), means
    assert all(a < b for a, b in pairwise(crossings)), crossings


def test_the_scale_has_a_sample_for_each_rank():
    image = QImage(200, 30, QImage.Format.Format_Grayscale8)
    image.fill(QColor("white"))
    painter = QPainter(image)
    style = paper_style(font(), per_mm=4)
    paint_scale(painter, QRectF(2, 2, 190, 20), style)
    painter.end()
    width = scale_width(20)
    shares = [
        sum(greys(image, QRectF(2 + number * 25 + 2, 4, 16, 16))) / 256 for number in range(5)
    ]
    assert shares == sorted(shares, reverse=True)
    assert width == pytest.approx(120)
    assert min(greys(image, QRectF(width + 6, 0, 40, 30))) == 255


def test_a_picture_keeps_its_shape_in_any_rectangle():
    for rect in (QRectF(5, 7, 300, 900), QRectF(5, 7, 900, 200)):
        box = fitted(rect)
        assert box.height() == pytest.approx(box.width() * HEIGHT)
        assert rect.contains(box)
        assert box.center() == rect.center()


def test_numbers_do_not_grow_without_end():
    style = paper_style(font(), per_mm=PER_MM)
    for width_mm, expected_mm in ((SMALL_MM, 60 * 0.056), (LARGE_MM, 5.0)):
        box = QRectF(0, 0, width_mm * PER_MM, width_mm * PER_MM * HEIGHT)
        _width, height = label_size(box, style, is_wide=False)
        assert height / PER_MM == pytest.approx(expected_mm)


def test_how_a_place_stands_is_seen_by_more_than_colour():
    """Found: white on black. Left: a dashed frame. In grey, since paper and eyes differ."""
    picture = drawn_bed(rules().bed_kinds["box_spring"], encased=False)
    box = QRectF(0, 0, LARGE_MM * PER_MM, LARGE_MM * PER_MM * HEIGHT)
    mark = picture.mark_of("mattress_underside")

    def frame(said):
        image = painted(picture, LARGE_MM, said)
        style = paper_style(font(), per_mm=PER_MM)
        width, height = label_size(box, style, is_wide=True)
        middle = at(box, mark.label)
        area = QRectF(middle.x() - width / 2, middle.y() - height / 2, width, height)
        tones = greys(image, area)
        return sum(grey < 100 for grey in tones) / len(tones)

    glyphs = {mark.place: "✓"}
    seen = frame(SaidOfPlaces(glyphs))
    left = frame(SaidOfPlaces(glyphs, left=frozenset({mark.place})))
    found = frame(SaidOfPlaces(glyphs, found=frozenset({mark.place})))
    assert left < seen < found
    assert found > 0.5 > seen


def test_the_place_one_stands_on_and_the_next_one_are_framed():
    picture = drawn_bed(rules().bed_kinds["box_spring"], encased=False)
    plain = painted(picture, LARGE_MM, SaidOfPlaces({"bedding": "✓"}))
    current = painted(picture, LARGE_MM, SaidOfPlaces({"bedding": "✓"}, current="bedding"))
    following = painted(picture, LARGE_MM, SaidOfPlaces({"bedding": "✓"}, following="mattress_top"))
    assert plain != current != following != plain
