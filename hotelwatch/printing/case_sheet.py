"""A case on paper, for insurer, lawyer or inspector: what was seen, decided and done, by whom.

"Suspected" and "confirmed" stand apart, corrections stay in sight, guests are never named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtGui import QImage, QPagedPaintDevice, QPainter

from hotelwatch.actions.odds import OddsWish, case_odds
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.building.rooms import Building
from hotelwatch.core.cases.case_page import CasePage, TakenBack, WrittenLine, case_page
from hotelwatch.core.cases.duties import Duty
from hotelwatch.core.cases.ring_rooms import RingRoom
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import PaperKept
from hotelwatch.printing.application import ensure_application
from hotelwatch.printing.case_since import since_blocks
from hotelwatch.printing.page import (
    BODY,
    HEADING,
    HINT,
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
from hotelwatch.printing.ring_plan import ring_plan
from hotelwatch.printing.sheet_fields import fields
from hotelwatch.store.photos import photo_path
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _
from hotelwatch.wording.lethal import headline, lack_sentence
from hotelwatch.wording.names import label
from hotelwatch.wording.notices import class_text
from hotelwatch.wording.reasons import stage_sentence
from hotelwatch.wording.ring import by_when_text, growth_sentence, state_text, why_text
from hotelwatch.wording.steps import deadline_text, step_sentence
from hotelwatch.wording.story import case_heading, story_details, story_sentence
from hotelwatch.wording.treatment import doubt_sentence

if TYPE_CHECKING:
    from hotelwatch.core.odds.since import CaseOdds

STORY = (0.0, 0.32)
DUTIES = (0.0, 0.62, 0.8)
ASKED = (0.0, 0.1, 0.48, 0.76)
BACK = (0.0, 0.24, 0.5)
PAPER = (0.0, 0.2)
PHOTO_MM = 56.0
PHOTO_GAP_MM = 4.0
WRITTEN_LATE = timedelta(days=1)
"""A line written down later than this after its day says so."""


@dataclass(frozen=True, slots=True)
class Beside:
    """What a case's paper shows beside its page."""

    building: Building
    photos: Mapping[str, Path] = field(default_factory=dict)
    """Where the pictures lie, by digest; one that is not there is named."""
    odds: CaseOdds | None = None
    """Since when it may have been there, and the odds next door; None leaves them out."""


def print_case_of(hotel: OpenHotel, no: CaseNo, path: Path) -> int:
    """Write a case of an open hotel as a PDF, photos and all; how many pages it has.

    Refusal("unknown_case"), ("no_such_folder"), ("read_only_folder").
    """
    occupied = hotel.occupancy()
    page = case_page(hotel.house, occupied, no, around=hotel.around(), now=hotel.now())
    if not path.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(path.parent))
    found = {fact.sha256: photo_path(hotel.path, fact.sha256) for fact in page.photos}
    photos = {digest: place for digest, place in found.items() if place}
    wish = OddsWish(hotel.house, occupied, hotel.neighbours(), hotel.today())
    beside = Beside(hotel.building, photos, case_odds(wish, no))
    try:
        return print_case(page, hotel.house, path, beside=beside)
    except OSError as error:
        raise Refusal("read_only_folder", path=str(path)) from error


def print_case(page: CasePage, house: House, path: Path, *, beside: Beside) -> int:
    """Write a case as a PDF on the hotel's paper; how many pages it has."""
    ensure_application()
    paper = house.hotel.paper if house.hotel else "A4"
    title = _("Case {case}").format(case=page.case.no)
    device = pdf_writer(path, paper=paper, title=title)
    return paint_case(page, house, device, beside=beside)


def paint_case(page: CasePage, house: House, device: QPagedPaintDevice, *, beside: Beside) -> int:
    """Paint a case; how many pages it has. OSError where the device can't be painted on."""
    painter = QPainter()
    if not painter.begin(device):
        raise OSError("the device can't be painted on")
    try:
        canvas = Canvas(device, painter)
        return paint_pages(
            device,
            canvas,
            [*_blocks(canvas, page, house, beside)],
            head=partial(_head, canvas, page, house),
            foot=partial(_foot, canvas),
        )
    finally:
        painter.end()


