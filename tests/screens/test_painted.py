"""What is really painted, pixel by pixel: inks stand out from the grounds that they lie on, and
signs differ by shape for every pair of eyes.

WCAG 2.2: 1.4.1 (never by colour alone), 1.4.3 (text 4.5:1), 1.4.11 (shapes 3:1), 2.4.13 (focus).
Eyes are simulated after Machado, Oliveira and Fernandes 2009, as test_theme.py has them.
"""

from __future__ import annotations

import itertools
from collections import Counter

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QPen
from PySide6.QtWidgets import QWidget

from hotelwatch.screens.cases import ring_signs
from hotelwatch.screens.charts.chart import DASHES, PATTERNS, brush_of, ink_of
from hotelwatch.screens.look.state_sample import StateSample
from hotelwatch.screens.look.theme import LOOKS, TextSize, Theme, Tone
from hotelwatch.screens.rounds.plan_legend import PlanLegend
from tests.screens.test_theme import SEEN_BY, as_seen, contrast, luminance
from tests.walk import copied, places, settle, window_on

SHAPE, TEXT = 3.0, 4.5
LEAST_APART = 8
"""Pixels by which the shapes of two signs differ at least: common practice, no source."""
LEAST_OF_INK = 60
"""Pixels of a colour from which it counts as painted on purpose."""
BESIDE_PX = 3
THEMES = pytest.mark.parametrize("worn", LOOKS, ids=[look.value for look in LOOKS])


def rows_of(image):
    """An image as rows of 0xrrggbb."""
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    flat = np.frombuffer(plain.constBits(), np.uint32).reshape(plain.height(), -1)
    return flat[:, : plain.width()] & 0xFFFFFF


def hexed(value):
    return f"#{int(value):06x}"


def seen_luminance(colour, eyes):
    r, g, b = (min(1.0, max(0.0, share)) for share in as_seen(colour, eyes))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def shape_of(image, eyes):
    """Where something stands out from what most of the image is, to these eyes."""
    rows = rows_of(image)
    colours, places_, counts = np.unique(rows, return_inverse=True, return_counts=True)
    light = np.array([seen_luminance(hexed(one), eyes) for one in colours])
    ground = light[counts.argmax()]
    ratio = (np.maximum(light, ground) + 0.05) / (np.minimum(light, ground) + 0.05)
    return (ratio >= SHAPE)[places_].reshape(rows.shape)


def alike(images, eyes):
    """Pairs of signs whose shapes can't be told apart."""
    shapes = {name: shape_of(image, eyes) for name, image in images.items()}
    found = []
    for (one, first), (other, second) in itertools.combinations(shapes.items(), 2):
        tall = min(first.shape[0], second.shape[0])
        wide = min(first.shape[1], second.shape[1])
        differ = (first[:tall, :wide] ^ second[:tall, :wide]).sum()
        differ += abs(first.size - second.size)
        if differ < LEAST_APART:
            found.append((one, other, int(differ)))
    return found


@THEMES
@pytest.mark.parametrize("eyes", SEEN_BY)
def test_signs_of_the_ring_differ_by_shape(look, qtbot, worn, eyes):
    look.choose(worn, TextSize.NORMAL)
    images = {}
    for state in ring_signs.GLYPHS:
        sample = sample_of(state)
        qtbot.addWidget(sample)
        images[state] = sample.grab().toImage()
    assert alike(images, eyes) == []


def sample_of(state):
    return StateSample(
        ring_signs.GLYPHS[state],
        lambda colours: ring_signs.tint_of(state, colours),
        ring_signs.PATTERNS.get(state),
    )


@THEMES
@pytest.mark.parametrize("eyes", SEEN_BY)
def test_chips_of_the_rounds_differ_by_shape(look, qtbot, worn, eyes):
    look.choose(worn, TextSize.NORMAL)
    legend = PlanLegend()
    qtbot.addWidget(legend)
    legend.resize(1400, legend.height())
    whole = legend.grab().toImage()
    images = {
        sample.meaning: whole.copy(chip.toAlignedRect().adjusted(-1, -1, 1, 1))
        for sample, chip, _words in legend._places()
    }
    assert len(images) == len(legend._samples)
    assert alike(images, eyes) == []


@THEMES
@pytest.mark.parametrize("eyes", SEEN_BY)
def test_series_of_charts_differ_by_pattern_and_dash(worn, eyes):
    colours = LOOKS[worn]
    fills, lines = {}, {}
    for number in range(len(PATTERNS)):
        fills[number] = painted(
            colours, lambda p, n=number: p.fillRect(QRectF(8, 8, 48, 24), brush_of(n, colours))
        )
        lines[number] = painted(colours, lambda p, n=number: dashed(p, n, colours))
    assert alike(fills, eyes) == []
    assert alike(lines, eyes) == []


