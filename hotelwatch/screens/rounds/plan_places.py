"""Going about on the rounds' calendar by keys, and what a place is called."""

from __future__ import annotations

from PySide6.QtCore import Qt

from hotelwatch.core.rounds.calendar_rows import CalendarRows
from hotelwatch.screens.rounds.plan_layout import Layout, Place
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.plan_calendar import cell_sentence, chip_sentences, corridor_count_text

WEEK_DAYS = 7
DAYS_ON = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_PageUp: -WEEK_DAYS,
    Qt.Key.Key_PageDown: WEEK_DAYS,
}
DOWN = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}


def step(layout: Layout, rows: CalendarRows, here: Place | None, key: int) -> Place | None:
    """Where a key leads; None if it leads nowhere."""
    if not rows.days or not rows.teams:
        return None
    if here is None or here.on not in rows.days:
        return Place(rows.days[0], rows.teams[0]) if key in (*DAYS_ON, *DOWN) else None
    if key in DOWN:
        return _down(layout, rows, here, DOWN[Qt.Key(key)])
    last = len(rows.days) - 1
    number = rows.days.index(here.on)
    if key in DAYS_ON:
        number = max(0, min(last, number + DAYS_ON[Qt.Key(key)]))
    elif key == Qt.Key.Key_Home:
        number = 0
    elif key == Qt.Key.Key_End:
        number = last
    else:
        return None
    return Place(rows.days[number], here.team)


def _down(layout: Layout, rows: CalendarRows, here: Place, by: int) -> Place:
    """The next place of the same day: a team's cell, then what lies in it, then the next team's."""
    column = [place for team in rows.teams for place in layout.cells[here.on, team].places]
    number = column.index(here) if here in column else column.index(here.cell)
    return column[max(0, min(len(column) - 1, number + by))]


def spoken(rows: CalendarRows, place: Place, *, line_by_line: bool = False) -> str:
    """A place in sentences."""
    between = "\n" if line_by_line else " "
    cell = rows.cells.get(place.sheet)
    if cell is None:
        return ""
    if place.room is not None:
        chips = [chip for chip in cell.chips if place.holds(chip)]
        return between.join(chip_sentences(chips[0])) if chips else ""
    if place.corridor is not None:
        rooms = [chip.room for chip in cell.chips if chip.corridor == place.corridor]
        head = _("{day}, {team}, {corridor}.").format(
            day=short_day_text(cell.on),
            team=cell.team,
            corridor=corridor_count_text(*place.corridor, len(rooms)),
        )
        return f"{head}{between}{', '.join(rooms)}"
    return cell_sentence(cell)
