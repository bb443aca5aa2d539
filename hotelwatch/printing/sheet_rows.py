"""The rows of a round sheet: places with their boxes, steps, headings, lines to write on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hotelwatch.core.beds import Place
from hotelwatch.printing.page import (
    BODY,
    HINT,
    STRONG,
    TICK_BOX_MM,
    Block,
    Canvas,
    gap,
    stacked,
    text_block,
)
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label

NUMBER_X = 0.0
LOOKED_X = 7.0
FOUND_X = 25.0
MARK_X = 40.0
PLACE_X = 45.0
DOTS_MM = 15.0
WHY_MM = 44.0
MARK_MM = 3.2
DOT_MM = 2.1
MOST_LIKELY = 5
PAD_MM = 0.7
ROW_MM = TICK_BOX_MM + 2 * PAD_MM
SAYS_PEOPLE = frozenset({"two_people_lift", "ladder_two_people", "headboard_two_people"})
"""Cautions that name the two people themselves."""
WRITING_MM = 8.5
"""Height of a line to write on by hand."""


def column_heads(canvas: Canvas) -> Block:
    """What the columns of a bed's places mean."""
    cells = (
        (_("Looked at"), LOOKED_X, FOUND_X - LOOKED_X - 1),
        (_("Found"), FOUND_X, MARK_X - FOUND_X - 1),
        (_("Place"), PLACE_X, _dots_x(canvas) - PLACE_X - 1),
        (_("Likely"), _dots_x(canvas), DOTS_MM - 1),
        (_("Not looked at: why"), _why_x(canvas), WHY_MM),
    )
    height = max(canvas.measure(text, width) for text, _x, width in cells) + 0.4

    def paint(top: float) -> None:
        for text, x, width in cells:
            canvas.text(text, x, top, width=width)
        canvas.line(0, top + height, to_x=canvas.width)

    return Block(height + PAD_MM, paint, keeps_next=True)


def place_rows(canvas: Canvas, places: Sequence[Place]) -> Iterator[Block]:
    """A row for each place in looking order, a step before those that need a move."""
    move = ""
    for number, place in enumerate(places, 1):
        says_step = bool(place.move) and place.move != move
        if says_step:
            yield step_row(canvas, place)
        move = place.move
        caution = "" if says_step or not place.caution else label(place.caution)
        yield place_row(canvas, number, place, caution)


def step_row(canvas: Canvas, place: Place) -> Block:
    """What must be moved before the next places can be seen, with its caution."""
    said = label(place.move)
    if place.caution:
        said = _("{step}. {caution}").format(step=said, caution=label(place.caution))
    if place.people > 1 and place.caution not in SAYS_PEOPLE:
        people = ngettext("{count} person", "{count} people", place.people)
        said = _("{people}: {step}").format(people=people.format(count=place.people), step=said)
    width = canvas.width - LOOKED_X - 2
    height = canvas.measure(said, width, STRONG) + 2 * PAD_MM

    def paint(top: float) -> None:
        canvas.fill(0, top, width=canvas.width, height=height)
        canvas.text(said, LOOKED_X, top + PAD_MM, width=width, style=STRONG)

    return Block(height, paint, keeps_next=True)


def place_row(canvas: Canvas, number: int, place: Place, caution: str) -> Block:
    """Number, two boxes, the place, how likely it is, and a line for why not."""
    name = label(place.code)
    if place.optional:
        name = _("{place} (if in doubt)").format(place=name)
    style = STRONG if place.underside else BODY
    width = _dots_x(canvas) - PLACE_X - 1
    hint_width = _why_x(canvas) - PLACE_X - 1
    name_height = canvas.measure(name, width, style)
    hint_height = canvas.measure(caution, hint_width, HINT) if caution else 0.0
    height = max(ROW_MM, name_height + hint_height + 2 * PAD_MM)

    def paint(top: float) -> None:
        centre = top + height / 2
        box_y = centre - TICK_BOX_MM / 2
        first = top + (height - name_height - hint_height) / 2
        canvas.text_right(str(number), LOOKED_X - 2, first)
        canvas.tick_box(LOOKED_X + 4, box_y)
        canvas.tick_box(FOUND_X + 3, box_y)
        if place.underside:
            canvas.triangle(MARK_X, first + 0.9, MARK_MM)
        canvas.text(name, PLACE_X, first, width=width, style=style)
        if caution:
            canvas.text(caution, PLACE_X, first + name_height, width=hint_width, style=HINT)
        canvas.dots(
            _dots_x(canvas), first + 1.3, full=place.likeliness, of=MOST_LIKELY, size=DOT_MM
        )
        canvas.line(_why_x(canvas), top + height - 1.4, to_x=canvas.width)

    return Block(height, paint)


def room_place_rows(canvas: Canvas, places: Sequence[Place]) -> Iterator[Block]:
    """A row for each of the room's own places, what must be moved beneath its name."""
    for number, place in enumerate(places, 1):
        hints = [label(code) for code in (place.move, place.caution) if code]
        yield place_row(canvas, number, place, ". ".join(hints))


def writing_lines(canvas: Canvas, title: str, lines: int) -> Block:
    """A title and lines to write on."""
    width = canvas.text_width(title) + 2

    def paint(top: float) -> None:
        canvas.text(title, 0, top + WRITING_MM - 5.4, width=width)
        canvas.line(width, top + WRITING_MM - 0.8, to_x=canvas.width)
        for number in range(2, lines + 1):
            canvas.line(0, top + number * WRITING_MM - 0.8, to_x=canvas.width)

    return Block(lines * WRITING_MM, paint)


def fields(canvas: Canvas, titles: Sequence[str]) -> Block:
    """Titles in a row, each with a line to write on behind it."""
    share = canvas.width / len(titles)
    widths = [min(canvas.text_width(title) + 2, share * 0.7) for title in titles]
    height = max(canvas.measure(t, w) for t, w in zip(titles, widths, strict=True))
    height = max(WRITING_MM, height + 2 * PAD_MM)

    def paint(top: float) -> None:
        for number, (title, width) in enumerate(zip(titles, widths, strict=True)):
            x = number * share
            canvas.text(title, x, top + height - canvas.measure(title, width) - PAD_MM, width=width)
            canvas.line(x + width, top + height - 0.8, to_x=x + share - 3)

    return Block(height, paint)


def framed(canvas: Canvas, texts: Sequence[Block]) -> Block:
    """Blocks within a thin frame."""
    inner = stacked([gap(1.2), *texts, gap(1.2)])

    def paint(top: float) -> None:
        canvas.frame(0, top, width=canvas.width, height=inner.height)
        inner.paint(top)

    return Block(inner.height, paint)


def framed_text(canvas: Canvas, lines: Sequence[tuple[str, bool]]) -> Block:
    """Lines, some of them bold, within a thin frame."""
    return framed(
        canvas,
        [
            text_block(canvas, text, STRONG if bold else BODY, x=2.0, width=canvas.width - 4)
            for text, bold in lines
        ],
    )


def _dots_x(canvas: Canvas) -> float:
    return canvas.width - WHY_MM - DOTS_MM


def _why_x(canvas: Canvas) -> float:
    return canvas.width - WHY_MM
