"""What is filled in by hand on sheets beside the places: lines, boxes beside words, frames."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.printing.page import Block, Canvas, gap, stacked, text_block
from hotelwatch.printing.sheet_style import BOLD, SMALL, TEXT

AIR_MM = 0.8
"""Between paragraphs."""
PAD_MM = 0.6
TICK_MM = 4.6
TICK_LINE_MM = 6.6
"""Of boxes beside words: their side, and from one line to the next."""
WRITING_MM = 8.5
"""Height of a line to write on by hand."""


def writing_lines(canvas: Canvas, title: str, lines: int) -> Block:
    """A title and lines to write on."""
    width = canvas.text_width(title, TEXT) + 2

    def paint(top: float) -> None:
        canvas.text(title, 0, top + WRITING_MM - 5.6, width=width, style=TEXT)
        canvas.line(width, top + WRITING_MM - 0.8, to_x=canvas.width)
        for number in range(2, lines + 1):
            canvas.line(0, top + number * WRITING_MM - 0.8, to_x=canvas.width)

    return Block(lines * WRITING_MM, paint)


def fields(canvas: Canvas, titles: Sequence[str], shares: Sequence[float] = ()) -> Block:
    """Titles in a row, each with a line to write on behind it; alike wide, or by shares of 1."""
    wide = [canvas.width * share for share in shares or [1 / len(titles)] * len(titles)]
    widths = [
        min(canvas.text_width(title, TEXT) + 2, share * 0.7)
        for title, share in zip(titles, wide, strict=True)
    ]
    heights = [canvas.measure(t, w, TEXT) for t, w in zip(titles, widths, strict=True)]
    height = max(WRITING_MM, max(heights) + 2 * PAD_MM)

    def paint(top: float) -> None:
        x = 0.0
        for title, share, width, tall in zip(titles, wide, widths, heights, strict=True):
            canvas.text(title, x, top + height - tall - PAD_MM, width=width, style=TEXT)
            canvas.line(x + width, top + height - 0.8, to_x=x + share - 3)
            x += share

    return Block(height, paint)


def ticks(canvas: Canvas, title: str, names: Sequence[str]) -> Block:
    """A title and boxes to tick, each with its name, on as many lines as it takes."""
    x, line = canvas.text_width(title, SMALL) + 2.5, 0
    places: list[tuple[str, float, int]] = []
    for name in names:
        wide = TICK_MM + 1.0 + canvas.text_width(name, SMALL)
        if x + wide > canvas.width and places:
            x, line = 0.0, line + 1
        places.append((name, x, line))
        x += wide + 2.2

    def paint(top: float) -> None:
        canvas.text(title, 0, top + PAD_MM, width=canvas.width, style=SMALL)
        for name, at, number in places:
            y = top + PAD_MM + number * TICK_LINE_MM
            canvas.tick_box(at, y, side=TICK_MM)
            after = at + TICK_MM + 1.0
            canvas.text(name, after, y, width=canvas.width - after, style=SMALL)

    return Block((line + 1) * TICK_LINE_MM + PAD_MM, paint)


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
