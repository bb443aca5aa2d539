"""A room on a team's sheet: when to enter, why, its drawn beds with rows to tick, notes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from hotelwatch.core.checks.coverage import Look, looks
from hotelwatch.core.checks.room_mark import RoomMark, file_number
from hotelwatch.core.checks.sheet import SheetBed, SheetRoom
from hotelwatch.core.days import moment_of
from hotelwatch.core.facts import Aid, BedNo
from hotelwatch.core.house import House
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.printing import sheet_rows as rows
from hotelwatch.printing.bed_drawing.beds import drawn_bed, drawn_room
from hotelwatch.printing.bed_drawing.painting import paint_bed
from hotelwatch.printing.bed_drawing.picture import HEIGHT, BedPicture
from hotelwatch.printing.bed_drawing.style import paper_style
from hotelwatch.printing.page import Block, Canvas, gap, stacked, text_block
from hotelwatch.printing.pictograms import Sign, paint_sign
from hotelwatch.printing.room_mark import paint_mark
from hotelwatch.printing.sheet_style import (
    BED,
    BOLD,
    MARK_MM,
    PICTURE_MM,
    ROOM,
    SIGN_MM,
    TEXT,
    TITLE,
)
from hotelwatch.wording.dates import day_text, minutes_text, moment_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import bed_label, label
from hotelwatch.wording.reasons import neighbour_reasons, opening_text

NOTE_LINES = 2


@dataclass(frozen=True, slots=True)
class Known:
    """What the record knows of the sheet's rooms on its day."""

    house: House
    on: date
    looks: Mapping[BedNo, Look]


def known_on(house: House, on: date) -> Known:
    """What the record knows on a day."""
    return Known(house, on, {look.bed: look for look in looks(house, on)})


def room_blocks(canvas: Canvas, room: SheetRoom, known: Known) -> Iterator[Block]:
    """Everything about a room, its head kept with what follows."""
    again = _again(canvas, room)
    yield _head(canvas, room, known)
    for bed in room.beds:
        yield from _bed(canvas, bed, known, again)
    if room.places:
        yield from _room_places(canvas, room, again)
    yield _times_and_notes(canvas, again)


# --- the room's head ----------------------------------------------------------------------


def _head(canvas: Canvas, room: SheetRoom, known: Known) -> Block:
    band = _band(canvas, room, RoomMark(file_number(known.house), known.on, room.room))
    when = _("Enter: {opening}. {minutes} for this room.").format(
        opening=opening_text(room.opening), minutes=minutes_text(room.minutes)
    )
    lines = [text_block(canvas, when, BOLD)]
    if room.by_at is not None:
        by = _("Look by: {moment}.").format(moment=moment_text(room.by_at, known.house.zone))
        lines.append(text_block(canvas, by, BOLD))
    lines += [text_block(canvas, warning, BOLD) for warning in _warnings(room, known)]
    lines.append(text_block(canvas, _why(room), TEXT))
    return Block(
        band.height + sum(line.height for line in lines) + 1.0,
        stacked([band, *lines, gap(1.0)]).paint,
        keeps_next=True,
    )


def _band(canvas: Canvas, room: SheetRoom, mark: RoomMark) -> Block:
    """The room's number as large as it goes, where it lies, and its mark for scanners."""
    title = _("Room {room}").format(room=room.room)
    where = _where(room)
    width = canvas.width - MARK_MM - 6
    title_height = canvas.measure(title, width, ROOM)
    height = max(MARK_MM, title_height + canvas.measure(where, width, BED) + 2.0) + 1.6

    def paint(top: float) -> None:
        canvas.line(0, top + 1.0, to_x=canvas.width, thick=0.7)
        canvas.fill(0, top + 1.2, width=canvas.width - MARK_MM - 2, height=height)
        canvas.text(title, 3, top + 1.6, width=width, style=ROOM)
        canvas.text(where, 3, top + 1.6 + title_height, width=width, style=BED)
        painting = partial(paint_mark, mark)
        canvas.draw(painting, canvas.width - MARK_MM, top + 1.8, width=MARK_MM, height=MARK_MM)

    return Block(height + 2.4, paint)


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


def _why(room: SheetRoom) -> str:
    if not room.asked_by:
        return _("Why: its beds are due in the cycle.")
    reasons = neighbour_reasons(room.reasons, source=room.neighbours_note)
    if not reasons:
        return _("Why: asked for by case {case}.").format(case=room.asked_by)
    return _("Why: asked for by case {case}: {reasons}.").format(
        case=room.asked_by, reasons=reasons
    )


