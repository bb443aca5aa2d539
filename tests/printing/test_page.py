from __future__ import annotations

import os
import subprocess
import sys
from contextlib import contextmanager

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtGui import QFontInfo, QPainter

from hotelwatch.printing import page as printing_page
from hotelwatch.printing.page import (
    BODY,
    HEADING,
    TICK_BOX_MM,
    Block,
    Canvas,
    Style,
    gap,
    paginate,
    pdf_writer,
    stacked,
)


@contextmanager
def canvas_on(path, paper="A4"):
    writer = pdf_writer(path, paper=paper, title="test")
    painter = QPainter(writer)
    try:
        yield Canvas(writer, painter)
    finally:
        painter.end()


def nothing(_):
    return None


def blocks_of(heights, **more):
    return [Block(height, nothing, **more) for height in heights]


@given(st.lists(st.floats(1, 100), max_size=40))
def test_every_block_stands_on_one_page_in_order_and_no_page_runs_over(heights):
    blocks = blocks_of(heights)
    pages = paginate(blocks, 120.0)
    assert [block for page in pages for block in page] == blocks
    assert all(sum(block.height for block in page) <= 120.0 for page in pages)


@given(st.lists(st.tuples(st.floats(1, 40), st.booleans()), max_size=40))
def test_what_keeps_the_next_is_never_the_last_of_a_page_that_goes_on(rows):
    blocks = [Block(height, nothing, keeps_next=keeps) for height, keeps in rows]
    pages = paginate(blocks, 10_000.0) if not blocks else paginate(blocks, 2000.0)
    assert [block for page in pages for block in page] == blocks
    for page in pages[:-1]:
        assert not page[-1].keeps_next


def test_a_heading_goes_to_the_next_page_with_what_it_heads():
    heading = Block(10, nothing, keeps_next=True)
    first, second = blocks_of([80, 30])
    assert paginate([first, heading, second], 100.0) == [[first], [heading, second]]


def test_a_page_that_begins_within_a_room_repeats_its_name():
    again = Block(5, nothing)
    first, second = (Block(60, nothing, repeats=again) for _ in range(2))
    assert paginate([first, second], 100.0) == [[first], [again, second]]


def test_a_block_higher_than_a_page_is_broken_between_its_rows():
    rows = blocks_of([30] * 7)
    again = Block(5, nothing)
    pages = paginate([stacked(rows, repeats=again)], 100.0)
    assert [len(page) for page in pages] == [3, 4, 2]
    assert all(sum(block.height for block in page) <= 100.0 for page in pages)


def test_a_stack_paints_its_blocks_one_below_the_other():
    tops = []
    blocks = [Block(height, tops.append) for height in (3.0, 4.0)]
    stack = stacked([gap(1.0), *blocks])
    stack.paint(10.0)
    assert tops == [11.0, 14.0]
    assert stack.height == 8.0


def test_a_box_is_large_enough_to_tick_and_text_to_be_read():
    # 5 mm and 10 points: common practice, no source.
    assert TICK_BOX_MM >= 5.0
    styles = [value for value in vars(printing_page).values() if isinstance(value, Style)]
    assert styles
    assert min(style.size_pt for style in styles) >= 10.0


@pytest.mark.parametrize(
    ("paper", "size"),
    # ISO 216: A4 is 210 by 297 mm; ANSI/ASME Y14.1: Letter is 8.5 by 11 inches.
    [("A4", (210.0, 297.0)), ("Letter", (215.9, 279.4))],
)
def test_paper_has_its_standard_size(tmp_path, read_paper, paper, size):
    path = tmp_path / "page.pdf"
    with canvas_on(path, paper) as canvas:
        canvas.text("Room", 0, 0, width=50)
        assert canvas.width == pytest.approx(size[0] - 24, abs=0.3)
        assert canvas.height == pytest.approx(size[1] - 24, abs=0.3)
    assert read_paper(path).size_mm == pytest.approx(size, abs=0.4)


def test_text_wraps_into_its_width_and_says_how_high_it_is(tmp_path):
    with canvas_on(tmp_path / "page.pdf") as canvas:
        one = canvas.measure("Room", 100)
        assert canvas.measure("Room " * 40, 100) >= 3 * one
        assert canvas.text("Room", 0, 0, width=100) == one
        assert canvas.measure("Room", 100, HEADING) > one
        assert canvas.text_width("Room Room") > canvas.text_width("Room")
        assert canvas.measure("W" * 300, 50) > one


def test_a_word_longer_than_its_column_is_broken_not_cut(tmp_path, read_paper):
    path = tmp_path / "page.pdf"
    with canvas_on(path) as canvas:
        canvas.text("W" * 120, 0, 0, width=60)
    assert read_paper(path).text.replace(" ", "").count("W") == 120


def test_a_font_of_the_chain_is_found(tmp_path):
    assert QFontInfo(BODY.font).family()


SCRIPT = """
import sys
from pathlib import Path
from hotelwatch.printing.application import ensure_application
from hotelwatch.printing.page import Canvas, pdf_writer
from PySide6.QtGui import QGuiApplication, QPainter
ensure_application()
assert ensure_application() is QGuiApplication.instance()
writer = pdf_writer(Path(sys.argv[1]), paper="A4", title="t")
painter = QPainter(writer)
Canvas(writer, painter).text("Corner caps", 0, 0, width=100)
painter.end()
print(QGuiApplication.platformName())
"""


def test_a_command_prints_on_a_machine_without_a_display(tmp_path, read_paper):
    hidden = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    environment = {key: value for key, value in os.environ.items() if key not in hidden}
    path = tmp_path / "page.pdf"
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(path)],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert "Corner caps" in read_paper(path).text
    if sys.platform == "linux":
        assert run.stdout.strip() == "offscreen"
