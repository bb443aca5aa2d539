"""A round sheet on paper: what a team looks at on a day, in the order in which it walks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from PySide6.QtGui import QPagedPaintDevice, QPainter

from hotelwatch.core.checks.coverage import Look, looks
from hotelwatch.core.checks.lifting import heaviest, lifts_of
from hotelwatch.core.checks.sheet import Sheet, SheetBed, SheetRoom
from hotelwatch.core.days import moment_of
from hotelwatch.core.facts import BedNo, RoundPublished
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.printing import sheet_rows as rows
from hotelwatch.printing.application import ensure_application
from hotelwatch.printing.page import (
    BODY,
    HEADING,
    STRONG,
    SUBHEADING,
    Block,
    Canvas,
    cells,
    gap,
    paint_pages,
    pdf_writer,
    stacked,
    text_block,
)
from hotelwatch.printing.sheet_edges import Plan, sheet_foot, sheet_head
from hotelwatch.wording.care import instructions
from hotelwatch.wording.cautions import lifting_text
from hotelwatch.wording.dates import day_text, minutes_text, moment_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import bed_label
from hotelwatch.wording.reasons import neighbour_reasons, opening_text
from hotelwatch.wording.ways import corridors_sentence

NOTE_LINES = 2


def print_team_sheet(sheet: Sheet, house: House, path: Path) -> int:
    """Write a team's sheet as a PDF on the hotel's paper; how many pages it has."""
    ensure_application()
    paper = house.hotel.paper if house.hotel else "A4"
    title = _("Round sheet, {team}, {day}").format(team=sheet.team.team, day=sheet.on.isoformat())
    return paint_team_sheet(sheet, house, pdf_writer(path, paper=paper, title=title))


def paint_team_sheet(sheet: Sheet, house: House, device: QPagedPaintDevice) -> int:
    """Paint a team's sheet on a printer, a preview or a PDF; how many pages it has."""
    painter = QPainter()
    if not painter.begin(device):
        raise OSError("the device can't be painted on")
    try:
        canvas = Canvas(device, painter)
        known = _known(house, sheet.on)
        blocks = [*_intro(canvas, sheet, known)]
        for room in sheet.rooms:
            blocks += _room(canvas, room, known)
        if sheet.rooms:
            blocks.append(_signatures(canvas, sheet))
        return paint_pages(
            device,
            canvas,
            blocks,
            head=partial(sheet_head, canvas, sheet, _plan(house, sheet.on)),
            foot=partial(sheet_foot, canvas),
        )
    finally:
        painter.end()


@dataclass(frozen=True, slots=True)
class _Known:
    """What the record knows of the sheet's rooms on its day."""

    house: House
    on: date
    looks: Mapping[BedNo, Look]


def _known(house: House, on: date) -> _Known:
    return _Known(house, on, {look.bed: look for look in looks(house, on)})


def _plan(house: House, on: date) -> Plan:
    hotel = house.hotel.name if house.hotel else ""
    rounds = [
        row for row in house.kept_of(RoundPublished) if row.fact.from_on <= on <= row.fact.until_on
    ]
    if not rounds:
        return Plan(hotel, "")
    entry = house.entry_of(rounds[-1])
    published = _("Plan of {moment}, entry {entry}").format(
        moment=moment_text(entry.recorded_at, house.zone), entry=entry.number
    )
    return Plan(hotel, published)


# --- the first page -----------------------------------------------------------------------


def _intro(canvas: Canvas, sheet: Sheet, known: _Known) -> Iterator[Block]:
    if not sheet.rooms:
        yield text_block(canvas, _("No room is on this team's sheet today."), STRONG)
        return
    lines = [
        (
            _(
                "Tick “looked at” only for a place that you saw. Something found: tick “found”,"
                " leave it where it is or put one on tape, close the room, tell the housekeeper"
                " at once."
            ),
            False,
        ),
        (
            _("An underside counts as looked at only if every place marked as underside was."),
            False,
        ),
        *((said, True) for said in _lifting(sheet, known)),
    ]
    yield rows.framed_text(canvas, lines)
    yield gap(1.5)
    yield _walk(canvas, sheet, known.house.rules.figures)
    yield from _care(canvas, sheet, known)


def _lifting(sheet: Sheet, known: _Known) -> Iterator[str]:
    """Why the sheet's heaviest lift takes two people; nothing where none is over the limit."""
    rules = known.house.rules
    worst = heaviest(
        lift
        for room in sheet.rooms
        for bed in room.beds
        for lift in lifts_of(rules.figures, rules.bed_kinds[bed.kind], encased=bed.encased)
    )
    if worst is not None and worst.takes_two:
        yield lifting_text(worst)


def _care(canvas: Canvas, sheet: Sheet, known: _Known) -> Iterator[Block]:
    """What is done with the guest, luggage, linen and cart of rooms in quarantine; once."""
    house = known.house
    closed = house.quarantined(moment_of(known.on, "12:00", house.zone))
    rooms = [room.room for room in sheet.rooms if room.room in closed]
    if not rooms:
        return
    title = _("In quarantine on this sheet: {rooms}").format(rooms=join(list(map(str, rooms))))
    lines = [(f"{heading}: {said}", False) for heading, said in instructions()]
    yield rows.framed_text(canvas, [(title, True), *lines])
    yield gap(1.5)


