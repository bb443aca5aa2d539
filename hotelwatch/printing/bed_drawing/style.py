"""How a drawn bed looks: its greys, what lights a likely place, its numbers; and on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtGui import QFont

from hotelwatch.printing.bed_drawing.picture import Shade


@dataclass(frozen=True, slots=True)
class BedStyle:
    """Colours as "#rrggbb", sizes in the painter's own units."""

    ground: str
    ink: str
    shades: Mapping[Shade, str]
    glow: tuple[str, str, str, str, str]
    """Ground of a place by how likely it is, ranks 1 to 5; darker in grey with each rank."""
    hatch: str
    """Ink of the hatching, which is denser with each rank."""
    chosen: str
    """Frame of the place one stands on."""
    on_chosen: str
    font: QFont
    label: float
    """Height of a number's frame, where the picture has room for it."""
    line: float
    """Width of an edge."""


@dataclass(frozen=True, slots=True)
class SaidOfPlaces:
    """What is known of the places while a check is typed; on an empty sheet nothing."""

    glyphs: Mapping[str, str] = field(default_factory=dict)
    """A sign for how each place stands, by its code."""
    found: frozenset[str] = frozenset()
    left: frozenset[str] = frozenset()
    """Not looked at though asked for."""
    current: str = ""
    following: str = ""
    """The next place in looking order."""


NOTHING_SAID = SaidOfPlaces()
PAPER_SHADES = {
    Shade.TOP: "#ffffff",
    Shade.SIDE: "#f4f4f4",
    Shade.END: "#e9e9e9",
    Shade.DEEP: "#c9c9c9",
}
PAPER_GLOW = ("#ffffff", "#f3f3f3", "#e6e6e6", "#d6d6d6", "#c4c4c4")
PAPER_LABEL_MM, PAPER_LINE_MM = 5.0, 0.22


def paper_style(font: QFont, *, per_mm: float) -> BedStyle:
    """Black and grey on white; ``per_mm`` is how many of the painter's units a millimetre has."""
    return BedStyle(
        ground="#ffffff",
        ink="#111111",
        shades=PAPER_SHADES,
        glow=PAPER_GLOW,
        hatch="#333333",
        chosen="#000000",
        on_chosen="#ffffff",
        font=font,
        label=PAPER_LABEL_MM * per_mm,
        line=PAPER_LINE_MM * per_mm,
    )
