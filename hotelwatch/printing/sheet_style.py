"""Sizes on sheets that are read and filled in at arm's length, in poor light, with gloves on."""

from __future__ import annotations

from hotelwatch.printing.page import Style

TEXT = Style(12.0)
BOLD = Style(12.0, bold=True)
SMALL = Style(10.5)
TINY = Style(10.0)
SMALL_BOLD = Style(10.5, bold=True)
PLACE = Style(13.0)
PLACE_BOLD = Style(13.0, bold=True)
BED = Style(14.0, bold=True)
TITLE = Style(16.0, bold=True)
ROOM = Style(30.0, bold=True)
BOX_MM = 7.0
"""Side of a box to tick on a team's sheet."""
SIGN_MM = 10.0
"""Side of a pictogram beside a step."""
SMALL_SIGN_MM = 7.0
PICTURE_MM = 94.0
"""Width of a drawn bed."""
MARK_MM = 21.0
"""Side of a room's mark for scanners, its quiet border included."""
