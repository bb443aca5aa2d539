"""How a front page is laid out: sentences, big numbers, charts, what is asked, who signs."""

from __future__ import annotations

from hotelwatch.papers.listings import Chart, FrontPage
from hotelwatch.papers.sheets import Page, rows_range
from hotelwatch.papers.styles import Look

COLUMNS, COLUMN_WIDTH = 12, 11.0
A_NUMBER, A_CHART = 2, 4
"""How many columns a big number and a chart take."""
CHART_ROWS, ROW_PIXELS, CHART_PIXELS = 13, 20, (325, 250)
NUMBER_HEIGHT, LABEL_HEIGHT, SIGNATURE_HEIGHT = 36.0, 34.0, 26.0
_BAR = {"color": "#595959"}
_THIN = {"color": "#BFBFBF", "width": 0.5}
_SMALL = {"name": "Calibri", "size": 8, "color": "#000000"}


def write_front(page: Page, front: FrontPage) -> int:
    """Write a front page; the row from 0 in which its charts begin."""
    page.set_widths([COLUMN_WIDTH] * COLUMNS)
    page.next_row += 1
    for text in front.sentences:
        page.sentence(page.next_row, text, columns=COLUMNS)
        page.next_row += 1
    page.next_row += 1
    _write_numbers(page, front)
    charts_at = page.next_row + 1
    page.next_row = charts_at + CHART_ROWS + 1
    page.sentence(page.next_row, front.asks_title, columns=COLUMNS, look=Look.SECTION)
    for text in front.asks:
        page.next_row += 1
        page.sentence(page.next_row, text, columns=COLUMNS)
    page.next_row += 2
    for text in front.signatures:
        _write_signature(page, text)
    page.sheet.fit_to_pages(1, 1)
    return charts_at


def add_charts(page: Page, front: FrontPage, row: int) -> None:
    """Put the charts side by side on a front page, once every table has its place."""
    for number, chart in enumerate(front.charts):
        page.sheet.insert_chart(row, number * A_CHART, _drawn(page, chart))


def _write_numbers(page: Page, front: FrontPage) -> None:
    for number, big in enumerate(front.numbers):
        row = page.next_row + 2 * (number * A_NUMBER // COLUMNS)
        left = number * A_NUMBER % COLUMNS
        for at, look in ((row, Look.BIG), (row + 1, Look.UNDER_BIG)):
            how = page.writing.looks.of(look)
            page.sheet.merge_range(at, left, at, left + A_NUMBER - 1, "", how)
        page.formula(row, left, big.formula, Look.BIG_DECIMAL)
        page.text(row + 1, left, big.label, Look.UNDER_BIG)
        page.sheet.set_row(row, NUMBER_HEIGHT)
        page.sheet.set_row(row + 1, LABEL_HEIGHT)
    page.next_row += 2 * -(-len(front.numbers) * A_NUMBER // COLUMNS)


def _write_signature(page: Page, text: str) -> None:
    """A line to sign on; the only cells in which something can be typed."""
    row, looks = page.next_row, page.writing.looks.of
    page.sheet.set_row(row, SIGNATURE_HEIGHT)
    page.sheet.merge_range(row, 0, row, A_CHART - 1, "", looks(Look.NOTE))
    page.text(row, 0, text, Look.NOTE)
    page.sheet.merge_range(row, A_CHART, row, COLUMNS - 1, "", looks(Look.SIGNATURE))
    page.next_row += 1


def _drawn(page: Page, chart: Chart) -> object:
    drawn = page.writing.file.add_chart({"type": "column" if chart.upright else "bar"})
    for column in chart.series:
        drawn.add_series(
            {
                "categories": rows_range(page, chart.table, chart.rows, chart.names),
                "values": rows_range(page, chart.table, chart.rows, column),
                "fill": _BAR,
                "gap": 60,
                "data_labels": {"value": True, "font": _SMALL},
            }
        )
    drawn.set_title({"name": chart.title, "overlay": False, "name_font": {**_SMALL, "size": 10}})
    drawn.set_legend({"none": True})
    names = {"num_font": _SMALL, "line": _THIN, "major_gridlines": {"visible": False}}
    lengths = {"visible": False, "min": 0, "major_gridlines": {"visible": False}}
    if chart.upright:
        drawn.set_x_axis(names)
        drawn.set_y_axis(lengths)
    else:
        # The first row stands at the top.
        drawn.set_y_axis({**names, "reverse": True})
        drawn.set_x_axis(lengths)
    drawn.set_chartarea({"border": _THIN})
    drawn.set_size({"width": CHART_PIXELS[0], "height": CHART_PIXELS[1]})
    return drawn
