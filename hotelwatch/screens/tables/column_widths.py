"""How wide the columns of a table become: as its texts need, beside one another if they can."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QTableView

from hotelwatch.screens.look.theme import POINTS, TextSize

WIDEST_PX = 460
LEAST_PX = 110
"""Of a column whose full text the pointer shows, or that breaks its lines."""
LONG_PX = 140
"""A column not longer than this is cut, or breaks its lines, last of all."""
SHORTEST_PX = 84
TITLE_AIR_PX = 20


def widths_of(view: QTableView, shortened: Collection[int]) -> list[int]:
    """A width for each column; without a sideways scroll where that is possible.

    Columns first give up the room that a title keeps for its sorting arrow; then those
    in ``shortened`` end in dots. All bounds grow with the text.
    """
    header = view.horizontalHeader()
    grown = _grown(view)
    widest, long, shortest = (round(px * grown) for px in (WIDEST_PX, LONG_PX, SHORTEST_PX))
    wanted: list[int] = []
    tight: list[int] = []
    least: list[int] = []
    last: list[int] = []
    for column in range(header.count()):
        if header.isSectionHidden(column):
            for sizes in (wanted, tight, least, last):
                sizes.append(0)
            continue
        cells, title = min(view.sizeHintForColumn(column), widest), title_px(view, column)
        bare = max(cells, title)
        wanted.append(max(bare, min(header.sectionSizeHint(column), widest)))
        tight.append(bare)
        is_short = column in shortened
        least.append(least_px(view, column) if is_short and bare > long else bare)
        last.append(max(shortest, title) if is_short else bare)
    room = view.viewport().width()
    if sum(tight) <= room:
        return between(tight, wanted, room)
    return between(least, tight, room) if sum(least) <= room else between(last, least, room)


def shared_out(view: QTableView, wrapping: Sequence[int], room: int) -> list[int]:
    """A width for each column that breaks its lines: what it needs, if that is there.

    Else those that are long break first: a time over two lines reads worse than a sentence.
    What is left over goes to the last of them, so that rows end where the table ends.
    """
    widest, long = (round(px * _grown(view)) for px in (WIDEST_PX, LONG_PX))
    wanted = [
        0
        if view.isColumnHidden(place)
        else max(title_px(view, place), min(view.sizeHintForColumn(place), widest))
        for place in wrapping
    ]
    least = [min(least_px(view, place), need) for place, need in zip(wrapping, wanted, strict=True)]
    whole = [need if need <= long else low for low, need in zip(least, wanted, strict=True)]
    widths = between(whole, wanted, room) if sum(whole) <= room else between(least, whole, room)
    widths[-1] += max(0, room - sum(widths)) if least[-1] else 0
    return widths


def title_px(view: QTableView, column: int) -> int:
    """Width of a column whose title is just seen whole."""
    header = view.horizontalHeader()
    font = header.font()
    font.setBold(True)
    title = str(header.model().headerData(column, header.orientation()))
    return QFontMetrics(font).horizontalAdvance(title) + TITLE_AIR_PX


def least_px(view: QTableView, column: int) -> int:
    """Least width of a column whose full text the pointer shows, or that breaks its lines."""
    return max(round(LEAST_PX * _grown(view)), title_px(view, column))


def _grown(view: QTableView) -> float:
    return max(1.0, view.font().pointSizeF() / POINTS[TextSize.NORMAL])


def between(least: Sequence[int], most: Sequence[int], room: int) -> list[int]:
    """Sizes between least and most that together fill no more than the room, if they can."""
    spare, gap = room - sum(least), sum(most) - sum(least)
    if gap <= 0 or spare >= gap:
        return list(most)
    share = max(spare, 0) / gap
    return [low + int((high - low) * share) for low, high in zip(least, most, strict=True)]
