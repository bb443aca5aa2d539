"""On a case's sheet: who is to be told what, by when; a box, and lines for time and initials."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import tzinfo

from hotelwatch.core.cases.telling import Telling
from hotelwatch.printing.page import Block, Canvas, gap, text_block
from hotelwatch.printing.sheet_style import BED, BOLD, BOX_MM, SMALL, SMALL_BOLD
from hotelwatch.wording.language import _
from hotelwatch.wording.sheet_telling import by_when_text, what_text, who_text

WHEN_MM, AT_MM, INITIALS_MM = 36.0, 31.0, 24.0
TEXT_X = BOX_MM + 2.2
LEAST_MM = 10.0
"""Of a row: two lines of writing by hand."""


def telling_blocks(canvas: Canvas, told: Sequence[Telling], zone: tzinfo) -> Iterator[Block]:
    """A row for everybody who is to be told."""
    title = text_block(canvas, _("Who is to be told"), BED)
    yield Block(title.height + 0.5, title.paint, keeps_next=True)
    yield _heads(canvas)
    for one in told:
        yield _row(canvas, one, zone)
    yield gap(2.0)


def _starts(canvas: Canvas) -> tuple[float, float, float]:
    """Where the columns for by when, told at and initials begin."""
    initials = canvas.width - INITIALS_MM
    return initials - AT_MM - WHEN_MM, initials - AT_MM, initials


def _heads(canvas: Canvas) -> Block:
    when, at, initials = _starts(canvas)
    heads = (
        (_("Who, and what"), TEXT_X, when - TEXT_X - 2),
        (_("By when"), when, WHEN_MM - 2),
        (_("Told at"), at, AT_MM - 2),
        (_("Initials"), initials, INITIALS_MM),
    )
    height = max(canvas.measure(text, width, SMALL_BOLD) for text, _x, width in heads)

    def paint(top: float) -> None:
        for text, x, width in heads:
            canvas.text(text, x, top, width=width, style=SMALL_BOLD)
        canvas.line(0, top + height + 0.3, to_x=canvas.width)

    return Block(height + 1.0, paint, keeps_next=True)


def _row(canvas: Canvas, told: Telling, zone: tzinfo) -> Block:
    when, at, initials = _starts(canvas)
    width = when - TEXT_X - 2
    who, what, by = who_text(told), what_text(told), by_when_text(told.by_at, zone)
    who_height = canvas.measure(who, width, BOLD)
    tall = max(
        who_height + canvas.measure(what, width, SMALL),
        canvas.measure(by, WHEN_MM - 2, SMALL_BOLD),
        LEAST_MM,
    )

    def paint(top: float) -> None:
        canvas.tick_box(0.3, top + 0.8, side=BOX_MM)
        canvas.text(who, TEXT_X, top, width=width, style=BOLD)
        canvas.text(what, TEXT_X, top + who_height, width=width, style=SMALL)
        canvas.text(by, when, top, width=WHEN_MM - 2, style=SMALL_BOLD)
        canvas.line(at, top + LEAST_MM - 1.0, to_x=at + AT_MM - 2)
        canvas.line(initials, top + LEAST_MM - 1.0, to_x=canvas.width)

    return Block(tall + 1.4, paint)
