"""Contrast after WCAG 2.2, and tones told apart under simulated colour blindness.

Relative luminance, 1.4.3 (text 4.5:1), 1.4.6 (text 7:1, in high contrast), 1.4.11 (shapes 3:1).
"""

from __future__ import annotations

import itertools
from types import SimpleNamespace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QPushButton, QSlider, QStyle, QStyleOptionSlider

from hotelwatch.screens.building import rows as room_signs
from hotelwatch.screens.cases import ring_signs
from hotelwatch.screens.look import theme
from hotelwatch.screens.look.theme import (
    CONTRAST_BRIGHT,
    CONTRAST_DARK,
    DARK,
    LIGHT,
    TextSize,
    Theme,
    Tone,
)

LOOKS = pytest.mark.parametrize(
    "colours", theme.LOOKS.values(), ids=[look.value for look in theme.LOOKS]
)
HIGH = (CONTRAST_BRIGHT, CONTRAST_DARK)
SHAPE = 3.0
LEAST_TARGET_PX = 24
"""Source: WCAG 2.2, success criterion 2.5.8, target size (minimum)."""

# Machado, Oliveira, Fernandes 2009, "A physiologically-based model for simulation of color
# vision deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (6), 1291-1298:
# full severity, on linear RGB. The figures are as several public programs have them, all alike;
# the paper's own table was not at hand.
SEEN_BY = {
    "everyone": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
# Least difference (CIELAB, 1976) at which two tones count as told apart by colour: common
# practice, no source. About 2.3 can just be seen side by side (from memory).
TOLD = 10.0
BY_SIGN_ALONE = {
    (Theme.LIGHT, "protan"): {(Tone.LATE, Tone.DONE)},
    (Theme.LIGHT, "tritan"): {(Tone.ASKED, Tone.DONE)},
    (Theme.DARK, "deutan"): {(Tone.LATE, Tone.DONE)},
    (Theme.DARK, "tritan"): {(Tone.ASKED, Tone.DONE)},
}
"""Tones that some eyes can't tell apart by ground or ink, so that only sign and word do."""


def least_for_text(colours):
    return 7.0 if colours in HIGH else 4.5


def linear(colour):
    """Red, green and blue of sRGB as shares of light, after WCAG 2.2."""
    shade = QColor(colour)
    parts = (shade.red() / 255, shade.green() / 255, shade.blue() / 255)
    return [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it for sRGB."""
    r, g, b = linear(colour)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def as_seen(colour, eyes):
    """Linear red, green and blue as these eyes see it."""
    shares = linear(colour)
    rows = SEEN_BY[eyes]
    return [sum(k * share for k, share in zip(row, shares, strict=True)) for row in rows]


def cielab(shares):
    """CIE 1976 L*, a*, b* of linear sRGB under D65 (matrix of IEC 61966-2-1; from memory)."""
    r, g, b = (min(1.0, max(0.0, share)) for share in shares)
    x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505
    y = 0.2126 * r + 0.7152 * g + 0.0722 * b
    z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.0890

    def root(t):
        return t ** (1 / 3) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116

    return 116 * root(y) - 16, 500 * (root(x) - root(y)), 200 * (root(y) - root(z))


def apart(one, other, eyes):
    pair = (cielab(as_seen(one, eyes)), cielab(as_seen(other, eyes)))
    return sum((p - q) ** 2 for p, q in zip(*pair, strict=True)) ** 0.5


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
        assert ratio >= least_for_text(colours), (one, ink, ground, ratio)


@LOOKS
def test_text_on_the_stylesheets_grounds_can_be_read(colours):
    grounds = (colours.window, colours.band, colours.base, colours.stripe)
    for ink, ground in itertools.product((colours.text, colours.muted), grounds):
        assert contrast(ink, ground) >= least_for_text(colours), (ink, ground)
    for ground in (colours.accent, colours.accent_hover):
        assert contrast(colours.on_accent, ground) >= least_for_text(colours)
    assert contrast(colours.text, colours.hair) >= least_for_text(colours)  # a chip's ground


@LOOKS
@pytest.mark.parametrize("tone", list(Tone))
def test_every_tone_can_be_read_and_its_frame_seen(colours, tone):
    tint = colours.tones[tone]
    assert contrast(tint.ink, tint.fill) >= least_for_text(colours)
    # A frame is drawn in whichever of the two stands out from the ground.
    for ground in (colours.window, colours.base):
        assert max(contrast(tint.ink, ground), contrast(tint.fill, ground)) >= SHAPE


@LOOKS
def test_frames_and_focus_can_be_seen(colours):
    grounds = (colours.window, colours.band, colours.base)
    for shape, ground in itertools.product((colours.line, colours.accent), grounds):
        assert contrast(shape, ground) >= SHAPE, (shape, ground)


@LOOKS
def test_inks_that_draw_lines_can_be_seen_on_the_ground_of_charts(colours):
    # Quarantine's ink is never drawn without its ground.
    for tone in set(Tone) - {Tone.QUARANTINE}:
        assert contrast(colours.tones[tone].ink, colours.base) >= SHAPE, tone


@LOOKS
def test_every_look_tints_every_tone_and_is_known_by_its_palette(colours):
    assert set(colours.tones) == set(Tone)
    palette = theme.palette_of(colours)
    assert theme.colours_of(palette) is colours
    # A stylesheet gives some widgets another ground; they are still of the same look.
    palette.setColor(QPalette.ColorRole.Window, QColor(colours.accent))
    assert theme.colours_of(palette) is colours


@LOOKS
def test_every_role_of_the_palette_is_set(colours):
    palette = theme.palette_of(colours)
    roles = set(QPalette.ColorRole) - {QPalette.ColorRole.NoRole, QPalette.ColorRole.NColorRoles}
    unset = {role for role in roles if not palette.isBrushSet(QPalette.ColorGroup.Active, role)}
    assert unset == set()


@pytest.mark.parametrize("eyes", SEEN_BY)
def test_simulated_eyes_see_greys_as_they_are(eyes):
    # Machado and others normalise each row so that white, and with it every grey, stays.
    for grey in ("#ffffff", "#808080", "#000000"):
        assert as_seen(grey, eyes) == pytest.approx(linear(grey), abs=2e-6)


def test_a_red_and_a_green_that_deutans_hardly_tell_apart_come_out_so():
    # Against the whole chain: a red and a green that everyone tells apart, but deutans hardly.
    assert apart("#b07800", "#7f9600", "everyone") > 3 * apart("#b07800", "#7f9600", "deutan")
    # CIE: white is L* 100; sRGB's red is L* 53.2, a* 80.1, b* 67.2 (published tables, from memory).
    assert cielab((1, 1, 1)) == pytest.approx((100, 0, 0), abs=0.02)
    assert cielab((1, 0, 0)) == pytest.approx((53.24, 80.09, 67.20), abs=0.05)


@pytest.mark.parametrize("eyes", SEEN_BY)
@pytest.mark.parametrize("look_worn", theme.LOOKS)
def test_tones_are_told_apart_by_colour_or_are_named_here_as_told_by_sign(look_worn, eyes):
    tones = theme.LOOKS[look_worn].tones
    alike = {
        (one, other)
        for one, other in itertools.combinations(Tone, 2)
        if max(
            apart(tones[one].fill, tones[other].fill, eyes),
            apart(tones[one].ink, tones[other].ink, eyes),
        )
        < TOLD
    }
    assert alike == BY_SIGN_ALONE.get((look_worn, eyes), set())


@pytest.mark.parametrize("signs", [room_signs, ring_signs], ids=["building", "ring"])
def test_states_are_told_apart_by_sign_in_whatever_colour(signs):
    assert len(set(signs.GLYPHS.values())) == len(signs.GLYPHS)
    words = [signs.GLYPHS[state] for state, tone in signs.TONES.items() if tone is not None]
    assert all(words)


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


@pytest.mark.parametrize("worn", theme.LOOKS)
def test_what_is_chosen_is_worn(look, qapp, worn):
    look.choose(worn, TextSize.NORMAL)
    assert theme.colours_of(qapp.palette()) is look.colours is theme.LOOKS[worn]


def test_the_largest_text_is_twice_the_normal_one():
    # WCAG 2.2, 1.4.4: up to 200 per cent.
    assert theme.POINTS[TextSize.DOUBLE] == 2 * theme.POINTS[TextSize.NORMAL]


def hints_of(scheme, contrast_wanted):
    """What Qt would tell of a system; the real one offscreen tells nothing."""
    told = SimpleNamespace(contrastPreference=lambda: contrast_wanted)
    return SimpleNamespace(colorScheme=lambda: scheme, accessibility=lambda: told)


@pytest.mark.parametrize(
    ("scheme", "contrast_wanted", "ground", "expected"),
    [
        ("Light", "NoPreference", "#000000", LIGHT),
        ("Dark", "NoPreference", "#ffffff", DARK),
        ("Unknown", "NoPreference", "#000000", LIGHT),
        ("Light", "HighContrast", "#000000", CONTRAST_BRIGHT),
        ("Dark", "HighContrast", "#ffffff", CONTRAST_DARK),
        ("Unknown", "HighContrast", "#ffffff", CONTRAST_BRIGHT),
        ("Unknown", "HighContrast", "#000000", CONTRAST_DARK),
    ],
)
def test_the_system_is_followed_in_scheme_and_contrast(scheme, contrast_wanted, ground, expected):
    hints = hints_of(Qt.ColorScheme[scheme], Qt.ContrastPreference[contrast_wanted])
    palette = QPalette(QColor(ground))
    palette.setColor(QPalette.ColorRole.Window, QColor(ground))
    assert theme.system_colours(hints, palette) is expected


def test_qt_says_when_the_system_begins_to_want_contrast(look, qapp):
    look.choose(Theme.SYSTEM, TextSize.NORMAL)
    heard = []
    look.changed.connect(lambda: heard.append(look.colours))
    told = qapp.styleHints().accessibility()
    told.contrastPreferenceChanged.emit(Qt.ContrastPreference.HighContrast)
    assert heard == [LIGHT]  # dressed anew, in what the system says then: offscreen, nothing


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


@pytest.mark.parametrize("size", TextSize)
def test_a_sliders_knob_is_round_at_every_size_of_text(qtbot, look, size):
    look.choose(Theme.LIGHT, size)
    slider = QSlider(Qt.Orientation.Horizontal)
    qtbot.addWidget(slider)
    look.dress(slider)
    slider.setRange(0, 4)
    slider.setValue(2)
    slider.resize(300, slider.sizeHint().height())
    slider.show()
    option = QStyleOptionSlider()
    slider.initStyleOption(option)
    knob = slider.style().subControlRect(
        QStyle.ComplexControl.CC_Slider, option, QStyle.SubControl.SC_SliderHandle, slider
    )
    seen = slider.grab().toImage()
    ground = seen.pixelColor(0, 0)
    assert seen.pixelColor(knob.center()) != ground
    for corner in (knob.topLeft(), knob.topRight(), knob.bottomLeft(), knob.bottomRight()):
        assert seen.pixelColor(corner) == ground
    assert min(knob.width(), knob.height()) >= LEAST_TARGET_PX
