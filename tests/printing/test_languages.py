"""Teams' sheets in every language: each room once, nothing clipped, mirrored, every sign there."""

from __future__ import annotations

import gettext
import re
import shutil
import subprocess
import threading
from dataclasses import replace

import pytest
from babel.messages.pofile import read_po

from hotelwatch import paths
from hotelwatch.core.case_facts import QuarantinePlaced
from hotelwatch.core.cases.telling import LISTENERS, Telling
from hotelwatch.core.checks.room_mark import RoomMark, file_number, mark_text
from hotelwatch.core.checks.sheet import team_sheet
from hotelwatch.core.facts import HotelDescribed, RoomNo, RoundPublished, SlotPublished
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.printing import fonts, sheet_rows
from hotelwatch.printing.page import Canvas, pdf_writer
from hotelwatch.printing.sheet_style import SMALL_BOLD
from hotelwatch.printing.team_sheet import print_team_sheet
from hotelwatch.wording import language, sheet_telling
from hotelwatch.wording.sheet_reasons import NEIGHBOUR_SHORT
from tests.build import day, house, moment, rules
from tests.printing.test_team_sheet import BLUE, CASE, a_house, usual, word_boxes

pytestmark = pytest.mark.walk
LANGUAGES = language.available()
needs_poppler = pytest.mark.skipif(
    not shutil.which("pdftotext") or not shutil.which("pdftoppm"), reason="poppler is not installed"
)


def can_be_printed(code):
    with language.speaking(code):
        try:
            fonts.check_fonts()
        except Refusal:
            return False
    return True


def need_fonts(code):
    if not can_be_printed(code):
        pytest.skip(f"no font for {code} is installed here; see the README")


def a_sheet(paper="A4"):
    build = a_house(paper)
    build.record(QuarantinePlaced(RoomNo("0104"), CASE, moment(1), "sighting"))
    known = usual(build)
    return known, team_sheet(known, occupancy(known, day(2)), on=day(2), team=BLUE)


def printed(code, path, paper="A4"):
    known, sheet = a_sheet(paper)
    return sheet, print_team_sheet(sheet, known, path, language=code)


def plain_text(path):
    run = subprocess.run(
        ["pdftotext", "-raw", str(path), "-"], capture_output=True, text=True, check=True
    )
    return run.stdout


@pytest.fixture(params=LANGUAGES)
def code(request, qapp):
    need_fonts(request.param)
    return request.param


@needs_poppler
def test_each_room_is_on_it_once_with_its_beds(tmp_path, read_paper, code):
    sheet, _pages = printed(code, tmp_path / "sheet.pdf")
    pieces = read_paper(tmp_path / "sheet.pdf").pieces()
    # Only a room's head is set as large as that. Bold is drawn twice, a hair apart, where the
    # font has none of its own.
    large = dict.fromkeys((p.page, round(p.y), p.text) for p in pieces if p.size > 20)
    heads = " ".join(text for _page, _y, text in large)
    assert re.findall(r"\d{4}", heads) == [room.room for room in sheet.rooms]
    text = plain_text(tmp_path / "sheet.pdf")
    for room in sheet.rooms:
        for bed in room.beds:
            assert bed.bed in text.replace("\u2069", "").replace("\u2066", "")


@needs_poppler
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_word_leaves_the_page(tmp_path, code, paper):
    printed(code, tmp_path / "sheet.pdf", paper)
    (width, height), boxes = word_boxes(tmp_path / "sheet.pdf")
    least = 11.0 * 72 / 25.4
    assert boxes
    assert all(box[0] >= least and box[2] <= width - least for box in boxes)
    assert all(box[1] >= least - 4 and box[3] <= height - least + 4 for box in boxes)


