"""The first page of a team's sheet: how to fill it in, cautions, the rooms at a glance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from hotelwatch.core.checks.lifting import heaviest, lifts_of
from hotelwatch.core.checks.sheet import Sheet, SheetRoom
from hotelwatch.core.days import moment_of
from hotelwatch.core.house import House
from hotelwatch.printing import sheet_rows as rows
from hotelwatch.printing.page import Block, Canvas, cells, gap, rule, stacked, text_block
from hotelwatch.printing.pictograms import OF_CAUTION, Sign, paint_sign
from hotelwatch.printing.sheet_room import Known
from hotelwatch.printing.sheet_style import BED, BOLD, SMALL, TEXT
from hotelwatch.wording.care import instructions
from hotelwatch.wording.cautions import caution_text
from hotelwatch.wording.dates import clock_text, minutes_text, short_day_text
from hotelwatch.wording.language import _, is_right_to_left, join, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import opening_text
from hotelwatch.wording.sheet_cautions import lifting_text
from hotelwatch.wording.ways import corridors_sentence

FIRST_OF_ALL = (
    "two_people_lift",
    "gloves_and_light",
    "staples_are_sharp",
    "do_not_open_encasement",
)
"""Cautions that stand on every sheet's first page, by pictogram and in words."""
STRIP_SIGN_MM = 17.0
ROOM_WIDTH_MM, POSITION_MM, AMOUNT_MM = 22.0, 9.0, 43.0
RIGHT_TO_LEFT_MARK = "\u200f"


def intro_blocks(canvas: Canvas, sheet: Sheet, known: Known) -> Iterator[Block]:
    """How to fill the sheet in, and what to beware of."""
    how = [
        _(
            "Tick “looked at” only for a place that you saw. Something found: tick “found”,"
            " leave it where it is or put one on tape, close the room, tell the housekeeper"
            " at once."
        ),
        _("An underside counts as looked at only if every place marked as underside was."),
    ]
    yield rows.framed_text(canvas, [(line, False) for line in how])
    yield gap(2.0)
    yield _strip(canvas)
    cautions = [caution_text("lifting"), caution_text("sharps"), *_lifting(sheet, known)]
    lines = [
        part for said in cautions for part in (text_block(canvas, said, TEXT), gap(rows.AIR_MM))
    ]
    yield stacked([*lines, gap(1.0)])


def _strip(canvas: Canvas) -> Block:
    """The four commonest cautions side by side, each as a picture and in words."""
    share = canvas.width / len(FIRST_OF_ALL)
    x = STRIP_SIGN_MM + 1.5
    words = [label(code) for code in FIRST_OF_ALL]
    heights = [canvas.measure(said, share - x - 2, SMALL) for said in words]
    height = max(STRIP_SIGN_MM, *heights)

    def paint(top: float) -> None:
        for number, (code, said) in enumerate(zip(FIRST_OF_ALL, words, strict=True)):
            left = number * share
            sign: Sign = OF_CAUTION[code]
            painting = partial(paint_sign, sign)
            canvas.draw(painting, left, top, width=STRIP_SIGN_MM, height=STRIP_SIGN_MM)
            y = top + (height - heights[number]) / 2
            canvas.text(said, left + x, y, width=share - x - 2, style=SMALL)

    return Block(height + 2.0, paint)


def _lifting(sheet: Sheet, known: Known) -> Iterator[str]:
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


def care_blocks(canvas: Canvas, sheet: Sheet, known: Known) -> Iterator[Block]:
    """What is done with the guest, luggage, linen and cart of rooms in quarantine; once."""
    house = known.house
    closed = house.quarantined(moment_of(known.on, "12:00", house.zone))
    rooms = [room.room for room in sheet.rooms if room.room in closed]
    if not rooms:
        return
    title = _("In quarantine on this sheet: {rooms}").format(rooms=join(list(map(str, rooms))))
    yield replace(stacked([rule(canvas), text_block(canvas, title, BED)]), keeps_next=True)
    for heading, said in instructions():
        line = _("{heading}: {instruction}").format(heading=heading, instruction=said)
        yield stacked([text_block(canvas, line, TEXT), gap(rows.AIR_MM)])
    yield gap(1.0)


def walk_block(canvas: Canvas, sheet: Sheet, house: House) -> Block:
    """The rooms at a glance: when each can be entered and how long it takes."""
    columns = (0.0, POSITION_MM, POSITION_MM + ROOM_WIDTH_MM, canvas.width - AMOUNT_MM)
    lines = [text_block(canvas, _("Today's walk"), BED)]
    # A number alone has no direction: the mark puts its dot where the reader comes to it last.
    dot = f".{RIGHT_TO_LEFT_MARK}" if is_right_to_left() else "."
    for room in sheet.rooms:
        beds = ngettext("{count} bed", "{count} beds", len(room.beds)).format(count=len(room.beds))
        amount = _("{beds}, {time}").format(beds=beds, time=minutes_text(room.minutes))
        said = (f"{room.position}{dot}", room.room, _when(room, house), amount)
        lines.append(cells(canvas, said, columns, TEXT))
    total = _("All rooms and ways to corridors: {time}.").format(time=minutes_text(sheet.minutes))
    lines.append(text_block(canvas, total, BOLD))
    lines.append(text_block(canvas, corridors_sentence(house.rules.figures), SMALL))
    return stacked([*lines, gap(2.0)])


def _when(room: SheetRoom, house: House) -> str:
    opening = opening_text(room.opening)
    if room.by_at is None:
        return opening
    day = room.by_at.astimezone(house.zone).date()
    return _("{opening}; look by {day}, {clock}").format(
        opening=opening, day=short_day_text(day), clock=clock_text(room.by_at, house.zone)
    )
