"""Contrast after WCAG 2.2: relative luminance, 1.4.3 (text 4.5:1), 1.4.11 (shapes 3:1)."""

from __future__ import annotations

import itertools

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QPushButton

from hotelwatch.screens import theme
from hotelwatch.screens.theme import DARK, LIGHT, TextSize, Theme, Tone

LOOKS = pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
TEXT, SHAPE = 4.5, 3.0


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it for sRGB."""

    def linear(part):
        share = part / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    shade = QColor(colour)
    r, g, b = (linear(part) for part in (shade.red(), shade.green(), shade.blue()))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_figures_that_wcag_names():
    # WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1; #767676 on white is 4.54:1,
    # the grey that the working group's own techniques (G18) give as just enough.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#ffffff", "#ffffff") == pytest.approx(1)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@LOOKS
def test_every_text_of_the_palette_can_be_read_on_its_ground(colours):
    role, group = QPalette.ColorRole, QPalette.ColorGroup
    pairs = [
        (role.WindowText, role.Window),
        (role.Text, role.Base),
        (role.Text, role.AlternateBase),
        (role.ButtonText, role.Button),
        (role.ToolTipText, role.ToolTipBase),
        (role.PlaceholderText, role.Base),
        (role.HighlightedText, role.Highlight),
        (role.Link, role.Window),
        (role.Link, role.Base),
    ]
    palette = theme.palette_of(colours)
    for one, (ink, ground) in itertools.product((group.Active, group.Inactive), pairs):
        ratio = contrast(palette.color(one, ink).name(), palette.color(one, ground).name())
        assert ratio >= TEXT, (one, ink, ground, ratio)


@LOOKS
def test_text_on_the_stylesheets_grounds_can_be_read(colours):
    grounds = (colours.window, colours.band, colours.base, colours.stripe)
    for ink, ground in itertools.product((colours.text, colours.muted), grounds):
        assert contrast(ink, ground) >= TEXT, (ink, ground)
    for ground in (colours.accent, colours.accent_hover):
        assert contrast(colours.on_accent, ground) >= TEXT


@LOOKS
@pytest.mark.parametrize("tone", list(Tone))
def test_every_tone_can_be_read_and_its_frame_seen(colours, tone):
    tint = colours.tones[tone]
    assert contrast(tint.ink, tint.fill) >= TEXT
    # A frame is drawn in whichever of the two stands out from the ground.
    for ground in (colours.window, colours.base):
        assert max(contrast(tint.ink, ground), contrast(tint.fill, ground)) >= SHAPE


@LOOKS
def test_frames_and_focus_can_be_seen(colours):
    grounds = (colours.window, colours.band, colours.base)
    for shape, ground in itertools.product((colours.line, colours.accent), grounds):
        assert contrast(shape, ground) >= SHAPE, (shape, ground)


def test_both_looks_tint_every_tone():
    assert set(LIGHT.tones) == set(DARK.tones) == set(Tone)


@LOOKS
def test_the_stylesheet_has_no_name_left_over(colours):
    sheet = (theme.paths.resources() / "styles" / "window.qss").read_text("utf-8")
    body = sheet.split("*/", 1)[1]
    assert "@" in body
    assert "@" not in theme.fill_in(body, colours, 10.5)


def test_choosing_a_look_dresses_the_application(look, qapp):
    look.choose(Theme.DARK, TextSize.LARGEST)
    assert theme.colours_of(qapp.palette()) is DARK
    assert qapp.font().pointSizeF() == theme.POINTS[TextSize.LARGEST]
    look.choose(Theme.LIGHT, TextSize.NORMAL)
    assert theme.colours_of(qapp.palette()) is LIGHT


def test_the_systems_look_counts_as_light_where_the_system_says_none(look, qapp):
    assert qapp.styleHints().colorScheme() is Qt.ColorScheme.Unknown  # offscreen has none
    look.choose(Theme.SYSTEM, TextSize.NORMAL)
    assert look.colours is LIGHT


@pytest.mark.parametrize("size", list(TextSize))
def test_what_one_presses_is_large_enough(look, qtbot, size):
    look.choose(Theme.LIGHT, size)
    button = QPushButton("Press")
    qtbot.addWidget(button)
    button.show()
    assert button.sizeHint().height() >= theme.TARGET_PX
