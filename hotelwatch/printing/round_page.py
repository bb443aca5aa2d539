"""A month's round on one page: a calendar of days, each with its teams and their rooms."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path

from PySide6.QtGui import QPagedPaintDevice, QPainter

from hotelwatch.core.days import WEEKDAYS, local_day
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures
from hotelwatch.core.problems import Refusal
from hotelwatch.core.rounds.month_page import WEEK_DAYS, MonthPage, PageDay, month_page
from hotelwatch.core.rounds.team_days import Round
from hotelwatch.printing.application import ensure_application
from hotelwatch.printing.fonts import check_fonts
from hotelwatch.printing.page import (
    HEADING,
    STRONG,
    Block,
    Canvas,
    Orientation,
    Style,
    paint_pages,
    pdf_writer,
    rule,
    stacked,
    text_block,
    two_sides,
)
from hotelwatch.printing.round_words import (
    DETAILS,
    Detail,
    Line,
    day_lines,
    day_title,
    known_text,
    legend,
    span_title,
)
from hotelwatch.printing.sheet_edges import UNCHECKED
from hotelwatch.printing.sheet_style import TINY
from hotelwatch.wording.dates import weekday_short
from hotelwatch.wording.language import SOURCE, _, is_right_to_left, is_unchecked, speaking
from hotelwatch.wording.sheet_cautions import limit_text

SIZES_PT = (12.0, 11.0, 10.0, 9.0, 8.0)
"""Of the days' text: the largest at which all of it stands on the page."""
MOST_WEEKS = 6
"""A month touches no more."""
PAD_MM = 1.3
TITLE_GAP_MM = 0.8
"""Below a day's date, for the line that parts it from its teams."""
HEADS_MM = 5.5
LEAST_ROW_MM = 12.0


def print_round(
    house: House, told: Round, path: Path, *, now: datetime, languages: Sequence[str] = ()
) -> int:
    """Write a round as a PDF, a page lying in each language; how many pages it has.

    In the languages of its teams unless some are named. Where the numbers of its rooms are
    too many, each team's rooms are counted by corridor, then by team, then by day, and the
    page says so. Refusal("too_many_weeks_for_page"), ("no_such_folder"),
    ("read_only_folder"), ("no_font_for_language").
    """
    _refuse_weeks(month_page(house, told, local_day(now, house.zone)))
    if not path.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(path.parent))
    ensure_application()
    paper = house.hotel.paper if house.hotel else "A4"
    device = pdf_writer(
        path, paper=paper, title=span_title(told), orientation=Orientation.Landscape
    )
    try:
        return paint_round(house, told, device, now=now, languages=languages or languages_of(house))
    except OSError as error:
        raise Refusal("read_only_folder", path=str(path)) from error


def languages_of(house: House) -> tuple[str, ...]:
    """The languages of the house's teams, each once, English first."""
    spoken = {team.language for team in house.teams.values()}
    return tuple(sorted({"" if code == SOURCE else code for code in spoken})) or ("",)


def paint_round(
    house: House,
    told: Round,
    device: QPagedPaintDevice,
    *,
    now: datetime,
    languages: Sequence[str],
) -> int:
    """Paint a round on a printer, a preview or a PDF whose page lies; how many pages it has.

    Refusal("too_many_weeks_for_page"), ("no_font_for_language"); OSError where the device
    can't be painted on.
    """
    page = month_page(house, told, local_day(now, house.zone))
    _refuse_weeks(page)
    for code in languages:
        with speaking(code):
            check_fonts()
    painter = QPainter()
    if not painter.begin(device):
        raise OSError("the device can't be painted on")
    try:
        pages = 0
        for code in languages:
            if pages:
                device.newPage()
            with speaking(code):
                canvas = Canvas(device, painter, is_mirrored=is_right_to_left())
                pages += _paint_page(canvas, page, house, device, now=now)
        return pages
    finally:
        painter.end()


def _paint_page(
    canvas: Canvas, page: MonthPage, house: House, device: QPagedPaintDevice, *, now: datetime
) -> int:
    """Paint the page in the language spoken now."""
    head = _head(canvas, house, page.told, now)
    says = partial(_legend, page, house.rules.figures)
    grid = _fitted(canvas, page, head.height, says=says)
    return paint_pages(
        device,
        canvas,
        [grid.block],
        head=lambda _number, _pages: head,
        foot=partial(_foot, canvas, says(grid.detail)),
    )


def _refuse_weeks(page: MonthPage) -> None:
    if len(page.weeks) > MOST_WEEKS:
        raise Refusal(
            "too_many_weeks_for_page",
            from_on=page.told.from_on.isoformat(),
            until_on=page.told.until_on.isoformat(),
            most=str(MOST_WEEKS - 1),
        )


def _head(canvas: Canvas, house: House, told: Round, now: datetime) -> Block:
    hotel = house.hotel.name if house.hotel else ""
    return stacked(
        [
            two_sides(canvas, hotel, known_text(house, told, now), STRONG),
            text_block(canvas, span_title(told), HEADING),
        ]
    )


