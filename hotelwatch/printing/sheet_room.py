"""A room on a team's sheet: when to enter, why, its drawn beds with rows to tick, notes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from hotelwatch.core.checks.coverage import Look, looks
from hotelwatch.core.checks.room_mark import RoomMark, file_number
from hotelwatch.core.checks.sheet import SheetBed, SheetRoom, closed_on
from hotelwatch.core.days import moment_of
from hotelwatch.core.facts import Aid, BedNo
from hotelwatch.core.house import House
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.printing import sheet_fields as filled
from hotelwatch.printing import sheet_rows as rows
from hotelwatch.printing.bed_drawing.beds import drawn_bed
from hotelwatch.printing.bed_drawing.painting import paint_bed
from hotelwatch.printing.bed_drawing.picture import HEIGHT, BedPicture
from hotelwatch.printing.bed_drawing.style import paper_style
from hotelwatch.printing.page import (
    Block,
    Canvas,
    Style,
    gap,
    paginate,
    stacked,
    text_block,
    two_sides,
)
from hotelwatch.printing.room_mark import paint_mark
from hotelwatch.printing.sheet_style import (
    BED,
    BOLD,
    BOX_MM,
    MARK_MM,
    PICTURE_MM,
    ROOM_SIZES_PT,
    SMALL,
    SMALL_BOLD,
    TEXT,
    TIGHT_BOX_MM,
    TITLE,
)
from hotelwatch.wording.dates import day_text, minutes_text, moment_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import bed_label, label
from hotelwatch.wording.reasons import neighbour_reasons, opening_text

NOTE_LINES = 1
BESIDE_MM = 4.0
"""Between a room's head and the drawing beside it."""
TIMES = (0.25, 0.25, 0.5)
"""Shares of a line for when it was begun, when done, and by whom."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """How large what a room shows is drawn: its beds' width, its boxes' side, in millimetres."""

    picture_mm: float
    box_mm: float = BOX_MM


ON_ONE_PAGE = (*map(Sizes, PICTURE_MM), Sizes(PICTURE_MM[-1], TIGHT_BOX_MM))
"""From the largest on; rows stand closer only where a smaller drawing is not enough."""
OVER_PAGES = Sizes(PICTURE_MM[-1])


@dataclass(frozen=True, slots=True)
class Known:
    """What the record knows of the sheet's rooms on its day."""

    house: House
    on: date
    looks: Mapping[BedNo, Look]


def known_on(house: House, on: date) -> Known:
    """What the record knows on a day."""
    return Known(house, on, {look.bed: look for look in looks(house, on)})


def room_blocks(canvas: Canvas, room: SheetRoom, known: Known, space: float) -> Iterator[Block]:
    """Everything about a room: on one page of so many millimetres where it can be.

    Drawings shrink as far as they can be read, then rows move closer; what is still too long goes
    on on the next page, the room beside its beds and its last lines together where that takes no
    page more.
    """
    again = _again(canvas, room)
    for sizes in ON_ONE_PAGE:
        end = _end(canvas, room, again, sizes)
        blocks = [*_beds(canvas, room, known, again, sizes), *end]
        if sum(block.height for block in blocks) <= space:
            whole = stacked(blocks)
            yield Block(whole.height, whole.paint)
            return
    beds = [*_beds(canvas, room, known, again, OVER_PAGES)]
    end = _end(canvas, room, again, OVER_PAGES)
    together = [*beds, stacked(end, repeats=end[0].repeats)]
    apart = [*beds, *end]
    is_as_short = len(paginate(together, space)) <= len(paginate(apart, space))
    yield from together if is_as_short else apart


def _beds(
    canvas: Canvas, room: SheetRoom, known: Known, again: Block, sizes: Sizes
) -> Iterator[Block]:
    groups = bed_groups(room.beds)
    pictures = [_picture_of(group[0], known) for group in groups]
    head = partial(_head, canvas, room, known)
    first = pictures[0] if pictures else None
    yield _beside(canvas, head, first, sizes.picture_mm)
    yield from _why(canvas, room, known)
    shown = {_kind(groups[0])} if groups else set()
    for number, (group, picture) in enumerate(zip(groups, pictures, strict=True)):
        if number and _kind(group) not in shown:
            titles = partial(_bed_titles, canvas, group, known)
            yield _beside(canvas, titles, picture, sizes.picture_mm)
        else:
            yield from (replace(line, keeps_next=True) for line in _titles(canvas, group, known))
        shown.add(_kind(group))
        columns = rows.Columns(_letters(room, group), canvas.width, sizes.box_mm)
        heads = rows.column_heads(canvas, columns)
        yield heads
        further = stacked([again, heads])
        for row in rows.bed_rows(canvas, columns, group[0].places):
            yield replace(row, repeats=further)


