"""Sizes on sheets that are read and filled in at arm's length, in poor light, with gloves on."""

from __future__ import annotations

from hotelwatch.printing.page import Style

TEXT = Style(11.5)
BOLD = Style(11.5, bold=True)
SMALL = Style(11.0)
SMALL_BOLD = Style(11.0, bold=True)
TINY = Style(10.0)
"""Of what nobody needs at the bed: the plan's entry, who checked the language."""
PLACE = Style(12.0)
PLACE_BOLD = Style(12.0, bold=True)
BED = Style(13.0, bold=True)
TITLE = Style(14.0, bold=True)
ROOM_SIZES_PT = (44.0, 38.0, 33.0, 28.0, 24.0, 21.0)
"""Of a room's number: the largest in which it stands on one line."""
BOX_MM = 5.8
"""Side of a box to tick on a team's sheet; 5 mm is the least that a gloved hand ticks (common
practice)."""
TIGHT_BOX_MM = 5.1
"""The same in a room that just misses its page otherwise."""
SIGN_MM = 5.6
"""Side of a pictogram in a row."""
LEGEND_SIGN_MM = 9.0
"""Side of a pictogram where its words stand."""
PICTURE_MM = (84.0, 78.0, 72.0, 66.0)
"""Width of a drawn bed: the first at which its room stands on one page; below the last its
numbers are hard to read."""
MARK_MM = 21.0
"""Side of a room's mark for scanners, its quiet border included."""
