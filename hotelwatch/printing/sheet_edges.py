"""What stands above and below each page of a round sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hotelwatch.core.checks.place_looks import WHY_NUMBERS
from hotelwatch.core.checks.sheet import Sheet
from hotelwatch.printing.page import (
    BODY,
    HEADING,
    STRONG,
    Block,
    Canvas,
    rule,
    stacked,
    text_block,
    two_sides,
)
from hotelwatch.printing.sheet_rows import DOT_MM, MARK_MM, MOST_LIKELY
from hotelwatch.wording.cautions import caution_text, limit_text
from hotelwatch.wording.dates import day_text, minutes_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label


@dataclass(frozen=True, slots=True)
class Plan:
    """Whose plan a sheet follows, in words."""

    hotel: str
    published: str
    """When and in which entry; empty if no plan is known."""


def sheet_head(canvas: Canvas, sheet: Sheet, plan: Plan, number: int, pages: int) -> Block:
    """Hotel, day, team, what it amounts to, which plan, and the page's number."""
    page = _("Page {number} of {pages}").format(number=number, pages=pages)
    title = _("Round sheet, {day}").format(day=day_text(sheet.on))
    team = _("Team {team}").format(team=sheet.team.team)
    lines = [
        two_sides(canvas, plan.hotel, page, STRONG),
        two_sides(canvas, title, team, HEADING),
        text_block(canvas, "   ".join([*_amounts(sheet), plan.published])),
        rule(canvas),
    ]
    return stacked(lines)


def sheet_foot(canvas: Canvas, number: int, pages: int) -> Block:
    """How to read and fill the sheet, how to stay safe, and what a look can't show."""
    why = _("Why not looked at: {reasons}.").format(reasons=numbered_reasons())
    return stacked(
        [
            rule(canvas),
            _legend(canvas),
            text_block(canvas, why),
            text_block(canvas, caution_text("lifting")),
            text_block(canvas, caution_text("sharps")),
            text_block(canvas, limit_text(), STRONG),
        ]
    )


def numbered_reasons() -> str:
    """Reasons for not looking, numbered so that a number can be written down."""
    return ", ".join(f"{number}\u00a0{label(code).lower()}" for code, number in WHY_NUMBERS.items())


def _amounts(sheet: Sheet) -> Sequence[str]:
    beds = sum(len(room.beds) for room in sheet.rooms)
    return (
        sheet.on.isoformat(),
        ngettext("{count} person", "{count} people", sheet.team.people).format(
            count=sheet.team.people
        ),
        ngettext("{count} room", "{count} rooms", len(sheet.rooms)).format(count=len(sheet.rooms)),
        ngettext("{count} bed", "{count} beds", beds).format(count=beds),
        minutes_text(sheet.minutes),
    )


def _legend(canvas: Canvas) -> Block:
    """What the triangle and the dots mean."""
    underside = _("underside: looked at only if all are")
    likely = _("likeliest (common practice, no source, no measure)")
    left = MARK_MM + 1.5
    middle = canvas.text_width(underside) + left + 6
    after = middle + MOST_LIKELY * DOT_MM * 1.3 + 1.5
    below = after + canvas.text_width(likely) > canvas.width
    if below:
        middle = 0.0
    after = middle + MOST_LIKELY * DOT_MM * 1.3 + 1.5
    first = canvas.measure(underside, canvas.width - left)
    second = canvas.measure(likely, canvas.width - after)
    offset = first if below else 0.0

    def paint(top: float) -> None:
        canvas.triangle(0, top + 0.9, MARK_MM)
        canvas.text(underside, left, top, width=canvas.width - left, style=BODY)
        canvas.dots(middle, top + offset + 1.3, full=MOST_LIKELY, of=MOST_LIKELY, size=DOT_MM)
        canvas.text(likely, after, top + offset, width=canvas.width - after)

    return Block(max(first, offset + second), paint)
