"""The first page of a team's sheet: how to fill it in, cautions, the rooms at a glance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from hotelwatch.core.checks.lifting import heaviest, lifts_of
from hotelwatch.core.checks.sheet import PassedRoom, Sheet, SheetRoom, closed_on
from hotelwatch.core.checks.slots import SlotState
from hotelwatch.core.house import House
from hotelwatch.printing import sheet_fields as filled
from hotelwatch.printing.bed_drawing.beds import drawn_room
from hotelwatch.printing.bed_drawing.picture import HEIGHT
from hotelwatch.printing.page import Block, Canvas, cells, gap, rule, stacked, text_block
from hotelwatch.printing.pictograms import OF_CAUTION, Sign, paint_sign, sign_of
from hotelwatch.printing.sheet_edges import UNCHECKED
from hotelwatch.printing.sheet_room import Known, paint_picture
from hotelwatch.printing.sheet_rows import DOT_MM, MARK_MM, MOST_LIKELY, cautions_of
from hotelwatch.printing.sheet_style import BED, BOLD, LEGEND_SIGN_MM, SMALL, TEXT
from hotelwatch.wording.care import instructions
from hotelwatch.wording.cautions import caution_text
from hotelwatch.wording.dates import clock_text, minutes_text, short_day_text
from hotelwatch.wording.language import _, is_right_to_left, is_unchecked, join, listed, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import opening_text
from hotelwatch.wording.sheet_cautions import lifting_text
from hotelwatch.wording.ways import corridors_sentence

ROOM_WIDTH_MM, POSITION_MM, AMOUNT_MM = 22.0, 9.0, 46.0
ROOM_PICTURE_MM = 66.0
SIGNATURES = (0.34, 0.28, 0.38)
"""Shares of a line for a name, a signature, and when the round began or ended."""
RIGHT_TO_LEFT_MARK = "\u200f"


def intro_blocks(canvas: Canvas, sheet: Sheet, known: Known) -> Iterator[Block]:
    """How to fill the sheet in, and what to beware of: once for all of its rooms."""
    how = [
        _(
            "Tick “looked at” only for a place that you saw. Something found: tick “found”,"
            " leave it where it is or put one on tape, close the room, tell the housekeeper"
            " at once."
        ),
        _("An underside counts as looked at only if every place marked as underside was."),
    ]
    yield filled.framed_text(canvas, [(line, False) for line in how])
    yield gap(1.5)
    cautions = [caution_text("lifting"), caution_text("sharps"), *_lifting(sheet, known)]
    lines = [
        part for said in cautions for part in (text_block(canvas, said, TEXT), gap(filled.AIR_MM))
    ]
    yield stacked([*lines, gap(0.5)])
    yield from _signs(canvas, sheet)
    yield _room_legend(canvas, sheet)


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


# --- what pictograms and marks mean ----------------------------------------------------------


def _signs(canvas: Canvas, sheet: Sheet) -> Iterator[Block]:
    """Every caution that this sheet's rows bear as a pictogram, in words; two to a line."""
    said = [*_cautions(sheet).items()]
    for pair in (said[at : at + 2] for at in range(0, len(said), 2)):
        yield _signs_line(canvas, pair)
    yield gap(1.0)


def _cautions(sheet: Sheet) -> dict[str, str]:
    """The words of each caution; where others bear the same sign, with what they are about."""
    about: dict[str, dict[str, None]] = {}
    for caution, what in _beside_rows(sheet):
        about.setdefault(caution, {})[what] = None
    shared = [sign_of(caution) for caution in about]
    told = {}
    for caution, of in about.items():
        sign = sign_of(caution)
        told[caution] = label(caution)
        if sign is not Sign.TWO_PEOPLE and (sign is Sign.MIND or shared.count(sign) > 1):
            told[caution] = _("{heading}: {instruction}").format(
                heading=listed([*of]), instruction=label(caution)
            )
    return told


def _beside_rows(sheet: Sheet) -> Iterator[tuple[str, str]]:
    for room in sheet.rooms:
        for bed in room.beds:
            yield from cautions_of(bed.places)
        yield from ((place.caution, label(place.code)) for place in room.places if place.caution)


def _signs_line(canvas: Canvas, said: list[tuple[str, str]]) -> Block:
    share = canvas.width / 2
    x = LEGEND_SIGN_MM + 1.5
    heights = [canvas.measure(text, share - x - 3, SMALL) for _code, text in said]
    height = max(LEGEND_SIGN_MM, *heights)

    def paint(top: float) -> None:
        for number, (code, text) in enumerate(said):
            left = number * share
            sign = OF_CAUTION.get(code, Sign.MIND)
            painting = partial(paint_sign, sign)
            y = top + (height - LEGEND_SIGN_MM) / 2
            canvas.draw(painting, left, y, width=LEGEND_SIGN_MM, height=LEGEND_SIGN_MM)
            y = top + (height - heights[number]) / 2
            canvas.text(text, left + x, y, width=share - x - 3, style=SMALL)

    return Block(height + 0.8, paint)


