"""A drawn bed in the window's look: ink on linen, sand where insects settle more often.

Sand is no tone: it says nothing of what is due or late, and its hatching says the same.
tests/screens/test_bed_view.py measures ink against every ground.
"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPalette

from hotelwatch.core.checks.place_looks import PlaceLook, PlaceState
from hotelwatch.printing.bed_drawing.picture import Shade
from hotelwatch.printing.bed_drawing.style import BedStyle, SaidOfPlaces
from hotelwatch.screens.checks.words import STATE_SIGNS
from hotelwatch.screens.look.theme import colours_of

Five = tuple[str, str, str, str, str]
LINE_PX = 1.15
AIR_PX = 8
BRIGHT = {Shade.TOP: 0.0, Shade.SIDE: 0.05, Shade.END: 0.1, Shade.DEEP: 0.22}
DIM = {Shade.TOP: 0.13, Shade.SIDE: 0.08, Shade.END: 0.05, Shade.DEEP: 0.0}
"""How much of the text's colour is mixed into the ground, on light and on dark."""
SAND: Five = ("", "#f6ede0", "#efdec6", "#e2c8a3", "#d2ad7c")
SAND_BY_NIGHT: Five = ("", "#463e35", "#57493a", "#6d593f", "#856b47")
MIDDLE = 128


def style_of(palette: QPalette, font: QFont) -> BedStyle:
    """How a bed is drawn in the look that a palette belongs to."""
    colours = colours_of(palette)
    is_dark = QColor(colours.base).lightness() < MIDDLE
    shares, sand = (DIM, SAND_BY_NIGHT) if is_dark else (BRIGHT, SAND)
    shades = {shade: mixed(colours.base, colours.text, share) for shade, share in shares.items()}
    return BedStyle(
        ground=colours.base,
        ink=colours.text,
        shades=shades,
        glow=(shades[Shade.TOP], *sand[1:]),
        hatch=colours.text,
        chosen=colours.accent,
        on_chosen=colours.on_accent,
        font=font,
        label=QFontMetricsF(font).height() + AIR_PX,
        line=LINE_PX,
    )


def mixed(ground: str, other: str, share: float) -> str:
    """A colour with a share of another mixed in."""
    one, two = QColor(ground), QColor(other)
    parts = (
        round(a + (b - a) * share)
        for a, b in (
            (one.red(), two.red()),
            (one.green(), two.green()),
            (one.blue(), two.blue()),
        )
    )
    return QColor(*parts).name()


def said_of(looks: Iterable[PlaceLook], *, current: str, following: str) -> SaidOfPlaces:
    """How the places of one bed stand, as the drawing shows it."""
    looks = tuple(looks)
    return SaidOfPlaces(
        glyphs={one.place.code: STATE_SIGNS[one.state] for one in looks},
        found=_codes(looks, PlaceState.FOUND),
        left=_codes(looks, PlaceState.UNSEEN) | _codes(looks, PlaceState.UNSAID),
        current=current,
        following=following,
    )


def _codes(looks: Iterable[PlaceLook], state: PlaceState) -> frozenset[str]:
    return frozenset(one.place.code for one in looks if one.state is state)