@pytest.mark.parametrize("spoken", [*LANGUAGES, language.PSEUDO])
def test_no_word_of_a_columns_head_is_broken(tmp_path, spoken, qapp):
    need_fonts(spoken)
    from PySide6.QtGui import QPainter

    device = pdf_writer(tmp_path / "x.pdf", paper="Letter", title="x")
    painter = QPainter(device)
    canvas = Canvas(device, painter)
    with language.speaking(spoken):
        for text, _x, width in sheet_rows.heads(sheet_rows.Columns(("",), canvas.width)):
            words = [word for word in text.split() if "~" not in word]
            widest = max(canvas.text_width(word, SMALL_BOLD) for word in words)
            assert widest <= width or spoken in {language.PSEUDO, "zh_Hans"}, text
    painter.end()


def test_a_language_that_nobody_checked_says_so_in_itself_and_in_english(tmp_path, code):
    printed(code, tmp_path / "sheet.pdf")
    text = " ".join(plain_text(tmp_path / "sheet.pdf").split())
    said = "This translation has not been checked by a native speaker."
    assert (said in text) == (code != "en")


# --- from right to left -------------------------------------------------------------------


@needs_poppler
def test_where_one_reads_from_right_to_left_the_sheet_is_the_other_way_round(tmp_path, read_paper):
    need_fonts("ar")
    for code in ("en", "ar"):
        printed(code, tmp_path / f"{code}.pdf")
    papers = {code: read_paper(tmp_path / f"{code}.pdf") for code in ("en", "ar")}
    width = papers["en"].size_mm[0] * 72 / 25.4

    def first_number(paper):
        return next(p for p in paper.pieces() if p.text == "1" and 11.5 < p.size < 12.5)

    left, right = (first_number(papers[code]) for code in ("en", "ar"))
    assert left.x < width * 0.15
    assert right.x > width * 0.85
    # Boxes to tick stand next to the numbers on both.
    assert len(papers["ar"].squares_mm()) == len(papers["en"].squares_mm())


def test_what_is_put_into_a_sentence_from_right_to_left_keeps_its_direction():
    # Unicode Standard Annex 9, 2.4.2: a piece between an isolate's mark and U+2069 is read
    # by itself; U+2066 is from left to right, U+2067 from right to left.
    with language.speaking("ar"):
        said = language._("Room {room}").format(room="0104/A")
        assert "\u20660104/A\u2069" in said
        nested = language._("{heading}: {instruction}").format(heading=said, instruction="9")
        assert f"\u2067{said}\u2069" in nested
    with language.speaking("es"):
        assert language._("Room {room}").format(room="0104") == "Habitación 0104"


# --- fonts --------------------------------------------------------------------------------


def test_signs_that_no_font_has_are_named_and_nothing_is_printed(tmp_path, monkeypatch, qapp):
    # A code point for private use, which no font for text has a sign for.
    assert fonts.missing_signs("Corner caps, über") == ""
    assert fonts.missing_signs("ok \U0010fff0") == ""  # private use is no sign of a language
    # Rare letters: CJK extensions B and C, a picture sign.
    rare = [sign for sign in "\U0002a700\U00020001\U0001f9ff" if fonts.missing_signs(sign)]
    assert rare, "a computer with every font there is can't show this"
    assert fonts.missing_signs(f"a{rare[0]}b") == rare[0]
    monkeypatch.setattr(language, "letters", lambda: f"a{rare[0]}")
    with pytest.raises(Refusal) as refused:
        printed("es", tmp_path / "sheet.pdf")
    assert refused.value.code == "no_font_for_language"
    assert not (tmp_path / "sheet.pdf").exists()


# --- languages side by side ---------------------------------------------------------------