def _head(canvas: Canvas, page: CasePage, house: House, number: int, pages: int) -> Block:
    hotel = house.hotel.name if house.hotel else ""
    told = _("Page {number} of {pages}").format(number=number, pages=pages)
    made = _("As of {moment}, from the record's entries up to {entry}.").format(
        moment=moment_text(page.made_at, house.zone), entry=max(house.entries, default=0)
    )
    return stacked(
        [
            two_sides(canvas, hotel, told, STRONG),
            text_block(canvas, case_heading(page.case.rooms, page.case.no), HEADING),
            text_block(canvas, made),
            rule(canvas),
        ]
    )


def _foot(canvas: Canvas, number: int, pages: int) -> Block:
    said = _(
        "Says what was looked at, when and by whom. No look proves that nothing is there; an"
        " empty trap proves nothing. No guest is named."
    )
    return stacked([rule(canvas), text_block(canvas, said, HINT)])


def _blocks(canvas: Canvas, page: CasePage, house: House, beside: Beside) -> Iterator[Block]:
    yield from _state(canvas, page)
    yield from _titled(
        canvas, _("What is next"), [_duty(canvas, d, page, house) for d in page.duties]
    )
    yield from _titled(canvas, _("What happened"), [*_story(canvas, page, house)])
    yield from _titled(canvas, _("What logs of heat and cold show"), _logs(canvas, page, house))
    doubts = [text_block(canvas, said) for said in map(doubt_sentence, page.doubts)]
    yield from _titled(canvas, _("To be looked at twice"), doubts)
    rooms = [_ring_room(canvas, row, page, house) for row in page.ring.rooms]
    if rooms:
        yield text_block(canvas, growth_sentence(page.ring), STRONG)
    yield from _titled(canvas, _("Other rooms that were to be looked at"), rooms)
    yield from ring_plan(canvas, page.ring, beside.building)
    if beside.odds is not None:
        yield gap(3.0)
        yield from _titled(
            canvas,
            _("When it may have come in, and the rooms next door: worked out, assumed"),
            since_blocks(canvas, beside.odds),
        )
    yield from _photos(canvas, page, beside.photos)
    yield from _titled(canvas, _("Papers kept"), [_paper(canvas, kept) for kept in page.papers])
    yield from _titled(
        canvas, _("Entries taken back"), [_back(canvas, row, house) for row in page.taken_back]
    )
    yield stacked([gap(4.0), fields(canvas, (_("Signed"), _("Office or licence"), _("At")))])


def _state(canvas: Canvas, page: CasePage) -> Iterator[Block]:
    case = page.case
    lines = [
        (_("State of the evidence"), class_text(case)),
        (_("Where the case stands"), stage_sentence(case.stage)),
        (_("Rooms closed to guests"), ", ".join(case.quarantined) or _("none")),
    ]
    columns = [0.0, canvas.width * 0.3]
    yield stacked([cells(canvas, line, columns, STRONG) for line in lines])
    yield gap(3.0)


def _titled(canvas: Canvas, title: str, rows: Sequence[Block]) -> Iterator[Block]:
    if not rows:
        return
    heading = text_block(canvas, title, SUBHEADING)
    yield Block(heading.height + 0.5, heading.paint, keeps_next=True)
    again = text_block(canvas, _("{title} (continued)").format(title=title), STRONG)
    for row in rows:
        yield stacked([row, rule(canvas)], repeats=again)
    yield gap(3.0)


def _duty(canvas: Canvas, duty: Duty, page: CasePage, house: House) -> Block:
    texts = (
        step_sentence(duty.step, house.zone),
        duty.owner or label(duty.role),
        deadline_text(duty.step, house.zone, now=page.made_at) or label(duty.state),
    )
    return cells(canvas, texts, [canvas.width * start for start in DUTIES])


def _story(canvas: Canvas, page: CasePage, house: House) -> Iterator[Block]:
    columns = [canvas.width * start for start in STORY]
    for written in page.lines:
        line = written.line
        when = moment_text(line.at, house.zone) if line.at else day_text(line.on)
        said = [story_sentence(line, house.zone), _written(written, house)]
        yield stacked(
            [
                cells(canvas, (when, said[0]), columns),
                *(cells(canvas, ("", detail), columns) for detail in story_details(line)),
                cells(canvas, ("", said[1]), columns, HINT),
            ]
        )


