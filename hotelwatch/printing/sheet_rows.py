"""The rows of a team's sheet: places with their boxes, steps, headings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from hotelwatch.core.beds import Place
from hotelwatch.printing.page import Block, Canvas, text_block
from hotelwatch.printing.pictograms import Sign, paint_sign, sign_of
from hotelwatch.printing.sheet_style import (
    BOLD,
    BOX_MM,
    PLACE,
    PLACE_BOLD,
    SIGN_MM,
    SMALL,
    SMALL_BOLD,
)
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label

SAID = (Sign.LOOKED_AT, Sign.NOT_LOOKED_AT, Sign.FOUND)
"""What is ticked of a place; a box for each, under its pictogram."""
NUMBER_MM = 7.0
BOX_STEP_MM = 7.8
GROUP_GAP_MM = 3.0
"""Between the boxes of two beds."""
GROUP_MM = len(SAID) * BOX_STEP_MM + GROUP_GAP_MM
MOST_BEDS = 3
"""More beds would leave no room for the names of places."""
MARK_MM = 3.4
DOT_MM = 1.7
MOST_LIKELY = 5
DOTS_MM = MOST_LIKELY * DOT_MM * 1.3 + 1.5
LINE_MM = 36.0
"""Of the line to write on."""
PAD_MM, TIGHT_PAD_MM = 0.25, 0.15
HEAD_SIGN_MM = 6.6


@dataclass(frozen=True, slots=True)
class Columns:
    """Where a table of places has what, for one bed or for several built alike."""

    beds: tuple[str, ...]
    """What stands above each bed's boxes; one empty text where that needs no saying."""
    width: float
    box_mm: float = BOX_MM
    """Side of a box; a smaller one goes with rows that stand closer."""

    @property
    def pad_mm(self) -> float:
        """Above and below what stands in a row."""
        return PAD_MM if self.box_mm >= BOX_MM else TIGHT_PAD_MM

    @property
    def sign_mm(self) -> float:
        """Side of a pictogram in a row."""
        return min(SIGN_MM, self.box_mm)

    @property
    def mark_x(self) -> float:
        """Where the triangle of an underside stands."""
        return NUMBER_MM + len(self.beds) * GROUP_MM - 2.2

    @property
    def place_x(self) -> float:
        """Where a place's name begins."""
        return self.mark_x + MARK_MM + 1.2

    @property
    def dots_x(self) -> float:
        """Where the dots begin that rank it."""
        return self.width - LINE_MM - DOTS_MM

    @property
    def line_x(self) -> float:
        """Where the line to write on begins."""
        return self.width - LINE_MM

    def boxes(self) -> Iterator[float]:
        """Where each box begins."""
        for bed in range(len(self.beds)):
            for number in range(len(SAID)):
                yield NUMBER_MM + bed * GROUP_MM + number * BOX_STEP_MM + 1.0


def heads(columns: Columns) -> tuple[tuple[str, float, float], ...]:
    """What stands over the columns in words, where each begins, its width."""
    return (
        (_("Place"), columns.place_x, columns.dots_x - columns.place_x - 1),
        (_("Why not, found what"), columns.line_x, LINE_MM),
    )


def column_heads(canvas: Canvas, columns: Columns) -> Block:
    """What the columns of a table of places mean: pictograms over boxes, words over the rest."""
    cells = heads(columns)
    beds_height = canvas.measure("0", canvas.width, SMALL_BOLD) if any(columns.beds) else 0.0
    height = max(
        beds_height + HEAD_SIGN_MM,
        *(canvas.measure(text, width, SMALL_BOLD) for text, _x, width in cells),
    )

    def paint(top: float) -> None:
        for number, bed in enumerate(columns.beds):
            x = NUMBER_MM + number * GROUP_MM + 1.0
            canvas.text(bed, x, top, width=GROUP_MM - 1, style=SMALL_BOLD)
        for x, sign in zip(columns.boxes(), SAID * len(columns.beds), strict=True):
            side = HEAD_SIGN_MM
            at = x + (columns.box_mm - side) / 2
            canvas.draw(partial(paint_sign, sign), at, top + height - side, width=side, height=side)
        for text, x, width in cells:
            y = top + height - canvas.measure(text, width, SMALL_BOLD)
            canvas.text(text, x, y, width=width, style=SMALL_BOLD)
        canvas.line(0, top + height + 0.3, to_x=canvas.width)

    return Block(height + 0.8, paint, keeps_next=True)


def bed_rows(canvas: Canvas, columns: Columns, places: Sequence[Place]) -> Iterator[Block]:
    """A row for each place of a bed in looking order, a step before those that need a move."""
    move = ""
    for number, place in enumerate(places, 1):
        says_step = bool(place.move) and place.move != move
        if says_step:
            yield step_row(canvas, columns, place)
        move = place.move
        yield place_row(canvas, columns, number, place, sign=not says_step)


