"""The window's own look: linen and ink by day, charcoal and linen by night, plum for what acts.

Beside these two stand two of high contrast, ink on white and white on black.

``Look(app)`` is made once; ``look.choose(theme, text_size)`` sets palette, font and the
stylesheet of each window given to ``look.dress``. Widgets that paint ask
``colours_of(widget.palette())`` and are right in every look.
A ``Tone`` is a meaning (late, quarantine), never a decoration, and never the only sign:
whoever tints also says it in a word or a glyph. Buttons take a role::

    button.setProperty("role", MAIN)     # the one thing to do here, filled
    button.setProperty("role", QUIET)    # beside it, without a frame

Text on its ground has at least 4.5:1, frames and shapes at least 3:1 (WCAG 2.2, success
criteria 1.4.3 and 1.4.11), in high contrast text has 7:1 (1.4.6);
tests/screens/test_theme.py computes all of them, and simulates colour blindness.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QPalette, QStyleHints
from PySide6.QtWidgets import QApplication, QWidget

from hotelwatch import paths

MAIN = "main"
QUIET = "quiet"
TARGET_PX = 36
"""Height of the smallest thing to press at normal text size."""
CHIP_PX = 28
"""Height of small things beside a drawing; WCAG 2.2 asks for 24 (2.5.8)."""
GROOVE_PX, KNOB_RIM_PX = 6, 2
"""Of a slider, as window.qss has them."""


class Theme(StrEnum):
    """Which look the person chose."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"
    CONTRAST_BRIGHT = "contrast_bright"
    CONTRAST_DARK = "contrast_dark"


class TextSize(StrEnum):
    """How large the person wants the text."""

    NORMAL = "normal"
    LARGE = "large"
    LARGEST = "largest"
    DOUBLE = "double"
    """200 % of normal, as WCAG 2.2 asks for (1.4.4)."""


POINTS: Mapping[TextSize, float] = {
    TextSize.NORMAL: 10.5,
    TextSize.LARGE: 12.5,
    TextSize.LARGEST: 15.0,
    TextSize.DOUBLE: 21.0,
}


class Tone(StrEnum):
    """What a colour stands for; a word or a glyph always says it too."""

    DUE = "due"
    LATE = "late"
    QUARANTINE = "quarantine"
    ASKED = "asked"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class Tint:
    """A ground and the ink that is read on it; the ink also frames it."""

    fill: str
    ink: str


@dataclass(frozen=True, slots=True)
class Colours:
    """Every colour of one look, as "#rrggbb"."""

    window: str
    band: str
    """Ground of navigation and header."""
    base: str
    stripe: str
    text: str
    muted: str
    line: str
    """Frames of what can be pressed or filled in."""
    hair: str
    """Lines that only divide; they carry no meaning."""
    accent: str
    on_accent: str
    accent_hover: str
    tones: Mapping[Tone, Tint]


LIGHT = Colours(
    window="#f4f1ea",
    band="#e9e3d7",
    base="#fffdf8",
    stripe="#f8f5ee",
    text="#24211c",
    muted="#5b5549",
    line="#7f7767",
    hair="#d9d1c2",
    accent="#6a3d74",
    on_accent="#ffffff",
    accent_hover="#7d4a88",
    tones={
        Tone.DUE: Tint("#fbe6b0", "#5a4200"),
        Tone.LATE: Tint("#f8d3c8", "#7a1a08"),
        Tone.QUARANTINE: Tint("#3b3145", "#ffffff"),
        Tone.ASKED: Tint("#cfe6ea", "#0d4a58"),
        Tone.DONE: Tint("#d9ead3", "#214d1d"),
    },
)
DARK = Colours(
    window="#1d1b1e",
    band="#28252a",
    base="#232125",
    stripe="#29262b",
    text="#efeae2",
    muted="#b9b1a7",
    line="#8d848b",
    hair="#403b42",
    accent="#d5abde",
    on_accent="#2b1232",
    accent_hover="#e3c2ea",
    tones={
        Tone.DUE: Tint("#4b3b0f", "#ffe19a"),
        Tone.LATE: Tint("#5e2115", "#ffd3c8"),
        Tone.QUARANTINE: Tint("#573585", "#f3eaff"),
        Tone.ASKED: Tint("#13414b", "#c3ebf4"),
        Tone.DONE: Tint("#20411e", "#cdeec6"),
    },
)

