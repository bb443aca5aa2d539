"""How the window comes by a hotel: given by whoever starts it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.core.house import House

DEMO_FILE = "demo.hotelwatch"
"""The name of the invented hotel's file."""


@dataclass(frozen=True, slots=True)
class Doors:
    """How the window comes by a hotel; it opens no file itself."""

    open: Callable[..., OpenHotel]
    """(path), or (path, house) with what ``read`` read of it."""
    start: Callable[[Path, HotelDescribed], OpenHotel]
    make_demo: Callable[..., Path]
    """Builds the invented hotel and says where its file lies; runs as a job."""
    folder: Path
    """Where a new hotel's file is suggested."""
    drafts: Path
    """Where half-entered forms are kept."""
    zone: str
    """The time zone suggested for a new hotel."""
    clock: Callable[[], datetime] | None = None
    """Tells when a backup was made; None: this window makes none and goes back to none."""
    read: Callable[[Path], House] | None = None
    """Reads a file as a job, before it is opened; None: it is read where it is opened."""
