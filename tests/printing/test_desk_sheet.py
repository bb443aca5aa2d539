from __future__ import annotations

import pytest

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import QuarantinePlaced, Sighted, Sign
from hotelwatch.core.cases.desk import desk_list
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.facts import CaseNo, HotelDescribed, RoomNo
from hotelwatch.core.round_facts import NightAnswered, NightAsked
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.printing.desk_sheet import print_desk_sheet
from hotelwatch.wording import language
from tests.build import day, house, moment

CASE = CaseNo("2026-001")


def blocked(*rooms, hotel="Invented Inn"):
    build = house().record(HotelDescribed(hotel, "Europe/Vienna", "Letter"))
    for number in range(1, 80):
        build.room(f"0{number:03d}").bed("A")
    for room in rooms:
        build.record(
            Sighted(CASE, RoomNo(room), "", "bedding", Sign.LIVE_INSECT, 1, "anna", moment(1)),
            QuarantinePlaced(RoomNo(room), CASE, moment(1), "sighting"),
        )
    return build


def listed(known, number=2):
    around = Around(neighbours(known, lay_out(known)), record_of(known))
    return desk_list(known, occupancy(known, day(number)), moment(number), around=around)


def printed(known, path):
    return print_desk_sheet(listed(known), known, path)


def test_front_desk_reads_what_not_to_sell_and_whom_it_touches(tmp_path, read_paper):
    build = blocked("0002").stays(("0002", 0, 4), ("0002", 5, 8), ("0003", 5, 8))
    pages = printed(build.house, tmp_path / "desk.pdf")
    paper = read_paper(tmp_path / "desk.pdf")
    assert pages == len(paper.pages) == 1
    assert "Rooms not to sell: 1" in paper.text
    assert "0002 Tue 6 Jan 2026, 10:00 CET" in paper.text
    assert "Guests to be given another room: 2" in paper.text
    assert "Let although not to be sold: 1" in paper.text
    assert "As of Wed 7 Jan 2026, 10:00 CET" in paper.text
    # 0001 and 0003 lie next to it; nobody ever looked at the others.
    assert "0004: have it looked at first" in paper.text
    assert "0005: have it looked at first" in paper.text
    # Blocked from day 1; the guest of day 0 stayed on that night.
    assert "0 nights lost so far" in paper.text
    assert "not explained yet" in paper.text


def test_nothing_on_it_tells_a_guest_why(tmp_path, read_paper):
    printed(blocked("0002").stays(("0002", 0, 4)).house, tmp_path / "desk.pdf")
    text = read_paper(tmp_path / "desk.pdf").text.lower()
    for word in (CASE, "bug", "insect", "quarantine", "sign", "anna", "case"):
        assert word not in text.replace("signature", "")


def test_a_list_of_nothing_says_so(tmp_path, read_paper):
    assert printed(blocked().house, tmp_path / "desk.pdf") == 1
    assert "Rooms not to sell: 0" in read_paper(tmp_path / "desk.pdf").text


@pytest.mark.parametrize("code", ["en", language.PSEUDO])
def test_a_long_list_goes_on_with_its_headings_and_every_room_once(tmp_path, read_paper, code):
    rooms = [f"0{number:03d}" for number in range(1, 61)]
    known = blocked(*rooms).house
    language.use(code)
    pages = printed(known, tmp_path / "desk.pdf")
    paper = read_paper(tmp_path / "desk.pdf")
    assert pages == len(paper.pages) > 1
    at_left = [piece.text for piece in paper.pieces() if piece.text in rooms]
    assert at_left == rooms
    for page in paper.pages[:2]:
        assert language._("Not to sell from").split(" ~")[0] in page


def test_nights_to_keep_free_are_asked_for_on_paper_without_the_reason(tmp_path, read_paper):
    build = blocked("0002").record(
        NightAsked(RoomNo("0003"), day(4), "case 2026-001, insects next door"),
        NightAsked(RoomNo("0004"), day(5), "the same"),
    )
    build.record(NightAnswered(RoomNo("0004"), day(5), is_kept=True, by="ines"))
    printed(build.house, tmp_path / "desk.pdf")
    text = read_paper(tmp_path / "desk.pdf").text
    assert "Please keep free, for a room check: 2" in text
    assert "0003 Fri 9 Jan 2026 1 room-night" in text
    assert "yes / no" in text
    assert "kept free, ines" in text
    for word in (CASE, "insects", "the same"):
        assert word not in text