CONTRAST_BRIGHT = Colours(
    window="#ffffff",
    band="#eeebf2",
    base="#ffffff",
    stripe="#f5f3f7",
    text="#000000",
    muted="#2f2a33",
    line="#000000",
    hair="#9a9a9a",
    accent="#5a1a6e",
    on_accent="#ffffff",
    accent_hover="#3f0d4f",
    tones={
        Tone.DUE: Tint("#ffd75e", "#3d3200"),
        Tone.LATE: Tint("#f09a8c", "#330300"),
        Tone.QUARANTINE: Tint("#1d1030", "#ffffff"),
        Tone.ASKED: Tint("#8fbcff", "#00234f"),
        Tone.DONE: Tint("#c9ffd0", "#145203"),
    },
)
CONTRAST_DARK = Colours(
    window="#000000",
    band="#17131a",
    base="#000000",
    stripe="#141216",
    text="#ffffff",
    muted="#dcd6de",
    line="#ffffff",
    hair="#585858",
    accent="#f0c4ff",
    on_accent="#000000",
    accent_hover="#ffffff",
    tones={
        Tone.DUE: Tint("#3d3824", "#fff6c8"),
        Tone.LATE: Tint("#330600", "#ffab90"),
        Tone.QUARANTINE: Tint("#46097f", "#e4c6ff"),
        Tone.ASKED: Tint("#031c3d", "#9fd0dc"),
        Tone.DONE: Tint("#0a4700", "#4cee5c"),
    },
)
LOOKS: Mapping[Theme, Colours] = {
    Theme.LIGHT: LIGHT,
    Theme.DARK: DARK,
    Theme.CONTRAST_BRIGHT: CONTRAST_BRIGHT,
    Theme.CONTRAST_DARK: CONTRAST_DARK,
}
_BY_ACCENT: Mapping[str, Colours] = {colours.accent: colours for colours in LOOKS.values()}
_MIDDLE_LIGHTNESS = 128


def colours_of(palette: QPalette) -> Colours:
    """The colours of the look that a palette belongs to; of one not ours, light or dark."""
    # A stylesheet changes a widget's own ground, so the ground tells looks apart less well.
    known = _BY_ACCENT.get(palette.highlight().color().name())
    if known is not None:
        return known
    return DARK if _is_dark(palette.window().color()) else LIGHT


def system_colours(hints: QStyleHints, system: QPalette) -> Colours:
    """The colours that the system asks for; where it names no scheme, its palette's ground.

    Only high contrast goes by that ground: without it, no scheme means light.
    """
    is_dark = hints.colorScheme() is Qt.ColorScheme.Dark
    if not _wants_contrast(hints):
        return DARK if is_dark else LIGHT
    if hints.colorScheme() is Qt.ColorScheme.Unknown:
        is_dark = _is_dark(system.window().color())
    return CONTRAST_DARK if is_dark else CONTRAST_BRIGHT


def _wants_contrast(hints: QStyleHints) -> bool:
    return hints.accessibility().contrastPreference() is Qt.ContrastPreference.HighContrast


def _is_dark(colour: QColor) -> bool:
    return colour.lightness() < _MIDDLE_LIGHTNESS


def palette_of(colours: Colours) -> QPalette:
    """The palette of a look, every role set."""
    role = QPalette.ColorRole
    shades = {
        role.Window: colours.window,
        role.WindowText: colours.text,
        role.Base: colours.base,
        role.AlternateBase: colours.stripe,
        role.ToolTipBase: colours.base,
        role.ToolTipText: colours.text,
        role.PlaceholderText: colours.muted,
        role.Text: colours.text,
        role.Button: colours.base,
        role.ButtonText: colours.text,
        role.BrightText: colours.tones[Tone.LATE].ink,
        role.Highlight: colours.accent,
        role.HighlightedText: colours.on_accent,
        role.Accent: colours.accent,
        role.Link: colours.accent,
        role.LinkVisited: colours.accent,
        role.Light: colours.base,
        role.Midlight: colours.stripe,
        role.Mid: colours.hair,
        role.Dark: colours.line,
        role.Shadow: colours.line,
    }
    palette = QPalette()
    for one, shade in shades.items():
        palette.setColor(one, QColor(shade))
    for one in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, one, QColor(colours.muted))
    return palette


