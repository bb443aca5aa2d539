"""The rows of a team's sheet: places with their boxes, steps, headings, lines to write on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from hotelwatch.core.beds import Place
from hotelwatch.printing.page import Block, Canvas, gap, stacked, text_block
from hotelwatch.printing.pictograms import OF_CAUTION, paint_sign
from hotelwatch.printing.sheet_style import (
    BOLD,
    BOX_MM,
    PLACE,
    PLACE_BOLD,
    SIGN_MM,
    SMALL,
    SMALL_BOLD,
    SMALL_SIGN_MM,
    TEXT,
)
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label

NUMBER_MM = 8.0
LOOKED_X = 9.0
FOUND_X = 29.5
MARK_X = 47.5
PLACE_X = 52.0
DOTS_MM = 18.0
WHY_MM = 36.0
MARK_MM = 3.4
DOT_MM = 2.1
MOST_LIKELY = 5
PAD_MM = 0.8
ROW_MM = BOX_MM + 2 * PAD_MM
BOX_X = 4.5
"""Of a box, from where its column begins."""
SAYS_PEOPLE = frozenset({"two_people_lift", "ladder_two_people", "headboard_two_people"})
"""Cautions that name the two people themselves."""
AIR_MM = 1.0
"""Between paragraphs."""
TICK_MM = 4.0
TICK_LINE_MM = 6.4
"""Of small boxes beside words: their side, and from one line to the next."""
WRITING_MM = 10.0
"""Height of a line to write on by hand."""


def heads(canvas: Canvas) -> tuple[tuple[str, float, float], ...]:
    """What stands over each column of a bed's places, where it begins, its width."""
    return (
        (_("Looked at"), LOOKED_X, FOUND_X - LOOKED_X - 1),
        (_("Found"), FOUND_X, MARK_X - FOUND_X - 1),
        (_("Place"), PLACE_X, _dots_x(canvas) - PLACE_X - 1),
        (_("Likely"), _dots_x(canvas), DOTS_MM - 1),
        (_("Not looked at: why"), _why_x(canvas), WHY_MM),
    )


def column_heads(canvas: Canvas) -> Block:
    """What the columns of a bed's places mean."""
    cells = heads(canvas)
    height = max(canvas.measure(text, width, SMALL_BOLD) for text, _x, width in cells) + 0.4

    def paint(top: float) -> None:
        for text, x, width in cells:
            canvas.text(text, x, top, width=width, style=SMALL_BOLD)
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
        caution = "" if says_step else place.caution
        yield place_row(canvas, number, place, [caution] if caution else [])


def step_row(canvas: Canvas, place: Place) -> Block:
    """What must be moved before the next places can be seen, with its caution."""
    said = label(place.move)
    if place.caution:
        said = _("{step}. {caution}").format(step=said, caution=label(place.caution))
    if place.people > 1 and place.caution not in SAYS_PEOPLE:
        people = ngettext("{count} person", "{count} people", place.people)
        said = _("{people}: {step}").format(people=people.format(count=place.people), step=said)
    sign = OF_CAUTION.get(place.caution)
    x = SIGN_MM + 3.0
    width = canvas.width - x - 2
    text_height = canvas.measure(said, width, BOLD)
    height = max(text_height, SIGN_MM if sign else 0.0) + 2 * PAD_MM

    def paint(top: float) -> None:
        canvas.fill(0, top, width=canvas.width, height=height)
        if sign is not None:
            painting = partial(paint_sign, sign)
            canvas.draw(painting, 1.0, top + PAD_MM, width=SIGN_MM, height=SIGN_MM)
        canvas.text(said, x, top + (height - text_height) / 2, width=width, style=BOLD)

    return Block(height, paint, keeps_next=True)


def place_row(canvas: Canvas, number: int, place: Place, hints: Sequence[str]) -> Block:
    """Number, two boxes, the place, how likely it is, and a line for why not."""
    name = label(place.code)
    if place.optional:
        name = _("{place} (if in doubt)").format(place=name)
    style = PLACE_BOLD if place.underside else PLACE
    width = _dots_x(canvas) - PLACE_X - 1
    name_height = canvas.measure(name, width, style)
    hint_blocks = [_hint(canvas, hint) for hint in hints]
    hint_height = sum(block.height for block in hint_blocks)
    height = max(ROW_MM, name_height + hint_height + 2 * PAD_MM)

    def paint(top: float) -> None:
        first = top + (height - name_height - hint_height) / 2
        box_y = max(top + PAD_MM, first + (name_height - BOX_MM) / 2)
        _number(canvas, number, first)
        canvas.tick_box(LOOKED_X + BOX_X, box_y, side=BOX_MM)
        canvas.tick_box(FOUND_X + BOX_X / 2, box_y, side=BOX_MM)
        if place.underside:
            canvas.triangle(MARK_X, first + 1.1, MARK_MM)
        canvas.text(name, PLACE_X, first, width=width, style=style)
        stacked(hint_blocks).paint(first + name_height)
        canvas.dots(
            _dots_x(canvas), first + 1.7, full=place.likeliness, of=MOST_LIKELY, size=DOT_MM
        )
        canvas.line(_why_x(canvas), top + height - 1.4, to_x=canvas.width)

    return Block(height, paint)