def _written(written: WrittenLine, house: House) -> str:
    entry = written.entry
    told = _("Entry {number}, by {name}").format(number=entry.number, name=entry.by)
    recorded = moment_text(entry.recorded_at, house.zone)
    day = entry.recorded_at.astimezone(house.zone).date()
    if day - written.line.on > WRITTEN_LATE:
        return _("{told}, written down later: {moment}").format(told=told, moment=recorded)
    return told


def _logs(canvas: Canvas, page: CasePage, house: House) -> list[Block]:
    blocks = []
    for log in page.logs:
        name = _("Log {log}, room {room}, {day}: {headline}").format(
            log=log.kept.log,
            room=log.kept.room,
            day=day_text(log.kept.treated_on),
            headline=headline(log.verdict),
        )
        lacks = [lack_sentence(lack, house.zone) for lack in log.verdict.lacks]
        blocks.append(stacked([text_block(canvas, said) for said in (name, *lacks)]))
    return blocks


def _ring_room(canvas: Canvas, row: RingRoom, page: CasePage, house: House) -> Block:
    texts = (
        row.room,
        why_text(row),
        by_when_text(row, house.zone, now=page.made_at),
        state_text(row),
    )
    return cells(canvas, texts, [canvas.width * start for start in ASKED])


def _back(canvas: Canvas, row: TakenBack, house: House) -> Block:
    texts = (
        _("Entry {number}, {action}").format(
            number=row.entry.number, action=label(row.entry.action).lower()
        ),
        _("taken back {moment}").format(moment=moment_text(row.by_entry.recorded_at, house.zone)),
        _("by {name}: {why}").format(name=row.by_entry.by, why=row.by_entry.note),
    )
    return cells(canvas, texts, [canvas.width * start for start in BACK])


def _paper(canvas: Canvas, kept: PaperKept) -> Block:
    """Name and whole digest: whoever has the file can tell whether it is the one."""
    columns = [canvas.width * start for start in PAPER]
    digest = _("SHA-256 {digest}").format(digest=kept.sha256)
    return stacked(
        [
            cells(canvas, (label(kept.what), kept.file_name), columns),
            cells(canvas, ("", digest), columns, HINT),
        ]
    )


# --- photos -----------------------------------------------------------------------------------


def _photos(canvas: Canvas, page: CasePage, places: Mapping[str, Path]) -> Iterator[Block]:
    if not page.photos:
        return
    a_row = max(1, int(canvas.width // (PHOTO_MM + PHOTO_GAP_MM)))
    kept = page.photos
    rows = [kept[start : start + a_row] for start in range(0, len(kept), a_row)]
    yield from _titled(
        canvas,
        _("Photos"),
        [
            _photo_row(canvas, [(f.caption, f.sha256, places.get(f.sha256)) for f in row])
            for row in rows
        ],
    )


def _photo_row(canvas: Canvas, row: Sequence[tuple[str, str, Path | None]]) -> Block:
    pictures = [QImage(str(path)) if path else QImage() for _caption, _digest, path in row]
    below = [
        "\n".join(
            [
                *([caption] if caption else []),
                _("SHA-256 {digest}…").format(digest=digest[:16]),
                *([_("The picture is not beside the hotel's file.")] if picture.isNull() else []),
            ]
        )
        for (caption, digest, _path), picture in zip(row, pictures, strict=True)
    ]
    texts = max(canvas.measure(text, PHOTO_MM, BODY) for text in below)
    tall = PHOTO_MM * 0.75

    def paint(top: float) -> None:
        for number, (picture, text) in enumerate(zip(pictures, below, strict=True)):
            x = number * (PHOTO_MM + PHOTO_GAP_MM)
            canvas.picture(picture, x, top, width=PHOTO_MM, height=tall)
            canvas.text(text, x, top + tall + 1.0, width=PHOTO_MM)

    return Block(tall + texts + 2.0, paint)
