"""What stands above and below each page of a sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date
from functools import partial

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
from hotelwatch.printing.pictograms import Sign, paint_sign
from hotelwatch.printing.sheet_style import SMALL, SMALL_BOLD, TINY, TITLE
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, is_unchecked, listed, marked
from hotelwatch.wording.names import label
from hotelwatch.wording.sheet_cautions import form_version_text, limit_text

UNCHECKED = marked("This translation has not been checked by a native speaker.")
SIGN_MM = 5.6


@dataclass(frozen=True, slots=True)
class Plan:
    """What a sheet is and whose plan it follows, in words."""

    hotel: str
    title: str
    published: str
    """When and in which entry; empty if no plan is known."""
    form_version: int
    pictures: Callable[[Canvas], Iterable[Block]] = field(default=lambda _canvas: ())
    """What is shown before the rooms of the building and of the case; nothing unless said."""


def round_title(on: date) -> str:
    """What a round's sheet of a day is called."""
    return _("Round sheet, {day}").format(day=day_text(on))


def sheet_head(canvas: Canvas, sheet: Sheet, plan: Plan, number: int, pages: int) -> Block:
    """Day, team, hotel, form and the page's number: pages may be parted."""
    page = _("Page {number} of {pages}").format(number=number, pages=pages)
    team = _("Team {team}").format(team=sheet.team.team)
    known = [team, plan.hotel, form_version_text(plan.form_version)]
    return stacked(
        [
            two_sides(canvas, plan.title, page, TITLE),
            text_block(canvas, listed([said for said in known if said]), SMALL),
            rule(canvas),
        ]
    )


def sheet_foot(canvas: Canvas, number: int, pages: int) -> Block:
    """What the boxes mean, why-numbers, what a look can't show, and who checked the language."""
    why = _("Why not looked at: {reasons}.").format(reasons=numbered_reasons())
    lines = [
        rule(canvas),
        _boxes(canvas),
        text_block(canvas, f"{why} {limit_text()}", SMALL),
    ]
    if is_unchecked():
        lines.append(text_block(canvas, _(UNCHECKED), TINY))
    return stacked(lines)


def numbered_reasons() -> str:
    """Reasons for not looking, numbered so that a number can be written down."""
    numbered = (
        _("{number}\u00a0{reason}").format(number=number, reason=label(code))
        for code, number in WHY_NUMBERS.items()
    )
    return listed([*numbered])


def _boxes(canvas: Canvas) -> Block:
    """What each of the three boxes of a place means, by its pictogram, on as many lines."""
    said = (
        (Sign.LOOKED_AT, _("Looked at")),
        (Sign.NOT_LOOKED_AT, _("Not looked at: write why")),
        (Sign.FOUND, _("Found: write what")),
    )
    after = SIGN_MM + 1.5
    placed: list[tuple[Sign, str, float, int]] = []
    x, line = 0.0, 0
    for sign, text in said:
        wide = after + canvas.text_width(text, SMALL_BOLD)
        if placed and x + wide > canvas.width:
            x, line = 0.0, line + 1
        placed.append((sign, text, x, line))
        x += wide + 5.0
    tall = max(SIGN_MM, canvas.measure("0", canvas.width, SMALL_BOLD)) + 0.4

    def paint(top: float) -> None:
        for sign, text, at, number in placed:
            y = top + number * tall
            canvas.draw(partial(paint_sign, sign), at, y, width=SIGN_MM, height=SIGN_MM)
            width = canvas.width - at - after
            canvas.text(text, at + after, y + 0.4, width=width, style=SMALL_BOLD)

    return Block((line + 1) * tall + 0.4, paint)