def _number(canvas: Canvas, number: int, top: float) -> None:
    """A place's number in the middle of its column, as it stands on the drawn bed."""
    text = str(number)
    wide = canvas.text_width(text, PLACE_BOLD)
    canvas.text(text, (NUMBER_MM - wide) / 2, top, width=wide + 1, style=PLACE_BOLD)


def _hint(canvas: Canvas, code: str) -> Block:
    """What must be moved for a place, or watched for there; with its pictogram if it has one."""
    said, sign = label(code), OF_CAUTION.get(code)
    x = PLACE_X + (SMALL_SIGN_MM + 1.5 if sign else 0.0)
    width = _why_x(canvas) - x - 1
    text_height = canvas.measure(said, width, SMALL)
    height = max(text_height, SMALL_SIGN_MM) + 0.6 if sign else text_height

    def paint(top: float) -> None:
        if sign is not None:
            painting = partial(paint_sign, sign)
            canvas.draw(painting, PLACE_X, top + 0.3, width=SMALL_SIGN_MM, height=SMALL_SIGN_MM)
        canvas.text(said, x, top + (height - text_height) / 2, width=width, style=SMALL)

    return Block(height, paint)


def room_place_rows(canvas: Canvas, places: Sequence[Place]) -> Iterator[Block]:
    """A row for each of the room's own places, what must be moved beneath its name."""
    for number, place in enumerate(places, 1):
        yield place_row(canvas, number, place, [c for c in (place.move, place.caution) if c])


def writing_lines(canvas: Canvas, title: str, lines: int) -> Block:
    """A title and lines to write on."""
    width = canvas.text_width(title, TEXT) + 2

    def paint(top: float) -> None:
        canvas.text(title, 0, top + WRITING_MM - 6.4, width=width, style=TEXT)
        canvas.line(width, top + WRITING_MM - 0.8, to_x=canvas.width)
        for number in range(2, lines + 1):
            canvas.line(0, top + number * WRITING_MM - 0.8, to_x=canvas.width)

    return Block(lines * WRITING_MM, paint)


def fields(canvas: Canvas, titles: Sequence[str]) -> Block:
    """Titles in a row, each with a line to write on behind it."""
    share = canvas.width / len(titles)
    widths = [min(canvas.text_width(title, TEXT) + 2, share * 0.7) for title in titles]
    heights = [canvas.measure(t, w, TEXT) for t, w in zip(titles, widths, strict=True)]
    height = max(heights)
    height = max(WRITING_MM, height + 2 * PAD_MM)

    def paint(top: float) -> None:
        for number, (title, width) in enumerate(zip(titles, widths, strict=True)):
            x = number * share
            y = top + height - heights[number] - PAD_MM
            canvas.text(title, x, y, width=width, style=TEXT)
            canvas.line(x + width, top + height - 0.8, to_x=x + share - 3)

    return Block(height, paint)


def ticks(canvas: Canvas, title: str, names: Sequence[str]) -> Block:
    """A title and small boxes to tick, each with its name, on as many lines as it takes."""
    x, line = canvas.text_width(title, TEXT) + 4, 0
    places: list[tuple[str, float, int]] = []
    for name in names:
        wide = TICK_MM + 1.5 + canvas.text_width(name, TEXT) + 4
        if x + wide > canvas.width and places:
            x, line = 0.0, line + 1
        places.append((name, x, line))
        x += wide

    def paint(top: float) -> None:
        canvas.text(title, 0, top + PAD_MM, width=canvas.width, style=TEXT)
        for name, at, number in places:
            y = top + PAD_MM + number * TICK_LINE_MM
            canvas.tick_box(at, y + 0.4, side=TICK_MM)
            after = at + TICK_MM + 1.5
            canvas.text(name, after, y, width=canvas.width - after, style=TEXT)

    return Block((line + 1) * TICK_LINE_MM + 2 * PAD_MM, paint)


def framed(canvas: Canvas, texts: Sequence[Block]) -> Block:
    """Blocks within a thin frame."""
    inner = stacked([gap(1.2), *texts, gap(1.2)])

    def paint(top: float) -> None:
        canvas.frame(0, top, width=canvas.width, height=inner.height)
        inner.paint(top)

    return Block(inner.height, paint)


def framed_text(canvas: Canvas, lines: Sequence[tuple[str, bool]]) -> Block:
    """Lines, some of them bold, within a thin frame, a little air between them."""
    blocks: list[Block] = []
    for text, is_bold in lines:
        style = BOLD if is_bold else TEXT
        blocks += [text_block(canvas, text, style, x=2.0, width=canvas.width - 4), gap(AIR_MM)]
    return framed(canvas, blocks[:-1])


def _dots_x(canvas: Canvas) -> float:
    return canvas.width - WHY_MM - DOTS_MM


def _why_x(canvas: Canvas) -> float:
    return canvas.width - WHY_MM