def test_two_threads_speak_two_languages():
    heard = {}
    both = threading.Barrier(2)

    def speak(code):
        with language.speaking(code):
            both.wait(5)
            heard[code] = language._("Corner caps")
            both.wait(5)

    threads = [threading.Thread(target=speak, args=(code,)) for code in ("es", "fr")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert heard == {"es": "Tapas de las esquinas", "fr": "Protège-coins"}
    assert language._("Corner caps") == "Corner caps"


def test_a_team_with_a_language_gets_its_sheet_in_it(tmp_path, read_paper, qapp):
    known, sheet = a_sheet()
    spanish = replace(sheet, team=replace(sheet.team, language="es"))
    print_team_sheet(spanish, known, tmp_path / "sheet.pdf")
    assert "Habitación 0101" in read_paper(tmp_path / "sheet.pdf").text
    # A file of another release may name a language that is not here.
    unknown = replace(sheet, team=replace(sheet.team, language="tlh"))
    print_team_sheet(unknown, known, tmp_path / "other.pdf")
    assert "Room 0101" in read_paper(tmp_path / "other.pdf").text


# --- a room's mark ------------------------------------------------------------------------


@needs_poppler
@pytest.mark.parametrize("spoken", ["en", "ar"])
def test_another_reader_finds_each_rooms_mark_on_the_printed_page(tmp_path, spoken, qapp):
    # Read back by zxing-cpp, which shares nothing with the library that draws them.
    need_fonts(spoken)
    import zxingcpp
    from PIL import Image

    known, sheet = a_sheet()
    print_team_sheet(sheet, known, tmp_path / "sheet.pdf", language=spoken)
    subprocess.run(
        ["pdftoppm", "-r", "150", "-gray", str(tmp_path / "sheet.pdf"), str(tmp_path / "page")],
        check=True,
    )
    found = [
        mark.text
        for page in sorted(tmp_path.glob("page*.pgm"))
        for mark in zxingcpp.read_barcodes(Image.open(page))
    ]
    number, version = file_number(known), known.rules.form_version
    assert found == [
        mark_text(RoomMark(number, sheet.on, version, room.room)) for room in sheet.rooms
    ]


# --- what sheets say is in the catalogue --------------------------------------------------


class _Recorder(gettext.NullTranslations):
    """English, and a list of what was asked for."""

    def __init__(self):
        super().__init__()
        self.asked = set()

    def gettext(self, message):
        self.asked.add(message)
        return message

    def ngettext(self, msgid1, msgid2, n):
        self.asked.add((msgid1, msgid2))
        return msgid1 if n == 1 else msgid2


def test_all_that_a_sheet_says_of_any_bed_is_in_the_translators_template(
    tmp_path, monkeypatch, qapp
):
    build = house().record(HotelDescribed("Invented Inn", "Europe/Vienna", "A4"))
    kinds = sorted(rules().bed_kinds)
    for number, kind in enumerate(kinds):
        build.room(f"{number:04d}", wing="North", order=number + 1).bed("A", kind)
        build.bed("B", kind, encased=True)
    build.team("Blue")
    build.record(QuarantinePlaced(RoomNo("0000"), CASE, moment(1), "sighting"))
    slots = [
        SlotPublished(day(2), BLUE, n + 1, RoomNo(f"{n:04d}"), (f"{n:04d}/A", f"{n:04d}/B"), 20, "")
        for n in range(len(kinds))
    ]
    known = build.record(RoundPublished(day(2), day(8)), *slots).house
    sheet = team_sheet(known, occupancy(known, day(2)), on=day(2), team=BLUE)
    reasons = [tuple(NEIGHBOUR_SHORT)] + [()] * (len(sheet.rooms) - 1)
    asked = [
        replace(room, asked_by=CASE, reasons=codes, by_at=moment(3), neighbours_note="0001")
        for room, codes in zip(sheet.rooms, reasons, strict=True)
    ]
    recorder = _Recorder()
    monkeypatch.setattr(language, "_default", ("en", recorder))
    for rooms in (sheet.rooms, tuple(asked), ()):
        print_team_sheet(replace(sheet, rooms=rooms), known, tmp_path / "sheet.pdf")
    for what in sheet_telling.WHAT:
        told = Telling(LISTENERS.get(what, "laundry"), what, {"rooms": ("1",), "room": "1"})
        assert sheet_telling.what_text(told)
    for who in sheet_telling.WHO:
        assert sheet_telling.who_text(Telling(who, "looked"))
    with (paths.resources() / "translations" / "hotelwatch.pot").open("rb") as file:
        template = {row.id for row in read_po(file) if row.id}
    assert len(recorder.asked) > 120
    assert recorder.asked - template == set()