class Look(QObject):
    """Dresses the application as the person chose, and follows the system where asked to."""

    changed = Signal()
    _sheet_changed = Signal(str)

    def __init__(self, app: QApplication) -> None:
        """Dress the application in the system's look, light where the system says none."""
        super().__init__(app)
        self._app = app
        self._family = app.font().family()
        self._system = QPalette(app.palette())
        self.theme = Theme.SYSTEM
        self.text_size = TextSize.NORMAL
        app.setStyle("Fusion")
        hints = app.styleHints()
        hints.colorSchemeChanged.connect(self._follow_system)
        hints.accessibility().contrastPreferenceChanged.connect(self._follow_system)
        self._dress()

    def dress(self, window: QWidget) -> None:
        """Let a window, and all that is ever put into it, wear this look from now on.

        The application wears no stylesheet itself: each part of a page would be polished anew
        whenever it was put into another, which took half of the time of making pages.
        """
        window.setStyleSheet(self._sheet)
        self._sheet_changed.connect(window.setStyleSheet)

    def choose(self, theme: Theme, text_size: TextSize) -> None:
        """Wear this look and this size of text from now on."""
        self.theme, self.text_size = theme, text_size
        self._dress()

    @property
    def colours(self) -> Colours:
        """The colours worn now."""
        if self.theme is Theme.SYSTEM:
            return system_colours(self._app.styleHints(), self._system)
        return LOOKS[self.theme]

    def _follow_system(self) -> None:
        if self.theme is Theme.SYSTEM:
            self._dress()

    def _dress(self) -> None:
        points = POINTS[self.text_size]
        font = self._app.font()
        font.setPointSizeF(points)
        self._app.setFont(font)
        self._app.setPalette(palette_of(self.colours))
        sheet = (paths.resources() / "styles" / "window.qss").read_text("utf-8")
        self._sheet = fill_in(sheet, self.colours, points)
        self._sheet_changed.emit(self._sheet)
        self.changed.emit()


def fill_in(sheet: str, colours: Colours, points: float) -> str:
    """The stylesheet with its @names replaced by a look's colours and sizes."""
    shades = {
        name: getattr(colours, name) for name in Colours.__dataclass_fields__ if name != "tones"
    }
    for tone, tint in colours.tones.items():
        shades[f"{tone}_fill"], shades[f"{tone}_ink"] = tint.fill, tint.ink
    ratio = points / POINTS[TextSize.NORMAL]
    look = "dark" if _is_dark(QColor(colours.window)) else "light"
    # A knob is as high as the groove and what rises beside it; rounder, Qt draws a square.
    rise = round(9 * ratio)
    knob = GROOVE_PX + 2 * rise
    names = {
        **shades,
        "target": f"{round(TARGET_PX * ratio) - 2}px",
        "chip": f"{round(CHIP_PX * ratio) - 2}px",
        "tick_px": f"{round(20 * ratio)}px",
        "dot_px": f"{round(14 * ratio)}px",
        "dot_ring": f"{round(5 * ratio)}px",
        "dot_inside": f"{round(14 * ratio) + 2 - 2 * round(5 * ratio)}px",
        "dot_round": f"{round(14 * ratio) // 2 + 1}px",
        "arrow_px": f"{round(12 * ratio)}px",
        "opener_px": f"{round(32 * ratio)}px",
        "scroller_px": f"{round(64 * ratio)}px",
        "stepper_px": f"{round(30 * ratio)}px",
        "step_arrow_px": f"{round(10 * ratio)}px",
        "place_px": f"{round(46 * min(ratio, 1.25))}px",
        "knob_px": f"{knob - 2 * KNOB_RIM_PX}px",
        "knob_rise": f"-{rise}px",
        "knob_round": f"{knob // 2}px",
        "slider_px": f"{round(28 * ratio)}px",
        "menu_px": f"{round(24 * ratio)}px",
        "bar_px": f"{round(14 * min(ratio, 1.25))}px",
        "big": f"{round(points * 1.45, 1)}pt",
        "heading": f"{round(points * 1.15, 1)}pt",
        "arrow_down": _url(paths.resources() / "icons" / f"arrow_down_{look}.svg"),
        "arrow_up": _url(paths.resources() / "icons" / f"arrow_up_{look}.svg"),
        "tick": _url(paths.resources() / "icons" / f"tick_{look}.svg"),
    }
    for name in sorted(names, key=len, reverse=True):
        sheet = sheet.replace(f"@{name}", names[name])
    return sheet


def _url(path: Path) -> str:
    return f'url("{path.as_posix()}")'