def _room_legend(canvas: Canvas, sheet: Sheet) -> Block:
    """What triangle, dots and hatching mean; and the room beside its beds, drawn once for all."""
    places = sheet.rooms[0].places
    picture = drawn_room(places) if places else None
    width = canvas.width - (ROOM_PICTURE_MM + 4.0 if picture else 0.0)
    x = MOST_LIKELY * DOT_MM * 1.3 + 2.0
    said = [
        _("underside: looked at only if all are"),
        _("likeliest (common practice, no source, no measure)"),
        _("Denser hatching: likelier. Common practice, no measure."),
    ]
    starts = (x, x, 0.0)
    lines = [
        text_block(canvas, text, SMALL, x=start, width=width - start)
        for text, start in zip(said, starts, strict=True)
    ]
    if picture:
        of_room = _(
            "The room beside its beds is drawn here for every room: numbers as in its last rows."
        )
        lines.append(text_block(canvas, of_room, BOLD, width=width))
    texts = stacked([part for line in lines for part in (line, gap(1.2))])
    tall = ROOM_PICTURE_MM * HEIGHT if picture else 0.0

    def paint(top: float) -> None:
        texts.paint(top)
        canvas.triangle(x - MARK_MM - 2.0, top + 0.9, MARK_MM)
        dots_y = top + lines[0].height + 1.2 + 1.5
        canvas.dots(0, dots_y, full=MOST_LIKELY, of=MOST_LIKELY, size=DOT_MM)
        if picture is not None:
            canvas.draw(
                partial(paint_picture, picture, ROOM_PICTURE_MM),
                canvas.width - ROOM_PICTURE_MM,
                top,
                width=ROOM_PICTURE_MM,
                height=tall,
            )

    return Block(max(texts.height, tall) + 1.0, paint)


# --- rooms in quarantine, and the walk -------------------------------------------------------


def care_blocks(canvas: Canvas, sheet: Sheet, known: Known) -> Iterator[Block]:
    """What is done with the guest, luggage, linen and cart of rooms in quarantine; once."""
    closed = closed_on(known.house, known.on)
    rooms = [room.room for room in sheet.rooms if room.room in closed]
    if not rooms:
        return
    title = _("In quarantine on this sheet: {rooms}").format(rooms=join(list(map(str, rooms))))
    yield replace(stacked([rule(canvas), text_block(canvas, title, BED)]), keeps_next=True)
    for heading, said in instructions():
        line = _("{heading}: {instruction}").format(heading=heading, instruction=said)
        yield stacked([text_block(canvas, line, TEXT), gap(filled.AIR_MM)])
    yield gap(1.0)


def walk_block(canvas: Canvas, sheet: Sheet, house: House, published: str) -> Block:
    """The rooms at a glance: when each can be entered, how long it takes; whose plan it is."""
    columns = (0.0, POSITION_MM, POSITION_MM + ROOM_WIDTH_MM, canvas.width - AMOUNT_MM)
    lines = [text_block(canvas, _("Today's walk"), BED), text_block(canvas, _amounts(sheet), SMALL)]
    if published:
        lines.append(text_block(canvas, published, SMALL))
    if is_unchecked():
        # In English too: for whoever hands it out. Below each page the team reads it in its own.
        lines.append(text_block(canvas, UNCHECKED, SMALL))
    # A number alone has no direction: the mark puts its dot where the reader comes to it last.
    dot = f".{RIGHT_TO_LEFT_MARK}" if is_right_to_left() else "."
    walk: list[SheetRoom | PassedRoom] = [*sheet.rooms, *sheet.passed]
    for room in sorted(walk, key=lambda room: room.position):
        if isinstance(room, PassedRoom):
            when, amount = _passed(room), _beds(room.beds)
        else:
            when, time = _when(room, house), minutes_text(room.minutes)
            amount = _("{beds}, {time}").format(beds=_beds(len(room.beds)), time=time)
        said = (f"{room.position}{dot}", room.room, when, amount)
        lines.append(cells(canvas, said, columns, TEXT))
    total = _("All rooms and ways to corridors: {time}.")
    if sheet.passed:
        total = _("Rooms to look at and ways to corridors: {time}.")
    lines.append(text_block(canvas, total.format(time=minutes_text(sheet.minutes)), BOLD))
    lines.append(text_block(canvas, corridors_sentence(house.rules.figures), SMALL))
    return stacked([*lines, gap(1.0)])


def _amounts(sheet: Sheet) -> str:
    beds = sum(len(room.beds) for room in sheet.rooms)
    people = ngettext("{count} person", "{count} people", sheet.team.people)
    rooms = ngettext("{count} room", "{count} rooms", len(sheet.rooms))
    return listed(
        [
            sheet.on.isoformat(),
            people.format(count=sheet.team.people),
            rooms.format(count=len(sheet.rooms)),
            _beds(beds),
            minutes_text(sheet.minutes),
        ]
    )


def _beds(count: int) -> str:
    return ngettext("{count} bed", "{count} beds", count).format(count=count)


def _passed(room: PassedRoom) -> str:
    """Why a room of the walk is passed by: looked at already, treated, or closed by a case."""
    if room.state is SlotState.IN_QUARANTINE:
        return _("in quarantine: not looked at on this round")
    if room.state is SlotState.TOO_SOON:
        return _("treated: not to be entered today")
    said = _("looked at already")
    if room.state is SlotState.WITH_GAPS:
        said = _("looked at already, underside not whole")
    return _("{said}; in quarantine").format(said=said) if room.is_closed else said


def _when(room: SheetRoom, house: House) -> str:
    opening = opening_text(room.opening)
    if room.by_at is None:
        return opening
    day = room.by_at.astimezone(house.zone).date()
    return _("{opening}; look by {day}, {clock}").format(
        opening=opening, day=short_day_text(day), clock=clock_text(room.by_at, house.zone)
    )


def signature_block(canvas: Canvas, sheet: Sheet) -> Block:
    """A line for each person, beside them when the round began and ended."""
    clocks = [_("Round begun at"), _("Round ended at")]
    body = []
    for number in range(max(sheet.team.people, len(clocks))):
        name = _("Name {number}").format(number=number + 1)
        titles = [name, _("Signature"), *clocks[number : number + 1]]
        body.append(filled.fields(canvas, titles, SIGNATURES[: len(titles)]))
    return stacked([*body, gap(1.5)])