def painted(colours, paint):
    image = QImage(96, 60, QImage.Format.Format_RGB32)
    image.fill(QColor(colours.base))
    painter = QPainter(image)
    paint(painter)
    painter.end()
    return image


def dashed(painter, number, colours):
    pen = QPen(ink_of(number, colours), 3)
    if DASHES[number]:
        pen.setDashPattern(list(DASHES[number]))
    painter.setPen(pen)
    painter.drawLine(4, 30, 92, 30)


@THEMES
def test_the_frame_of_focus_is_seen_on_every_ground(worn):
    colours = LOOKS[worn]
    for ground in (colours.window, colours.band, colours.base, colours.stripe):
        assert contrast(colours.accent, ground) >= SHAPE
    # Inside a filled button the ring has the colour of its words.
    for ground in (colours.accent, colours.accent_hover):
        assert contrast(colours.on_accent, ground) >= SHAPE


def inks_and_grounds(colours):
    grounds = {colours.window, colours.band, colours.base, colours.stripe}
    grounds |= {tint.fill for tint in colours.tones.values()}
    inks = {colours.text: TEXT, colours.muted: TEXT, colours.line: SHAPE, colours.accent: SHAPE}
    for tone in set(Tone):
        inks[colours.tones[tone].ink] = TEXT
    # White is the ink of a dark sign in a look whose ground is white: there it is the ground.
    return {ink: least for ink, least in inks.items() if ink not in grounds}, grounds


def faint(image, colours):
    """Inks in a picture that hardly stand out from the ground on which most of them lie."""
    rows = rows_of(image)
    inks, grounds = inks_and_grounds(colours)
    known = {int(QColor(one).rgb()) & 0xFFFFFF: one for one in grounds}
    found = []
    for ink, least in inks.items():
        at = rows == (int(QColor(ink).rgb()) & 0xFFFFFF)
        if at.sum() < LEAST_OF_INK:
            continue
        beside = Counter()
        for axis, step in itertools.product((0, 1), (-BESIDE_PX, BESIDE_PX)):
            values, counts = np.unique(np.roll(rows, step, axis)[at], return_counts=True)
            beside.update(
                {
                    known[v]: int(c)
                    for v, c in zip(values.tolist(), counts, strict=True)
                    if v in known
                }
            )
        if not beside:
            continue
        # A frame lies between two grounds, and is seen where it stands out from one.
        sides = [ground for ground, _ in beside.most_common(2 if ink == colours.line else 1)]
        ground = max(sides, key=lambda side: contrast(ink, side))
        if contrast(ink, ground) < least:
            found.append(f"{ink} on {ground}: {contrast(ink, ground):.1f}")
    return found


def test_the_measure_finds_a_faint_ink():
    colours = next(iter(LOOKS.values()))
    quarantine = QColor(colours.tones[Tone.QUARANTINE].ink)
    image = painted(colours, lambda p: p.fillRect(QRectF(8, 8, 40, 3), quarantine))
    assert faint(image, colours)
    good = painted(colours, lambda p: p.fillRect(QRectF(8, 8, 40, 3), QColor(colours.text)))
    assert faint(good, colours) == []
    assert luminance("#ffffff") == pytest.approx(1)


def pictures(window):
    return [
        one
        for one in window.findChildren(QWidget)
        if one.isVisible()
        and type(one).__module__.startswith("hotelwatch")
        and any(
            "paintEvent" in vars(kind)
            for kind in type(one).__mro__
            if kind.__module__.startswith("hotelwatch")
        )
    ]


@pytest.mark.walk
@pytest.mark.timeout(300)
@pytest.mark.parametrize("page", ["today", "rounds", "building", "cases", "odds", "month"])
def test_what_pictures_paint_stands_out_from_its_ground(look, qtbot, invented, tmp_path, page):
    """By day and by night; what is painted asks the palette, whose four looks test_theme holds."""
    window = window_on(copied(invented, tmp_path / "hotel"), look, tmp_path / "choices")
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    settle(window)
    faults, count = [], 0
    for where in places(window, page):
        for worn in (Theme.LIGHT, Theme.DARK) if pictures(window) else ():
            look.choose(worn, TextSize.NORMAL)
            settle(window)
            for picture in pictures(window):
                count += 1
                found = faint(picture.grab().toImage(), LOOKS[worn])
                faults += [f"{where}, {worn}, {type(picture).__name__}: {one}" for one in found]
    window._stop_and_close()
    assert count
    assert not faults, "\n" + "\n".join(faults)
