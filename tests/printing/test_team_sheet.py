from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import replace
from itertools import pairwise

import pytest

from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.sheet import team_sheet
from hotelwatch.core.facts import (
    Aid,
    CaseNo,
    HotelDescribed,
    RoomNo,
    RoundPublished,
    Side,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.printing.team_sheet import print_team_sheet
from hotelwatch.wording import language
from hotelwatch.wording.names import label
from tests.build import day, house, moment, rules

BLUE = TeamName("Blue")
CASE = CaseNo("2026-001")


def a_house(paper="A4"):
    build = house().record(HotelDescribed("Invented Inn", "Europe/Vienna", paper))
    build.room("0101", wing="North", order=1).bed("A").bed("B", encased=True)
    build.checked("A", day(-80))
    build.room("0102", wing="North", order=1, side=Side.RIGHT).bed("A", "platform")
    build.room("0103", wing="North", order=2).bed("A", "sofa_bed").bed("B", "bunk")
    build.room("0104", wing="North", order=2, side=Side.RIGHT).bed("A", "slats")
    build.team("Blue")
    build.record(
        Sighted(
            CASE, RoomNo("0102"), "0102/A", "mattress_top", Sign.LIVE_INSECT, 1, "x", moment(1)
        ),
        CheckAsked(CASE, RoomNo("0104"), ("shares_wall", "connects"), moment(3)),
    )
    return build.stays(("0101", -3, 2), ("0101", 2, 5), ("0103", -3, 2))


def published(build, *slots):
    rows = [
        SlotPublished(day(2), BLUE, number, RoomNo(room), beds, 20, asked_by)
        for number, (room, beds, asked_by) in enumerate(slots, 1)
    ]
    return build.record(RoundPublished(day(2), day(8)), *rows).house


def usual(build):
    return published(
        build,
        ("0101", ("0101/A", "0101/B"), ""),
        ("0103", ("0103/A", "0103/B"), ""),
        ("0104", ("0104/A",), CASE),
    )


def printed(known, path):
    sheet = team_sheet(known, occupancy(known, day(2)), on=day(2), team=BLUE)
    return sheet, print_team_sheet(sheet, known, path)


@pytest.fixture(scope="module")
def usual_paper(tmp_path_factory, read_paper, qapp):
    language.use("en")
    path = tmp_path_factory.mktemp("usual") / "sheet.pdf"
    sheet, pages = printed(usual(a_house()), path)
    return sheet, pages, read_paper(path)


def test_a_paper_read_without_what_is_drawn_has_every_word_of_the_whole(usual_paper):
    # All other tests of words stand on that.
    whole = [" ".join(page.extract_text().split()) for page in usual_paper[2].reader.pages]
    assert usual_paper[2].pages == whole


def test_each_room_is_headed_once_in_walking_order(usual_paper):
    sheet, _, paper = usual_paper
    heads = [
        piece.text
        for piece in paper.pieces()
        if piece.size > 14 and re.fullmatch(r"Room \d{4}", piece.text)
    ]
    assert heads == [f"Room {room.room}" for room in sheet.rooms]
    assert "0102 (" not in paper.text
    assert "Room 0102" not in paper.text


def test_minutes_with_ways_are_summed_up_and_told_as_assumptions(usual_paper):
    sheet, _, paper = usual_paper
    # Three rooms of 20 minutes on one corridor, 8 minutes to go to as shipped.
    assert sheet.minutes == 68
    text = " ".join(paper.text.split())
    assert "All rooms and ways to corridors: 1 h 8 min." in text
    assert "Ways to corridors: 8 min each; setting up: 6 min a room (Assumption, nobody" in text


def test_a_room_that_goes_on_says_so_on_the_next_page(usual_paper):
    _, pages, paper = usual_paper
    assert pages > 1
    assert "Room 0101 (continued)" in paper.pages[2]


def test_the_places_of_each_bed_stand_in_looking_order(usual_paper):
    sheet, _, paper = usual_paper
    for room in sheet.rooms:
        for bed in room.beds:
            start = paper.text.index(f"Bed {bed.bed}:")
            rest = paper.text[start:]
            at = 0
            for place in bed.places:
                at = rest.index(label(place.code), at + 1)


def test_every_place_has_a_box_for_looked_at_for_not_and_for_found(usual_paper):
    sheet, _, paper = usual_paper
    places = sum(len(bed.places) for room in sheet.rooms for bed in room.beds)
    places += sum(len(room.places) for room in sheet.rooms)
    aids = len(sheet.rooms) * len(Aid)  # smaller ones, behind "Aids used" below each room
    sides = sorted(paper.squares_mm())
    assert len(sides) == 3 * places + aids
    assert min(sides[aids:]) >= 5.0
    assert min(sides) == pytest.approx(4.6, abs=0.01)


def test_pages_are_counted(usual_paper):
    _, pages, paper = usual_paper
    assert pages == len(paper.reader.pages)
    for number, page in enumerate(paper.pages, 1):
        assert f"Page {number} of {pages}" in page


def test_no_word_is_smaller_than_eleven_points(usual_paper):
    numbers, words = [], []
    for piece in usual_paper[2].pieces():
        (numbers if piece.text.isdigit() else words).append(piece.size)
    assert min(words) >= 11.0
    assert min(numbers) >= 8.0  # those within a drawn bed; they stand in the rows as well


def test_fonts_are_in_the_file(usual_paper):
    fonts = list(usual_paper[2].fonts())
    assert fonts
    assert all("/FontFile2" in font or "/FontFile3" in font for font in fonts)


def test_the_head_tells_hotel_day_team_people_minutes_and_plan(usual_paper):
    _, _, paper = usual_paper
    for page in paper.pages:
        for said in ("Invented Inn", "Wed 7 Jan 2026", "Team Blue", "Form version 1"):
            assert said in page
        assert "A clean look does not prove a clean room." in page
        assert "Why not looked at: 1 No second person to lift" in page
    first = paper.pages[0]
    for said in ("2026-01-07", "2 people", "3 rooms", "5 beds", "1 h 8 min"):
        assert said in first
    assert re.search(r"Plan of Mon 5 Jan 2026, 10:00 CET, entry \d+", first)


def test_it_tells_when_a_room_can_be_entered_and_why_it_is_asked_for(usual_paper):
    _, _, paper = usual_paper
    assert "Enter: between 11:00 and 15:00" in paper.text
    assert "Enter: after 11:00, when the guest has left" in paper.text
    assert "Enter: vacant all day" in paper.text
    assert "shares a wall with 0102 and has a connecting door to 0102" in paper.text
    assert "Underside last looked at Fri 17 Oct 2025" in paper.text
    assert "No look at its underside on record" in paper.text


def test_it_names_no_sign_and_never_calls_a_room_free(usual_paper):
    text = usual_paper[2].text.lower()
    for word in ("live insect", "bed bug", "free of", "bug-free", "on hold"):
        assert word not in text


def test_lines_to_sign_and_to_note_are_there(usual_paper):
    _, _, paper = usual_paper
    first = paper.pages[0]
    for said in ("Name 1", "Name 2", "Signature", "Round begun at", "Round ended at"):
        assert said in first
    assert paper.text.count("Notes") == 3


def test_a_treated_room_is_not_entered_before_its_time(tmp_path, read_paper):
    build = a_house()
    build.record(
        TreatmentRecorded(CASE, RoomNo("0104"), day(1), "heat", "firm", "L-1", moment(2, 13)),
        QuarantinePlaced(RoomNo("0104"), CASE, moment(1), "sighting"),
    )
    printed(usual(build), tmp_path / "sheet.pdf")
    text = read_paper(tmp_path / "sheet.pdf").text
    assert "nobody enters before Wed 7 Jan 2026, 14:00 CET" in text
    assert "In quarantine" in text


# Source: washing at 60 C, or a hot dryer above 40 C for 30 minutes: Naylor and Boase 2010,
# J Econ Entomol 103:136-139.
def test_luggage_linen_and_cart_of_a_closed_room_are_told_once_and_only_then(tmp_path, read_paper):
    build = a_house()
    printed(usual(build), tmp_path / "usual.pdf")
    assert "Luggage:" not in read_paper(tmp_path / "usual.pdf").text
    build.record(QuarantinePlaced(RoomNo("0104"), CASE, moment(1), "sighting"))
    printed(usual(build), tmp_path / "sheet.pdf")
    text = " ".join(read_paper(tmp_path / "sheet.pdf").text.split())
    assert "In quarantine on this sheet: 0104" in text
    for heading in ("The guest:", "Luggage:", "Linen:", "Cart:"):
        assert text.count(heading) == 1
    assert "60 °C" in text
    assert "30 minutes" in text


def test_a_room_looked_at_that_day_is_passed_in_the_walk_and_has_no_rows(tmp_path, read_paper):
    build = a_house()
    build.room("0105", wing="North", order=3).bed("A").checked("A", day(2))
    build.record(QuarantinePlaced(RoomNo("0105"), CASE, moment(2, 14), "sighting"))
    known = published(build, ("0101", ("0101/A",), ""), ("0105", ("0105/A",), ""))
    printed(known, tmp_path / "sheet.pdf")
    text = " ".join(read_paper(tmp_path / "sheet.pdf").text.split())
    # One room of 20 minutes and 8 to its corridor are left.
    assert "2. 0105 looked at already; in quarantine 1 bed" in text
    assert "Rooms to look at and ways to corridors: 28 min." in text
    assert "1 room, 1 bed, 28 min" in text
    assert "Room 0101" in text
    assert "Room 0105" not in text
    assert "Luggage:" not in text


def test_a_sheet_on_which_all_was_looked_at_says_so_on_one_page(tmp_path, read_paper):
    build = a_house()
    build.room("0105", wing="North", order=3).bed("A").checked("A", day(2))
    _, pages = printed(published(build, ("0105", ("0105/A",), "")), tmp_path / "sheet.pdf")
    text = " ".join(read_paper(tmp_path / "sheet.pdf").text.split())
    assert pages == 1
    assert "1. 0105 looked at already 1 bed" in text
    assert "Signature" not in text


def test_a_room_closed_in_the_course_of_the_day_is_told_as_closed(tmp_path, read_paper):
    build = a_house()
    build.record(QuarantinePlaced(RoomNo("0104"), CASE, moment(2, 14), "sighting"))
    printed(usual(build), tmp_path / "sheet.pdf")
    assert "In quarantine on this sheet: 0104" in read_paper(tmp_path / "sheet.pdf").text


def test_a_reentry_time_of_an_earlier_day_is_not_repeated(tmp_path, read_paper):
    build = a_house()
    build.record(
        TreatmentRecorded(CASE, RoomNo("0104"), day(0), "heat", "firm", "L-1", moment(1, 13))
    )
    printed(usual(build), tmp_path / "sheet.pdf")
    assert "nobody enters before" not in read_paper(tmp_path / "sheet.pdf").text


def test_a_room_in_which_somebody_stays_over_is_to_be_asked_at(tmp_path, read_paper):
    build = a_house().stays(("0104", 0, 6))
    printed(usual(build), tmp_path / "sheet.pdf")
    assert "guest stays: ask before entering" in read_paper(tmp_path / "sheet.pdf").text


def test_a_team_without_rooms_gets_a_page_that_says_so(tmp_path, read_paper):
    sheet, pages = printed(published(a_house()), tmp_path / "sheet.pdf")
    assert (len(sheet.rooms), pages) == (0, 1)
    text = read_paper(tmp_path / "sheet.pdf").text
    assert "No room is on this team's sheet" in text
    assert "Page 1 of 1" in text


def word_boxes(path):
    """Every word's box, by pdftotext: a second reader that knows where words end."""
    run = subprocess.run(
        ["pdftotext", "-bbox", str(path), "-"], capture_output=True, text=True, check=True
    )
    page = re.search(r'<page width="(\S+)" height="(\S+)"', run.stdout)
    size = float(page[1]), float(page[2])
    found = re.findall(r'<word xMin="(\S+)" yMin="(\S+)" xMax="(\S+)" yMax="(\S+)"', run.stdout)
    return size, [tuple(map(float, box)) for box in found]


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="pdftotext is not installed")
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("code", ["en", language.PSEUDO])
def test_no_word_leaves_the_page_in_a_longer_language_either(tmp_path, paper, code):
    known = usual(a_house(paper))
    language.use(code)
    printed(known, tmp_path / "sheet.pdf")
    (width, height), boxes = word_boxes(tmp_path / "sheet.pdf")
    assert boxes
    least = 11.0 * 72 / 25.4
    assert all(box[0] >= least and box[2] <= width - least for box in boxes)
    assert all(box[1] >= least - 4 and box[3] <= height - least + 4 for box in boxes)