def _letters(room: SheetRoom, group: Sequence[SheetBed]) -> tuple[str, ...]:
    """What stands above each bed's boxes; nothing above those of one bed."""
    labels = [bed.bed.removeprefix(f"{room.room}/") for bed in group]
    return tuple(labels) if len(labels) > 1 else ("",)


def bed_groups(beds: Sequence[SheetBed]) -> list[list[SheetBed]]:
    """Beds that are built alike and stand in one table, in the order of the sheet."""
    groups: list[list[SheetBed]] = []
    for bed in beds:
        alike = [g for g in groups if _kind(g) == (bed.kind, bed.encased)]
        if alike and len(alike[-1]) < rows.MOST_BEDS:
            alike[-1].append(bed)
        else:
            groups.append([bed])
    return groups


def _kind(group: Sequence[SheetBed]) -> tuple[str, bool]:
    return group[0].kind, group[0].encased


# --- the room's head ----------------------------------------------------------------------


def _head(canvas: Canvas, room: SheetRoom, known: Known, width: float) -> Block:
    """The room's number as large as it goes, where it lies, when to enter; its mark beside."""
    mark = RoomMark(file_number(known.house), known.on, known.house.rules.form_version, room.room)
    band = _band(canvas, room, width)
    when = _("Enter: {opening}. {minutes} for this room.").format(
        opening=opening_text(room.opening), minutes=minutes_text(room.minutes)
    )
    said = [_where(room), when]
    if room.by_at is not None:
        moment = moment_text(room.by_at, known.house.zone)
        said.append(_("Look by: {moment}.").format(moment=moment))
    people = max((known.house.rules.bed_kinds[bed.kind].people for bed in room.beds), default=1)
    if people > 1:
        must = ngettext("{count} person must be present", "{count} people must be present", people)
        said.append(must.format(count=people))
    beside = width - MARK_MM - 2.0
    texts = stacked([text_block(canvas, line, BOLD, width=beside) for line in said])

    def paint(top: float) -> None:
        band.paint(top)
        below = top + band.height + 1.0
        texts.paint(below)
        painting = partial(paint_mark, mark)
        canvas.draw(painting, width - MARK_MM, below, width=MARK_MM, height=MARK_MM)

    return Block(band.height + 1.0 + max(texts.height, MARK_MM), paint)


def _band(canvas: Canvas, room: SheetRoom, width: float) -> Block:
    title = _("Room {room}").format(room=room.room)
    styles = [Style(size, bold=True) for size in ROOM_SIZES_PT]
    fitting = (style for style in styles if canvas.text_width(title, style) <= width - 4)
    style = next(fitting, styles[-1])
    tall = canvas.measure(title, width - 4, style)

    def paint(top: float) -> None:
        canvas.fill(0, top, width=width, height=tall + 1.0)
        canvas.text(title, 2, top + 0.5, width=width - 4, style=style)

    return Block(tall + 1.0, paint)


def _again(canvas: Canvas, room: SheetRoom) -> Block:
    """What begins a page on which a room goes on."""
    title = _("Room {room} (continued)").format(room=room.room)
    height = canvas.measure(title, canvas.width - 6, TITLE) + 1.0

    def paint(top: float) -> None:
        canvas.fill(0, top, width=canvas.width, height=height)
        canvas.text(title, 3, top + 0.5, width=canvas.width - 6, style=TITLE)

    return Block(height + 1.5, paint)


def _where(room: SheetRoom) -> str:
    if room.wing:
        return _("Floor {floor}, wing {wing}").format(floor=room.floor, wing=room.wing)
    return _("Floor {floor}").format(floor=room.floor)


def _why(canvas: Canvas, room: SheetRoom, known: Known) -> Iterator[Block]:
    """What must be known before the door is opened, and why the room is on the sheet."""
    lines = [text_block(canvas, warning, BOLD) for warning in _warnings(room, known)]
    lines.append(text_block(canvas, _reason(room), TEXT))
    yield Block(
        sum(line.height for line in lines) + 0.8,
        stacked([gap(0.4), *lines]).paint,
        keeps_next=True,
    )


def _reason(room: SheetRoom) -> str:
    if not room.asked_by:
        return _("Why: its beds are due in the cycle.")
    reasons = neighbour_reasons(room.reasons, source=room.neighbours_note)
    if not reasons:
        return _("Why: asked for by case {case}.").format(case=room.asked_by)
    return _("Why: asked for by case {case}: {reasons}.").format(
        case=room.asked_by, reasons=reasons
    )


