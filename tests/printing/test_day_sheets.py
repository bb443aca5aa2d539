from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from pypdf import PdfReader

from hotelwatch.core.facts import RoomNo, RoundPublished, SlotPublished, TeamName
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import HouseDaysClosed, TeamDaysChanged
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.printing.day_sheets import print_day_sheets, print_sheets
from tests.build import day, house


def slot(room, team, on=0):
    return SlotPublished(day(on), TeamName(team), 1, RoomNo(room), (f"{room}/A",), 20)


@pytest.fixture
def planned():
    build = house().team("blue").team("Früh & spät")
    build.room("101").bed("A")
    build.room("102").bed("A")
    return build.record(
        RoundPublished(day(0), day(1)), slot("101", "blue"), slot("102", "Früh & spät")
    )


def printed(build, folder, on=0):
    seen = occupancy(build.house, day(on))
    return print_day_sheets(build.house, seen, folder, on=day(on), today=day(on))


def test_each_team_of_the_day_has_its_own_pdf_as_a_second_reader_sees(planned, tmp_path, qapp):
    files = printed(planned, tmp_path / "sheets")
    assert [file.name for file in files] == [
        "sheet-2026-01-05-früh---spät.pdf",
        "sheet-2026-01-05-blue.pdf",
    ]
    said = ["".join(page.extract_text() for page in PdfReader(file).pages) for file in files]
    assert ["102" in text for text in said] == [True, False]
    assert ["101" in text for text in said] == [False, True]


def test_a_team_out_of_use_still_has_the_sheet_that_was_published(planned, tmp_path, qapp):
    planned.team("blue", in_use=False)
    assert len(printed(planned, tmp_path)) == 2


# Day 0 is a Monday, and the round was published on it, for that day and the next.
def test_a_day_without_rooms_is_refused_and_it_is_said_why(planned, tmp_path, qapp):
    planned.record(HouseDaysClosed(day(2), day(2), "Shutdown"))
    planned.record(TeamDaysChanged(TeamName("blue"), day(3), day(3), 0, "leave"))
    for on, today, team, code in (
        (1, 0, "", "no_sheet_until_morning"),
        (1, 2, "", "no_sheet_nothing_planned"),
        (2, 2, "", "no_sheet_house_closed"),
        (3, 3, "", "no_sheet"),
        (3, 3, "blue", "no_sheet_team_away"),
        (5, 5, "", "no_sheet_nobody_works"),
    ):
        seen = occupancy(planned.house, day(on))
        with pytest.raises(Refusal) as refused:
            print_sheets(planned.house, seen, tmp_path, on=day(on), today=day(today), team=team)
        assert refused.value.code == code
    assert list(tmp_path.iterdir()) == []


def test_a_day_published_whole_or_on_its_own_morning_waits_for_nothing(tmp_path, qapp):
    build = house().team("blue").record(RoundPublished(day(0), day(0)))
    build.record(RoundPublished(day(1), day(1), is_whole=True))
    for on in (0, 1):
        with pytest.raises(Refusal, match="no_sheet_nothing_planned"):
            printed(build, tmp_path, on)


def test_two_teams_whose_names_make_the_same_file_name_do_not_overwrite_each_other(tmp_path, qapp):
    build = house().team("Team 1").team("team-1")
    build.room("101").bed("A").room("102").bed("A")
    build.record(RoundPublished(day(0), day(0)), slot("101", "Team 1"), slot("102", "team-1"))
    files = printed(build, tmp_path)
    said = ["".join(page.extract_text() for page in PdfReader(file).pages) for file in files]
    assert ["102" in text for text in said] == [False, True]


def test_one_teams_sheet_is_printed_under_the_name_that_it_has_among_all(planned, tmp_path, qapp):
    seen = occupancy(planned.house, day(0))
    ((file, pages),) = print_sheets(
        planned.house, seen, tmp_path, on=day(0), today=day(0), team="blue"
    )
    assert file in printed(planned, tmp_path)
    assert pages == len(PdfReader(file).pages)
    with pytest.raises(Refusal, match="unknown_team"):
        print_sheets(planned.house, seen, tmp_path, on=day(0), today=day(0), team="green")