@pytest.mark.long
@pytest.mark.parametrize("code", ["en", language.PSEUDO])
def test_no_line_of_a_page_is_painted_over_another(tmp_path, read_paper, code):
    known = usual(a_house("Letter"))
    language.use(code)
    printed(known, tmp_path / "sheet.pdf")
    paper = read_paper(tmp_path / "sheet.pdf")
    pieces = paper.pieces()
    for number in range(len(paper.pages)):
        baselines = {round(p.y, 1) for p in pieces if p.page == number and p.x < 40}
        left = sorted(baselines, reverse=True)
        assert all(above - below >= 9.0 for above, below in pairwise(left))


def test_a_very_long_name_is_wrapped(tmp_path, read_paper):
    build = a_house()
    name = "Invented Inn of the Exceedingly Long Name " * 4
    build.record(HotelDescribed(name.strip(), "Europe/Vienna", "A4"))
    printed(usual(build), tmp_path / "sheet.pdf")
    assert name.strip() in read_paper(tmp_path / "sheet.pdf").text


@pytest.mark.skipif(not shutil.which("qpdf"), reason="qpdf is not installed")
def test_the_file_is_sound(tmp_path):
    printed(usual(a_house()), tmp_path / "sheet.pdf")
    run = subprocess.run(
        ["qpdf", "--check", str(tmp_path / "sheet.pdf")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr


# --- the order of places -----------------------------------------------------------------


def test_places_go_from_what_is_seen_to_what_is_hidden():
    # Common practice, no source: bedding, mattress top, its underside, edge of the box
    # spring, its underside with staple line and caps, inside, frame, headboard.
    codes = [place.code for place in rules().bed_kinds["box_spring"].places]
    order = [
        "bedding",
        "mattress_top",
        "mattress_underside",
        "base_edge",
        "base_underside",
        "base_staple_line",
        "base_corner_caps",
        "base_inside",
        "frame_joints",
        "headboard_front",
    ]
    assert [code for code in codes if code in order] == order


def test_the_underside_of_the_box_spring_is_likeliest_and_a_bare_frame_least():
    # Common practice, no source.
    places = rules().bed_kinds["box_spring"].places
    rank = {place.code: place.likeliness for place in places}
    likeliest = {code for code, value in rank.items() if value == max(rank.values())}
    assert likeliest == {"base_underside", "base_staple_line", "base_corner_caps", "base_inside"}
    assert rank["frame_joints"] == min(rank.values())


def test_whatever_takes_two_people_says_so_on_the_sheet(usual_paper):
    every = [p for kind in rules().bed_kinds.values() for p in (*kind.places, *kind.encased_places)]
    # A place's people stand in the step before it, so each such place must have a step.
    assert all(place.move for place in every if place.people > 1)
    paper = usual_paper[2]
    assert "2 people must be present" in paper.text
    assert "Two people; keep clear of where it may fall" in paper.text
    assert "Staples are sharp" in paper.text
    assert "2 people: Open the dust cover" in paper.text
    assert paper.text.count("Open the dust cover: Decide first") == 1


# How much paper a team carries: a choice of ours, about a page for a room with one kind of bed.
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_room_with_one_kind_of_bed_takes_a_page_and_two_alike_share_a_table(
    tmp_path, read_paper, paper
):
    build = house().record(HotelDescribed("Invented Inn", "Europe/Vienna", paper))
    for number in range(1, 5):
        build.room(f"010{number}", wing="North", order=number).bed("A", "platform")
        build.bed("B", "platform")
    slots = [(f"010{n}", (f"010{n}/A", f"010{n}/B"), "") for n in range(1, 5)]
    sheet, pages = printed(published(build.team("Blue"), *slots), tmp_path / "sheet.pdf")
    read = read_paper(tmp_path / "sheet.pdf")
    assert pages == len(sheet.rooms) + 1
    assert "(continued)" not in read.text
    for number, page in enumerate(read.pages[1:], 1):
        assert page.count(label("platform_top")) == 1
        assert f"010{number}/A" in page
        assert f"010{number}/B" in page
    places = sum(len(room.beds[0].places) * 2 + len(room.places) for room in sheet.rooms)
    assert len(read.squares_mm()) == 3 * places + len(Aid) * len(sheet.rooms)


# The longest texts there are. A page that began with nothing but the last lines was wasted; a box
# stays one that a gloved hand ticks: 5 mm at least (common practice, no source).
@pytest.mark.parametrize(("paper", "code", "more"), [("A4", "pl", 0), ("Letter", "fr", 1)])
def test_a_closed_room_with_a_bare_box_spring_takes_a_page_or_breaks_before_its_own_places(
    tmp_path, read_paper, paper, code, more
):
    build = house().record(HotelDescribed("Invented Inn", "Europe/Vienna", paper))
    build.room("0102", wing="North", order=1).bed("A").checked("A", day(-80)).team("Blue")
    build.record(
        Sighted(
            CASE, RoomNo("0102"), "0102/A", "base_corner_caps", Sign.DARK_SPOTS, 1, "x", moment(1)
        ),
        QuarantinePlaced(RoomNo("0102"), CASE, moment(1), "sighting"),
    )
    known = published(build, ("0102", ("0102/A",), CASE))
    language.use(code)
    sheet, _pages = printed(known, tmp_path / "sheet.pdf")
    read = read_paper(tmp_path / "sheet.pdf")
    (room,) = sheet.rooms
    (first,) = (n for n, text in enumerate(read.pages) if label("base_edge") in text)
    assert first + more == len(read.pages) - 1
    last = " ".join(read.pages[-1].split())
    assert all(label(place.code) in last for place in room.places)
    places = len(room.beds[0].places) + len(room.places)
    assert sum(side >= 5.0 for side in read.squares_mm()) == 3 * places


def test_the_heaviest_lift_of_the_sheet_is_screened_once_and_defers_to_local_rules(usual_paper):
    # NIOSH 94-110: about two of its limits for a sofa bed's assumed 60 kg, one person.
    text = usual_paper[2].text
    assert text.count("Screening only (NIOSH 94-110); local rules on lifting go first.") == 1
    assert "Tilt the sofa: about 60 kg (assumed), a lifting index of" in text


def test_only_the_rooms_of_the_sheet_are_printed(tmp_path, read_paper):
    known = usual(a_house())
    sheet = team_sheet(known, occupancy(known, day(2)), on=day(2), team=BLUE)
    fewer = replace(sheet, rooms=sheet.rooms[:1])
    assert print_team_sheet(fewer, known, tmp_path / "sheet.pdf") >= 1
    assert "Room 0103" not in read_paper(tmp_path / "sheet.pdf").text
