"""Labels for specimens: all on them, six to a page, each mark read back by another reader."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from hotelwatch.core.case_facts import Sighted, Sign, SpecimenNoted, SpecimenStep
from hotelwatch.core.cases.specimens import specimen_text, specimens
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.core.problems import Refusal
from hotelwatch.printing.specimen_label import LabelWish, print_labels
from tests.build import house, moment

CASE = "2026-001"
LONG = "a very long place behind the loose panel of the third headboard from the window " * 4
needs_poppler = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not here")


def known(paper="A4", count=2, hotel="Invented Inn", where="housekeeper's safe"):
    build = house().record(HotelDescribed(hotel, "Europe/Vienna", paper))
    build.room("0104").bed("A")
    build.record(
        Sighted(CASE, "0104", "0104/A", "base_underside", Sign.LIVE_INSECT, 1, "Anna", moment(1))
    )
    for number in range(1, count + 1):
        step = SpecimenStep.KEPT
        build.record(SpecimenNoted(CASE, f"T-{number}", "0104", step, where, "Anna", moment(1)))
    return build


def test_all_that_a_label_has_stands_on_it(tmp_path, read_paper, qapp):
    build = known(count=1)
    sent = SpecimenNoted(CASE, "T-1", "0104", SpecimenStep.SENT, "Lab 9", "Boris", moment(2))
    build.record(sent)
    assert print_labels(build.house, LabelWish(CASE), tmp_path / "labels.pdf") == 1
    said = read_paper(tmp_path / "labels.pdf").text
    for wanted in (
        "Invented Inn",
        "Specimen T-1",
        "Case 2026-001, room 0104",
        "Underside of the box spring",
        "Tue 6 Jan 2026",
        "Found by: Anna",
        "Kept at: housekeeper's safe",
        "Sent to: Lab 9",
        "Back at",
        "Result, by whom",
    ):
        assert wanted in said
    assert said.count("✓") == 2


def test_boxes_of_its_way_can_be_ticked(tmp_path, read_paper, qapp):
    print_labels(known(count=2).house, LabelWish(CASE), tmp_path / "labels.pdf")
    boxes = [side for side in read_paper(tmp_path / "labels.pdf").squares_mm() if side < 10]
    assert len(boxes) == 2 * 4
    assert boxes == pytest.approx([4.0] * 8, abs=0.01)


@pytest.mark.parametrize(
    ("count", "copies", "pages"), [(1, 1, 1), (6, 1, 1), (7, 1, 2), (2, 3, 1), (2, 4, 2)]
)
def test_six_stand_on_a_page(tmp_path, read_paper, qapp, count, copies, pages):
    wish = LabelWish(CASE, copies=copies)
    target = tmp_path / "labels.pdf"
    assert print_labels(known(count=count).house, wish, target) == pages
    paper = read_paper(target)
    assert len(paper.reader.pages) == pages
    assert paper.text.count("Found by") == count * copies


@needs_poppler
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_another_reader_finds_each_mark(tmp_path, qapp, paper):
    # Read back by zxing-cpp, which shares nothing with the library that draws them.
    import zxingcpp
    from PIL import Image

    inn = known(paper, count=7).house
    print_labels(inn, LabelWish(CASE), tmp_path / "labels.pdf")
    subprocess.run(
        ["pdftoppm", "-r", "150", "-gray", str(tmp_path / "labels.pdf"), str(tmp_path / "page")],
        check=True,
    )
    found = [
        mark.text
        for page in sorted(tmp_path.glob("page*.pgm"))
        for mark in zxingcpp.read_barcodes(Image.open(page))
    ]
    assert sorted(found) == sorted(specimen_text(inn, one) for one in specimens(inn, CASE))


@needs_poppler
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_long_words_stay_within_the_frame(tmp_path, qapp, paper):
    inn = known(paper, count=6, hotel="The Invented Grand Hotel of Tests " * 4, where=LONG).house
    print_labels(inn, LabelWish(CASE), tmp_path / "labels.pdf")
    boxes = subprocess.run(
        ["pdftotext", "-bbox", str(tmp_path / "labels.pdf"), "-"],
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    ends = [
        float(line.split('yMax="')[1].split('"')[0])
        for line in boxes.splitlines()
        if "<word" in line
    ]
    starts = [
        float(line.split('yMin="')[1].split('"')[0])
        for line in boxes.splitlines()
        if "<word" in line
    ]
    high = float(boxes.split('height="')[1].split('"')[0])
    margin = 12.0 / 25.4 * 72
    label = (high - 2 * margin - 2 * 4.0 / 25.4 * 72) / 3
    for start, end in zip(starts, ends, strict=True):
        row = int((start - margin) // (label + 4.0 / 25.4 * 72))
        assert end <= margin + row * (label + 4.0 / 25.4 * 72) + label + 1.0


def test_a_folder_that_is_not_there_is_named(tmp_path, qapp):
    with pytest.raises(Refusal) as told:
        print_labels(known().house, LabelWish(CASE), tmp_path / "nowhere" / "labels.pdf")
    assert told.value.code == "no_such_folder"
