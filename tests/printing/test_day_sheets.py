from __future__ import annotations

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from pypdf import PdfReader

from hotelwatch.core.facts import RoomNo, RoundPublished, SlotPublished, TeamName
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.printing.day_sheets import print_day_sheets
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
    return print_day_sheets(build.house, seen, folder, on=day(on))


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


def test_a_day_without_rooms_is_refused(planned, tmp_path, qapp):
    with pytest.raises(Refusal) as refused:
        printed(planned, tmp_path, on=1)
    assert refused.value.code == "no_sheet"
    assert list(tmp_path.iterdir()) == []
