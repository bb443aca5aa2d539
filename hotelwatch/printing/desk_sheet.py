"""Front desk's list on paper: rooms not to sell, guests it touches, nights to keep free."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtGui import QPagedPaintDevice, QPainter

from hotelwatch.core.cases.desk import BlockRow, DeskList
from hotelwatch.core.cases.keep_free import KeepFree
from hotelwatch.core.cases.lets import LetAgainstBlock
from hotelwatch.core.cases.touched import TouchedArrival
from hotelwatch.core.house import House
from hotelwatch.printing.application import ensure_application
from hotelwatch.printing.page import (
    HEADING,
    STRONG,
    SUBHEADING,
    Block,
    Canvas,
    cells,
    gap,
    paint_pages,
    pdf_writer,
    rule,
    stacked,
    text_block,
    two_sides,
)
from hotelwatch.printing.sheet_fields import fields, writing_lines
from hotelwatch.wording.asked import answer_text
from hotelwatch.wording.dates import day_text, moment_text, short_day_text
from hotelwatch.wording.desk import (
    count_caution,
    explained_text,
    how_let_text,
    latest_text,
    move_text,
    night_cost_text,
    night_saves_text,
    release_by_text,
    state_text,
    total_text,
    until_text,
    without_room_text,
)
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.problems import booking_text

Head = tuple[Sequence[str], Sequence[float]]
"""Headings, and where their columns begin, as shares of the page's width."""

_BLOCKED = (0.0, 0.1, 0.38, 0.63, 0.87)
_TOUCHED = (0.0, 0.14, 0.38, 0.5, 0.62)
_LET = (0.0, 0.1, 0.26, 0.5, 0.62)
_NIGHTS = (0.0, 0.1, 0.28, 0.52, 0.82)


def print_desk_sheet(desk_list: DeskList, house: House, path: Path) -> int:
    """Write front desk's list as a PDF on the hotel's paper; how many pages it has."""
    ensure_application()
    paper = house.hotel.paper if house.hotel else "A4"
    writer = pdf_writer(path, paper=paper, title=_("Front desk list"))
    return paint_desk_sheet(desk_list, house, writer)


def paint_desk_sheet(desk_list: DeskList, house: House, device: QPagedPaintDevice) -> int:
    """Paint front desk's list; how many pages it has."""
    painter = QPainter()
    if not painter.begin(device):
        raise OSError("the device can't be painted on")
    try:
        canvas = Canvas(device, painter)
        return paint_pages(
            device,
            canvas,
            [*_blocks(canvas, desk_list, house)],
            head=partial(_head, canvas, desk_list, house),
            foot=partial(_foot, canvas),
        )
    finally:
        painter.end()


def _head(canvas: Canvas, desk_list: DeskList, house: House, number: int, pages: int) -> Block:
    hotel = house.hotel.name if house.hotel else ""
    page = _("Page {number} of {pages}").format(number=number, pages=pages)
    made = _("As of {moment}; ask for a new one after every change.").format(
        moment=moment_text(desk_list.made_at, house.zone)
    )
    return stacked(
        [
            two_sides(canvas, hotel, page, STRONG),
            text_block(canvas, _("Front desk list"), HEADING),
            text_block(canvas, made),
            rule(canvas),
        ]
    )


def _foot(canvas: Canvas, number: int, pages: int) -> Block:
    said = _("A room is sold again only when it stands on this list no more.")
    return stacked([rule(canvas), text_block(canvas, said, STRONG)])


def _blocks(canvas: Canvas, desk_list: DeskList, house: House) -> Iterator[Block]:
    heads = (
        _("Room"),
        _("Not to sell from"),
        _("Until: earliest, expected, latest"),
        _("State; given back by"),
        _("Nights lost + to come"),
    )
    yield from _table(
        canvas,
        _("Rooms not to sell"),
        (heads, _BLOCKED),
        [_blocked(row, house) for row in desk_list.blocks],
    )
    if desk_list.blocks:
        yield stacked(
            [
                text_block(canvas, total_text(desk_list.total)),
                text_block(canvas, count_caution()),
                gap(4.0),
            ]
        )
    heads = (_("Booking"), _("Room"), _("Nights from"), _("Leaves"), _("To room"))
    yield from _table(
        canvas,
        _("Guests to be given another room"),
        (heads, _TOUCHED),
        [_touched(arrival) for arrival in desk_list.arrivals],
    )
    if desk_list.without_room:
        yield stacked([text_block(canvas, without_room_text(desk_list.without_room)), gap(4.0)])
    yield from _table(
        canvas,
        _("Let although not to be sold"),
        (
            (
                _("Room"),
                _("Booking"),
                _("From the night of"),
                _("Nights"),
                _("How"),
            ),
            _LET,
        ),
        [_let(row) for row in desk_list.lets_against],
    )
    yield from _table(
        canvas,
        _("Please keep free, for a room check"),
        ((_("Room"), _("Night of"), _("Costs"), _("Saves"), _("Answer")), _NIGHTS),
        [_night(row) for row in desk_list.nights],
    )
    yield stacked(
        [writing_lines(canvas, _("Notes"), 2), fields(canvas, (_("Taken note by"), _("At")))]
    )


def _blocked(row: BlockRow, house: House) -> tuple[str, ...]:
    block, cost = row.block, row.cost
    until = (
        until_text(block.earliest_until),
        until_text(block.expected_until),
        latest_text(block),
    )
    state = _("{state}; {who}").format(state=state_text(block), who=release_by_text(block))
    to_come = "?" if cost.expected is None else str(cost.expected)
    return (
        block.room,
        moment_text(block.from_at, house.zone),
        ", ".join(until),
        state,
        _("{lost} + {to_come}").format(lost=cost.lost, to_come=to_come),
    )


def _touched(arrival: TouchedArrival) -> tuple[str, ...]:
    room = str(arrival.room)
    if arrival.is_provisional:
        room = _("{room} (foreseen)").format(room=room)
    return (
        booking_text(arrival.stay.booking),
        _("{room}, {how}").format(room=room, how=label(arrival.touched).lower()),
        short_day_text(arrival.from_on),
        short_day_text(arrival.stay.leaves_on),
        move_text(arrival),
    )


def _let(row: LetAgainstBlock) -> tuple[str, ...]:
    nights = ngettext("{count} night", "{count} nights", row.nights).format(count=row.nights)
    how = _("{how}; {word}").format(how=how_let_text(row), word=explained_text(row))
    return row.room, booking_text(row.stay.booking), day_text(row.first_night), nights, how


def _night(row: KeepFree) -> tuple[str, ...]:
    return (
        row.room,
        day_text(row.night),
        night_cost_text(row),
        night_saves_text(row),
        _("yes / no") if row.is_kept is None else answer_text(row),
    )


def _table(
    canvas: Canvas, title: str, head: Head, rows: Sequence[tuple[str, ...]]
) -> Iterator[Block]:
    count = text_block(canvas, f"{title}: {len(rows)}", SUBHEADING)
    if not rows:
        yield stacked([count, gap(4.0)])
        return
    heads, starts = head
    columns = [canvas.width * start for start in starts]
    again = stacked([cells(canvas, heads, columns, STRONG), rule(canvas)])
    top = stacked([count, gap(0.5), again])
    yield Block(top.height, top.paint, keeps_next=True)
    for row in rows:
        yield stacked([cells(canvas, row, columns), rule(canvas)], repeats=again)
    yield gap(4.0)
