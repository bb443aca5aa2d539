"""A round sheet on paper: what a team looks at on a day, in the order in which it walks.

Each in the team's language; see wording.language.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial
from pathlib import Path

from PySide6.QtGui import QPagedPaintDevice, QPainter

from hotelwatch.core.checks.sheet import Sheet
from hotelwatch.core.facts import RoundPublished
from hotelwatch.core.house import House
from hotelwatch.printing.application import ensure_application
from hotelwatch.printing.fonts import check_fonts
from hotelwatch.printing.page import (
    Block,
    Canvas,
    paint_pages,
    pdf_writer,
    text_block,
)
from hotelwatch.printing.sheet_edges import Plan, round_title, sheet_foot, sheet_head
from hotelwatch.printing.sheet_intro import (
    care_blocks,
    intro_blocks,
    signature_block,
    walk_block,
)
from hotelwatch.printing.sheet_room import known_on, room_blocks
from hotelwatch.printing.sheet_style import BOLD
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, is_right_to_left, speaking


def print_team_sheet(sheet: Sheet, house: House, path: Path, *, language: str = "") -> int:
    """Write a team's sheet as a PDF on the hotel's paper; how many pages it has.

    In the team's language unless another one is named. Refusal("no_font_for_language").
    """
    ensure_application()
    with speaking(language or sheet.team.language):
        check_fonts()
        paper = house.hotel.paper if house.hotel else "A4"
        title = _("Round sheet, {team}, {day}").format(
            team=sheet.team.team, day=sheet.on.isoformat()
        )
        return paint_team_sheet(sheet, house, pdf_writer(path, paper=paper, title=title))


def paint_team_sheet(sheet: Sheet, house: House, device: QPagedPaintDevice) -> int:
    """Paint a team's sheet in the language spoken now; how many pages it has."""
    return paint_sheet(sheet, house, device, plan=_plan(house, sheet.on))


def paint_sheet(
    sheet: Sheet,
    house: House,
    device: QPagedPaintDevice,
    *,
    plan: Plan,
) -> int:
    """Paint a sheet of rooms under a title; how many pages it has."""
    painter = QPainter()
    if not painter.begin(device):
        raise OSError("the device can't be painted on")
    try:
        canvas = Canvas(device, painter, is_mirrored=is_right_to_left())
        return paint_pages(
            device,
            canvas,
            [*_blocks(canvas, sheet, house, plan)],
            head=partial(sheet_head, canvas, sheet, plan),
            foot=partial(sheet_foot, canvas),
        )
    finally:
        painter.end()


def _blocks(canvas: Canvas, sheet: Sheet, house: House, plan: Plan) -> Iterator[Block]:
    if not sheet.rooms and not sheet.passed:
        yield text_block(canvas, _("No room is on this team's sheet today."), BOLD)
        return
    known = known_on(house, sheet.on)
    space = canvas.height - sheet_head(canvas, sheet, plan, 1, 1).height
    space -= sheet_foot(canvas, 1, 1).height
    yield walk_block(canvas, sheet, house, plan.published)
    if not sheet.rooms:
        return
    yield signature_block(canvas, sheet)
    yield from intro_blocks(canvas, sheet, known)
    yield from plan.pictures(canvas)
    yield from care_blocks(canvas, sheet, known)
    for room in sheet.rooms:
        yield from room_blocks(canvas, room, known, space)


def _plan(house: House, on: date) -> Plan:
    hotel = house.hotel.name if house.hotel else ""
    rounds = [
        row for row in house.kept_of(RoundPublished) if row.fact.from_on <= on <= row.fact.until_on
    ]
    if not rounds:
        return Plan(hotel, round_title(on), "", house.rules.form_version)
    entry = house.entry_of(rounds[-1])
    published = _("Plan of {moment}, entry {entry}").format(
        moment=moment_text(entry.recorded_at, house.zone), entry=entry.number
    )
    return Plan(hotel, round_title(on), published, house.rules.form_version)
