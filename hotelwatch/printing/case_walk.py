"""A case's sheet for the people who go: its ring's rooms with their drawn beds, and the floors.

It names no sign and nothing that was found; the case's story is on another paper.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hotelwatch.actions.hotel import check_language
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.cases.case_walk import Going, case_walk
from hotelwatch.core.cases.ring import ring_of
from hotelwatch.core.cases.telling import to_be_told
from hotelwatch.core.facts import CaseNo, TeamName
from hotelwatch.core.problems import Refusal
from hotelwatch.printing.application import ensure_application
from hotelwatch.printing.fonts import check_fonts
from hotelwatch.printing.page import Block, Canvas, pdf_writer
from hotelwatch.printing.ring_plan import FOR_TEAMS, ring_plan
from hotelwatch.printing.sheet_edges import Plan
from hotelwatch.printing.sheet_telling import telling_blocks
from hotelwatch.printing.team_sheet import paint_sheet
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, speaking


@dataclass(frozen=True, slots=True)
class CaseWish:
    """Which case's sheet is wanted, for whom and when."""

    case: CaseNo
    team: TeamName
    on: date
    language: str = ""
    """The team's unless said."""


def print_case_walk(hotel: OpenHotel, wish: CaseWish, path: Path) -> int:
    """Write a case's sheet for a team as a PDF; how many pages it has.

    Refusal("nothing_to_look_at"), ("unknown_team"), ("unknown_language"),
    ("no_font_for_language"), ("no_such_folder"), ("read_only_folder").
    """
    check_language(wish.language)
    house = hotel.house
    ring = ring_of(house, hotel.around(), wish.case, now=hotel.now())
    sheet = case_walk(house, hotel.occupancy(), ring, Going(wish.team, wish.on))
    if not path.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(path.parent))
    ensure_application()
    with speaking(wish.language or sheet.team.language):
        check_fonts()
        hotel_name, paper = (house.hotel.name, house.hotel.paper) if house.hotel else ("", "A4")
        made = _("As of {moment}, entry {entry}").format(
            moment=moment_text(hotel.now(), house.zone), entry=max(house.entries, default=0)
        )
        title = _("Sheet of case {case}, {day}").format(case=wish.case, day=day_text(wish.on))
        told = to_be_told(house, wish.case, now=hotel.now())

        def before_rooms(canvas: Canvas) -> Iterator[Block]:
            yield from ring_plan(canvas, ring, hotel.building, FOR_TEAMS)
            yield from telling_blocks(canvas, told, house.zone)

        try:
            device = pdf_writer(path, paper=paper, title=title)
            return paint_sheet(
                sheet,
                house,
                device,
                plan=Plan(hotel_name, title, made, house.rules.form_version, before_rooms),
            )
        except OSError as error:
            raise Refusal("read_only_folder", path=str(path)) from error