def _walk(canvas: Canvas, sheet: Sheet, figures: Figures) -> Block:
    """Today's rooms at a glance: when each can be entered and how long it takes."""
    columns = (0.0, 8.0, 30.0, canvas.width - 48)
    lines = [text_block(canvas, _("Today's walk"), STRONG)]
    for room in sheet.rooms:
        beds = ngettext("{count} bed", "{count} beds", len(room.beds)).format(count=len(room.beds))
        said = (
            f"{room.position}.",
            room.room,
            opening_text(room.opening),
            f"{beds}, {minutes_text(room.minutes)}",
        )
        lines.append(cells(canvas, said, columns))
    total = _("All rooms and ways to corridors: {time}.").format(time=minutes_text(sheet.minutes))
    lines.append(text_block(canvas, f"{total} {corridors_sentence(figures)}"))
    return stacked([*lines, gap(2.0)])


# --- a room -------------------------------------------------------------------------------


def _room(canvas: Canvas, room: SheetRoom, known: _Known) -> Iterator[Block]:
    again = _room_band(canvas, _("Room {room} (continued)").format(room=room.room), _where(room))
    yield _room_head(canvas, room, known)
    for bed in room.beds:
        yield _bed(canvas, bed, known, again)
    if room.places:
        yield _room_places(canvas, room, again)
    yield _times_and_notes(canvas, again)


def _room_head(canvas: Canvas, room: SheetRoom, known: _Known) -> Block:
    band = _room_band(canvas, _("Room {room}").format(room=room.room), _where(room))
    when = _("Enter: {opening}. {minutes} for this room.").format(
        opening=opening_text(room.opening), minutes=minutes_text(room.minutes)
    )
    lines = [text_block(canvas, when, STRONG)]
    lines += [text_block(canvas, warning, STRONG) for warning in _warnings(room, known)]
    lines.append(text_block(canvas, _why(room), BODY))
    return Block(
        band.height + sum(line.height for line in lines) + 1.0,
        stacked([band, *lines, gap(1.0)]).paint,
        keeps_next=True,
    )


def _room_band(canvas: Canvas, title: str, where: str) -> Block:
    left = canvas.width * 0.62
    height = max(
        canvas.measure(title, left - 4, HEADING), canvas.measure(where, canvas.width - left - 2)
    )

    def paint(top: float) -> None:
        canvas.line(0, top + 1.0, to_x=canvas.width, thick=0.7)
        canvas.fill(0, top + 1.2, width=canvas.width, height=height + 1.0)
        canvas.text(title, 2, top + 1.6, width=left - 4, style=HEADING)
        canvas.text(where, left, top + 2.6, width=canvas.width - left - 2)

    return Block(height + 3.2, paint)


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


def _warnings(room: SheetRoom, known: _Known) -> Iterator[str]:
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


def _bed(canvas: Canvas, bed: SheetBed, known: _Known, again: Block) -> Block:
    kind = known.house.rules.bed_kinds[bed.kind]
    heading = text_block(canvas, _bed_title(bed), SUBHEADING)
    people = ngettext(
        "{count} person must be present", "{count} people must be present", kind.people
    ).format(count=kind.people)
    said = _("{people}. {last}.").format(people=people, last=_last_look(bed, known))
    body = [
        gap(1.5),
        heading,
        text_block(canvas, said, BODY),
        rows.column_heads(canvas),
        *rows.place_rows(canvas, bed.places),
        gap(2.0),
    ]
    return stacked(body, repeats=again)


def _bed_title(bed: SheetBed) -> str:
    kind = bed_label(bed.kind)
    if bed.encased:
        kind = _("{kind}, encased").format(kind=kind)
    return _("Bed {bed}: {kind}, {minutes}").format(
        bed=bed.bed, kind=kind, minutes=minutes_text(bed.minutes)
    )


def _last_look(bed: SheetBed, known: _Known) -> str:
    look = known.looks.get(bed.bed)
    if look is None:
        return _("No look at its underside on record")
    due = day_text(look.due_on)
    if look.last_on is None:
        return _("No look at its underside on record; due by {due}").format(due=due)
    return _("Underside last looked at {last}; due by {due}").format(
        last=day_text(look.last_on), due=due
    )


def _room_places(canvas: Canvas, room: SheetRoom, again: Block) -> Block:
    body = [
        text_block(canvas, _("The room beside its beds"), SUBHEADING),
        *rows.room_place_rows(canvas, room.places),
    ]
    return stacked(body, repeats=stacked([again, rows.column_heads(canvas)]))


def _times_and_notes(canvas: Canvas, again: Block) -> Block:
    body = [
        rows.fields(canvas, (_("Begun at"), _("Done at"), _("Done by"))),
        rows.writing_lines(canvas, _("Notes"), NOTE_LINES),
        gap(3.0),
    ]
    return stacked(body, repeats=again)


def _signatures(canvas: Canvas, sheet: Sheet) -> Block:
    """A line for each person, beside them when the round began and ended."""
    clocks = [_("Round begun at"), _("Round ended at")]
    body = []
    for number in range(max(sheet.team.people, len(clocks))):
        name = _("Name {number}").format(number=number + 1)
        titles = [name, _("Signature"), *clocks[number : number + 1]]
        body += [rows.fields(canvas, titles), gap(1.5)]
    return stacked(body)