def _warnings(room: SheetRoom, known: Known) -> Iterator[str]:
    """What must be known before the door is opened."""
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
    if room.room in house.quarantined(moment_of(known.on, "12:00", house.zone)):
        yield _("In quarantine: nothing leaves the room unbagged; clean hands and tools after.")


# --- a bed --------------------------------------------------------------------------------


def _bed(canvas: Canvas, bed: SheetBed, known: Known, again: Block) -> Iterator[Block]:
    """A bed's picture with its first rows below it; the others may go on on the next page."""
    kind = known.house.rules.bed_kinds[bed.kind]
    people = ngettext(
        "{count} person must be present", "{count} people must be present", kind.people
    ).format(count=kind.people)
    beside = [
        people,
        _last_look(bed, known),
        _("The numbers are those of the rows below."),
        _("Denser hatching: likelier. Common practice, no measure."),
    ]
    picture = drawn_bed(kind, encased=bed.encased)
    title = stacked([gap(2.0), text_block(canvas, _bed_title(bed), BED)])
    yield replace(title, keeps_next=True, parts=(), repeats=again)
    yield _picture(canvas, picture, beside, takes_two=kind.people > 1)
    heads = rows.column_heads(canvas)
    yield heads
    further = stacked([again, heads])
    for row in rows.place_rows(canvas, bed.places):
        yield replace(row, repeats=further)
    yield gap(2.0)


def _picture(canvas: Canvas, picture: BedPicture, beside: list[str], *, takes_two: bool) -> Block:
    """A drawn bed, and beside it what must be known before one begins."""
    x = PICTURE_MM + 5.0
    lines = [text_block(canvas, said, TEXT, x=x, width=canvas.width - x) for said in beside]
    parted = [part for line in lines for part in (line, gap(2.0))]
    above = SIGN_MM * 1.6 + 2.0 if takes_two else 0.0
    texts = stacked([gap(2.0 + above), *parted])
    tall = PICTURE_MM * HEIGHT

    def bed(painter: QPainter, place: QRectF) -> None:
        style = paper_style(BED.font, per_mm=place.width() / PICTURE_MM)
        paint_bed(painter, place, picture=picture, style=style)

    def paint(top: float) -> None:
        canvas.draw(bed, 0.0, top, width=PICTURE_MM, height=tall)
        if takes_two:
            side = SIGN_MM * 1.6
            painting = partial(paint_sign, Sign.TWO_PEOPLE)
            canvas.draw(painting, x, top + 2.0, width=side, height=side)
        texts.paint(top)

    return Block(max(tall, texts.height) + 1.5, paint, keeps_next=True)


def _bed_title(bed: SheetBed) -> str:
    kind = bed_label(bed.kind)
    if bed.encased:
        kind = _("{kind}, encased").format(kind=kind)
    return _("Bed {bed}: {kind}, {minutes}").format(
        bed=bed.bed, kind=kind, minutes=minutes_text(bed.minutes)
    )


def _last_look(bed: SheetBed, known: Known) -> str:
    look = known.looks.get(bed.bed)
    if look is None:
        return _("No look at its underside on record")
    due = day_text(look.due_on)
    if look.last_on is None:
        return _("No look at its underside on record; due by {due}").format(due=due)
    return _("Underside last looked at {last}; due by {due}").format(
        last=day_text(look.last_on), due=due
    )


# --- the rest of the room -----------------------------------------------------------------


def _room_places(canvas: Canvas, room: SheetRoom, again: Block) -> Iterator[Block]:
    title = text_block(canvas, _("The room beside its beds"), BED)
    yield replace(title, keeps_next=True, repeats=again)
    beside = [_("The numbers are those of the rows below.")]
    takes_two = any(place.people > 1 for place in room.places)
    yield _picture(canvas, drawn_room(room.places), beside, takes_two=takes_two)
    heads = rows.column_heads(canvas)
    yield heads
    for row in rows.room_place_rows(canvas, room.places):
        yield replace(row, repeats=stacked([again, heads]))


def _times_and_notes(canvas: Canvas, again: Block) -> Block:
    body = [
        rows.fields(canvas, (_("Begun at"), _("Done at"), _("Done by"))),
        rows.ticks(canvas, _("Aids used"), [label(aid) for aid in Aid]),
        rows.writing_lines(canvas, _("Notes"), NOTE_LINES),
        gap(3.0),
    ]
    return stacked(body, repeats=again)