def _warnings(room: SheetRoom, known: Known) -> Iterator[str]:
    house = known.house
    starts = moment_of(known.on, "00:00", house.zone)
    reenter = [
        treated.reenter_at
        for treated in house.all_of(TreatmentRecorded)
        if treated.room == room.room and treated.reenter_at > starts
    ]
    if reenter:
        yield _("Treated: nobody enters before {moment}.").format(
            moment=moment_text(max(reenter), house.zone)
        )
    if room.room in closed_on(house, known.on):
        yield _("In quarantine: nothing leaves the room unbagged; clean hands and tools after.")


# --- beds ---------------------------------------------------------------------------------


def _picture_of(bed: SheetBed, known: Known) -> BedPicture:
    return drawn_bed(known.house.rules.bed_kinds[bed.kind], encased=bed.encased)


def _beside(
    canvas: Canvas,
    head: partial[Block],
    picture: BedPicture | None,
    picture_mm: float,
) -> Block:
    """What is said, and at its far side the drawn bed that the rows below go through."""
    if picture is None:
        said = head(canvas.width)
        return Block(said.height + 1.0, said.paint, keeps_next=True)
    x = canvas.width - picture_mm
    said = head(x - BESIDE_MM)
    tall = picture_mm * HEIGHT

    def paint(top: float) -> None:
        said.paint(top)
        canvas.draw(
            partial(paint_picture, picture, picture_mm), x, top, width=picture_mm, height=tall
        )

    return Block(max(said.height, tall) + 0.8, paint, keeps_next=True)


def paint_picture(picture: BedPicture, picture_mm: float, painter: QPainter, place: QRectF) -> None:
    """Paint a drawn bed, or a room's corner, that is so many millimetres wide."""
    style = paper_style(BED.font, per_mm=place.width() / picture_mm)
    paint_bed(painter, place, picture=picture, style=style)


def _titles(canvas: Canvas, group: Sequence[SheetBed], known: Known) -> Iterator[Block]:
    """A line for each bed: how it is built, when its underside was last looked at."""
    yield gap(0.6)
    for bed in group:
        title, last = _bed_title(bed), _last_look(bed, known)
        wide = canvas.text_width(title, SMALL_BOLD) + canvas.text_width(last, SMALL_BOLD)
        if wide + 5 < canvas.width:
            yield two_sides(canvas, title, last, SMALL_BOLD, share=0.0)
        else:
            yield stacked([text_block(canvas, said, SMALL_BOLD) for said in (title, last)])


def _bed_titles(canvas: Canvas, group: Sequence[SheetBed], known: Known, width: float) -> Block:
    """The same, wrapped into a column beside the drawing of another kind of bed."""
    said = [
        text_block(canvas, text, style, width=width)
        for bed in group
        for text, style in ((_bed_title(bed), BOLD), (_last_look(bed, known), SMALL))
    ]
    return stacked([gap(2.0), *said])


def _bed_title(bed: SheetBed) -> str:
    kind = bed_label(bed.kind)
    if bed.encased:
        kind = _("{kind}, encased").format(kind=kind)
    return _("Bed {bed}: {kind}, {minutes}").format(
        bed=bed.bed, kind=kind, minutes=minutes_text(bed.minutes)
    )


def _last_look(bed: SheetBed, known: Known) -> str:
    look = known.looks.get(bed.bed)
    if look is None or look.last_on is None:
        return _("No look at its underside on record")
    return _("Underside last looked at {last}").format(last=day_text(look.last_on))


# --- the rest of the room -----------------------------------------------------------------


def _end(canvas: Canvas, room: SheetRoom, again: Block, sizes: Sizes) -> list[Block]:
    """The room beside its beds, and the lines to fill in at last."""
    last = _times_and_notes(canvas, again, has_air=sizes.box_mm >= BOX_MM)
    return [*_room_places(canvas, room, again, sizes), last] if room.places else [last]


def _room_places(canvas: Canvas, room: SheetRoom, again: Block, sizes: Sizes) -> Iterator[Block]:
    columns = rows.Columns(("",), canvas.width, sizes.box_mm)
    heads = rows.column_heads(canvas, columns)
    groups = bed_groups(room.beds)
    needs_heads = bool(groups) and len(groups[-1]) > 1
    title = rows.section(canvas, _("The room beside its beds"))
    yield replace(title, repeats=again if needs_heads else stacked([again, heads]))
    if needs_heads:
        yield heads
    for row in rows.room_rows(canvas, columns, room.places):
        yield replace(row, repeats=stacked([again, heads]))


def _times_and_notes(canvas: Canvas, again: Block, *, has_air: bool) -> Block:
    body = [
        filled.fields(canvas, (_("Begun at"), _("Done at"), _("Done by")), TIMES),
        gap(1.0 if has_air else 0.0),
        filled.ticks(canvas, _("Aids used"), [label(aid) for aid in Aid]),
        filled.writing_lines(canvas, _("Notes"), NOTE_LINES),
        gap(3.0 if has_air else 0.0),
    ]
    return stacked(body, repeats=again)