def cautions_of(places: Sequence[Place]) -> Iterator[tuple[str, str]]:
    """Each caution whose pictogram stands in the rows of a bed, with what it stands beside."""
    move = ""
    for place in places:
        says_step = bool(place.move) and place.move != move
        move = place.move
        if place.caution:
            yield place.caution, label(place.move if says_step else place.code)


def room_rows(canvas: Canvas, columns: Columns, places: Sequence[Place]) -> Iterator[Block]:
    """A row for each of the room's own places; what must be moved stands behind its name."""
    for number, place in enumerate(places, 1):
        yield place_row(canvas, columns, number, place, sign=True, says_move=True)


def step_row(canvas: Canvas, columns: Columns, place: Place) -> Block:
    """What must be moved before the next places can be seen, with its caution's pictogram."""
    said = label(place.move)
    if place.people > 1:
        people = ngettext("{count} person", "{count} people", place.people)
        said = _("{people}: {step}").format(people=people.format(count=place.people), step=said)
    sign = sign_of(place.caution)
    side, pad = columns.sign_mm, columns.pad_mm
    x = NUMBER_MM + side + 2.0
    width = canvas.width - x - 1
    text_height = canvas.measure(said, width, BOLD)
    height = max(text_height, side) + 2 * pad

    def paint(top: float) -> None:
        canvas.fill(0, top, width=canvas.width, height=height)
        if sign is not None:
            painting = partial(paint_sign, sign)
            canvas.draw(painting, NUMBER_MM, top + pad, width=side, height=side)
        canvas.text(said, x, top + (height - text_height) / 2, width=width, style=BOLD)

    return Block(height, paint, keeps_next=True)


def place_row(
    canvas: Canvas,
    columns: Columns,
    number: int,
    place: Place,
    *,
    sign: bool,
    says_move: bool = False,
) -> Block:
    """Number, three boxes for each bed, the place, how likely it is, a line to write on."""
    drawn = sign_of(place.caution) if sign else None
    side = columns.sign_mm
    name = label(place.code)
    if place.optional:
        name = _("{place} (if in doubt)").format(place=name)
    style = PLACE_BOLD if place.underside else PLACE
    name_width = columns.dots_x - columns.place_x - 1 - (side + 1.0 if drawn else 0.0)
    name_height = canvas.measure(name, name_width, style)
    move = label(place.move) if says_move and place.move else ""
    after = columns.place_x + canvas.text_width(name, style) + 3.0
    before_sign = columns.place_x + name_width
    beside = bool(move) and after + canvas.text_width(move, SMALL) <= before_sign
    move_height = canvas.measure(move, name_width, SMALL) if move and not beside else 0.0
    height = max(columns.box_mm, name_height + move_height) + 2 * columns.pad_mm

    def paint(top: float) -> None:
        first = top + (height - name_height - move_height) / 2
        box_y = top + (height - columns.box_mm) / 2
        _number(canvas, number, first)
        for x in columns.boxes():
            canvas.tick_box(x, box_y, side=columns.box_mm)
        if place.underside:
            canvas.triangle(columns.mark_x, first + 0.9, MARK_MM)
        canvas.text(name, columns.place_x, first, width=name_width, style=style)
        if beside:
            canvas.text(move, after, first + 0.3, width=before_sign - after + 1, style=SMALL)
        elif move:
            y = first + name_height
            canvas.text(move, columns.place_x, y, width=name_width, style=SMALL)
        if drawn is not None:
            y = top + (height - side) / 2
            painting = partial(paint_sign, drawn)
            canvas.draw(painting, before_sign + 0.5, y, width=side, height=side)
        y = top + (height - DOT_MM) / 2
        canvas.dots(columns.dots_x, y, full=place.likeliness, of=MOST_LIKELY, size=DOT_MM)
        canvas.line(columns.line_x, top + height - 0.6, to_x=canvas.width)

    return Block(height, paint)


def _number(canvas: Canvas, number: int, top: float) -> None:
    """A place's number in the middle of its column, as it stands on the drawn bed."""
    text = str(number)
    wide = canvas.text_width(text, PLACE_BOLD)
    canvas.text(text, (NUMBER_MM - wide) / 2, top, width=wide + 1, style=PLACE_BOLD)


def section(canvas: Canvas, text: str) -> Block:
    """A heading among the rows."""
    block = text_block(canvas, text, BOLD)
    return Block(block.height + 1.6, lambda top: block.paint(top + 1.2), keeps_next=True)
