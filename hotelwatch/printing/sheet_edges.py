"""What stands above and below each page of a round sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date

from hotelwatch.core.checks.place_looks import WHY_NUMBERS
from hotelwatch.core.checks.sheet import Sheet
from hotelwatch.printing.page import (
    Block,
    Canvas,
    rule,
    stacked,
    text_block,
    two_sides,
)
from hotelwatch.printing.sheet_rows import DOT_MM, MARK_MM, MOST_LIKELY
from hotelwatch.printing.sheet_style import BOLD, SMALL, SMALL_BOLD, TINY, TITLE
from hotelwatch.wording.dates import day_text, minutes_text
from hotelwatch.wording.language import _, is_unchecked, listed, marked, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.sheet_cautions import limit_text

UNCHECKED = marked("This translation has not been checked by a native speaker.")


@dataclass(frozen=True, slots=True)
class Plan:
    """What a sheet is and whose plan it follows, in words."""

    hotel: str
    title: str
    published: str
    """When and in which entry; empty if no plan is known."""
    pictures: Callable[[Canvas], Iterable[Block]] = field(default=lambda _canvas: ())
    """What is shown of the building before the rooms; nothing unless said."""


def round_title(on: date) -> str:
    """What a round's sheet of a day is called."""
    return _("Round sheet, {day}").format(day=day_text(on))


def sheet_head(canvas: Canvas, sheet: Sheet, plan: Plan, number: int, pages: int) -> Block:
    """Hotel, day, team, what it amounts to, which plan, and the page's number."""
    page = _("Page {number} of {pages}").format(number=number, pages=pages)
    team = _("Team {team}").format(team=sheet.team.team)
    lines = [
        two_sides(canvas, plan.hotel, page, BOLD),
        two_sides(canvas, plan.title, team, TITLE, share=0.7),
        text_block(canvas, listed(_amounts(sheet)), SMALL),
    ]
    if plan.published:
        lines.append(text_block(canvas, plan.published, SMALL))
    return stacked([*lines, rule(canvas)])


def sheet_foot(canvas: Canvas, number: int, pages: int) -> Block:
    """How to read and fill the sheet, what a look can't show, and who checked the language."""
    why = _("Why not looked at: {reasons}.").format(reasons=numbered_reasons())
    lines = [
        rule(canvas),
        _legend(canvas),
        text_block(canvas, why, SMALL),
        text_block(canvas, limit_text(), SMALL_BOLD),
    ]
    if is_unchecked():
        lines.append(two_sides(canvas, _(UNCHECKED), UNCHECKED, TINY, share=0.3))
    return stacked(lines)


def numbered_reasons() -> str:
    """Reasons for not looking, numbered so that a number can be written down."""
    numbered = (
        _("{number}\u00a0{reason}").format(number=number, reason=label(code))
        for code, number in WHY_NUMBERS.items()
    )
    return listed([*numbered])


def _amounts(sheet: Sheet) -> list[str]:
    beds = sum(len(room.beds) for room in sheet.rooms)
    return [
        sheet.on.isoformat(),
        ngettext("{count} person", "{count} people", sheet.team.people).format(
            count=sheet.team.people
        ),
        ngettext("{count} room", "{count} rooms", len(sheet.rooms)).format(count=len(sheet.rooms)),
        ngettext("{count} bed", "{count} beds", beds).format(count=beds),
        minutes_text(sheet.minutes),
    ]


def _legend(canvas: Canvas) -> Block:
    """What the triangle and the dots mean."""
    underside = _("underside: looked at only if all are")
    likely = _("likeliest (common practice, no source, no measure)")
    left = MARK_MM + 1.5
    middle = canvas.text_width(underside, SMALL) + left + 6
    after = middle + MOST_LIKELY * DOT_MM * 1.3 + 1.5
    below = after + canvas.text_width(likely, SMALL) > canvas.width
    if below:
        middle = 0.0
    after = middle + MOST_LIKELY * DOT_MM * 1.3 + 1.5
    first = canvas.measure(underside, canvas.width - left, SMALL)
    second = canvas.measure(likely, canvas.width - after, SMALL)
    offset = first if below else 0.0

    def paint(top: float) -> None:
        canvas.triangle(0, top + 0.9, MARK_MM)
        canvas.text(underside, left, top, width=canvas.width - left, style=SMALL)
        canvas.dots(middle, top + offset + 1.3, full=MOST_LIKELY, of=MOST_LIKELY, size=DOT_MM)
        canvas.text(likely, after, top + offset, width=canvas.width - after, style=SMALL)

    return Block(max(first, offset + second), paint)