def _foot(canvas: Canvas, said: str, _number: int, _pages: int) -> Block:
    lines = [
        rule(canvas),
        text_block(canvas, said),
        text_block(canvas, limit_text(), STRONG),
    ]
    if is_unchecked():
        lines.append(text_block(canvas, _(UNCHECKED), TINY))
    return stacked(lines)


def _legend(page: MonthPage, figures: Figures, detail: Detail) -> str:
    return " ".join(legend(page, detail, figures))


# --- the grid ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Grid:
    """The weeks as they go on the page, and how much each day says."""

    block: Block
    detail: Detail


def _fitted(
    canvas: Canvas, page: MonthPage, above: float, *, says: Callable[[Detail], str]
) -> _Grid:
    """The weeks in as much detail and as large as stands on the page."""
    for detail in DETAILS:
        below = _foot(canvas, says(detail), 1, 1).height
        room = canvas.height - above - below - HEADS_MM
        size = _size(canvas, page, detail, room)
        if size is not None or detail is DETAILS[-1]:
            lines = partial(_lines, detail, size or SIZES_PT[-1])
            heights = _heights(canvas, page, lines)
            spare = max(0.0, room - sum(heights)) / len(heights)
            rows = [height + spare for height in heights]
            return _Grid(_weeks_block(canvas, page, rows, lines), detail)
    raise AssertionError("the last detail is taken as it is")


def _size(canvas: Canvas, page: MonthPage, detail: Detail, room: float) -> float | None:
    """The largest at which the days stand there with no word broken, else with some broken."""
    largest = None
    for size in SIZES_PT:
        lines = partial(_lines, detail, size)
        if largest is None and sum(_heights(canvas, page, lines)) > room:
            continue
        if not _breaks_a_word(canvas, page, lines):
            return size
        largest = largest or size
    return largest


_Lines = Callable[[PageDay], list[tuple[str, Style]]]
"""What stands in a day's cell."""


def _heights(canvas: Canvas, page: MonthPage, lines: _Lines) -> list[float]:
    return [_week_height(canvas, week, lines) for week in page.weeks]


def _breaks_a_word(canvas: Canvas, page: MonthPage, lines: _Lines) -> bool:
    """Whether a word of a day is broken."""
    width = _cell_width(canvas) - 2 * PAD_MM
    return any(
        canvas.breaks_a_word(text, width, style) for day in page.days for text, style in lines(day)
    )


def _lines(detail: Detail, size: float, day: PageDay) -> list[tuple[str, Style]]:
    """What stands in a day's cell, with how it looks."""
    styles = {
        Line.TITLE: Style(size, bold=True),
        Line.TEAM: Style(size, bold=True),
        Line.ROOMS: Style(size),
        Line.HINT: Style(size),  # not italic: few scripts have it
    }
    said = [(day_title(day), styles[Line.TITLE])]
    return [*said, *((text, styles[kind]) for kind, text in day_lines(day, detail))]


def _week_height(canvas: Canvas, week: Sequence[PageDay | None], lines: _Lines) -> float:
    cells = (_cell_height(canvas, lines(day)) for day in week if day is not None)
    return max(LEAST_ROW_MM, *cells)


def _cell_height(canvas: Canvas, lines: list[tuple[str, Style]]) -> float:
    width = _cell_width(canvas) - 2 * PAD_MM
    return (
        sum(canvas.measure(text, width, style) for text, style in lines) + 2 * PAD_MM + TITLE_GAP_MM
    )


def _cell_width(canvas: Canvas) -> float:
    return canvas.width / WEEK_DAYS


def _weeks_block(canvas: Canvas, page: MonthPage, heights: Sequence[float], lines: _Lines) -> Block:
    def paint(top: float) -> None:
        _paint_heads(canvas, top)
        y = top + HEADS_MM
        for week, height in zip(page.weeks, heights, strict=True):
            for column, day in enumerate(week):
                if day is not None:
                    _paint_day(canvas, day, (column, y, height), lines(day))
            y += height

    return Block(HEADS_MM + sum(heights), paint)


def _paint_heads(canvas: Canvas, top: float) -> None:
    for column, code in enumerate(WEEKDAYS):
        x = column * _cell_width(canvas) + PAD_MM
        canvas.text(weekday_short(code), x, top + 0.4, width=_cell_width(canvas), style=STRONG)


def _paint_day(
    canvas: Canvas,
    day: PageDay,
    place: tuple[int, float, float],
    lines: list[tuple[str, Style]],
) -> None:
    column, y, height = place
    width = _cell_width(canvas)
    x = column * width
    if not day.teams:
        canvas.fill(x, y, width=width, height=height)
    canvas.frame(x, y, width=width, height=height)
    y += PAD_MM / 2
    for number, (text, style) in enumerate(lines):
        y += canvas.text(text, x + PAD_MM, y, width=width - 2 * PAD_MM, style=style)
        if number == 0:
            canvas.line(x + PAD_MM, y + TITLE_GAP_MM / 2, to_x=x + width - PAD_MM)
            y += TITLE_GAP_MM
