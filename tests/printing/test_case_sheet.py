"""A case on paper: whole, with corrections in sight, suspected and confirmed apart, no guest."""

from __future__ import annotations

import pytest

from hotelwatch.actions.odds import OddsWish, case_odds
from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    PhotoKept,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.case_page import case_page
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.treatment_facts import PaperKept, PaperKind, ProbeLogKept, ProbeRead
from hotelwatch.printing.case_sheet import Beside, print_case
from hotelwatch.wording import language
from tests.build import day, house, moment

CASE = CaseNo("2026-001")
PHOTO = "ab" * 32


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def a_case():
    build = house().room("0101", order=1).bed("A").room("0102", order=2).bed("A")
    return build.on(0).record(
        Sighted(CASE, RoomNo("0101"), "0101/A", "bedding", Sign.LIVE_INSECT, 2, "anna", moment(0)),
        QuarantinePlaced(RoomNo("0101"), CASE, moment(0), "sighting"),
        CheckAsked(CASE, RoomNo("0102"), ("shares_wall",), moment(1)),
        PhotoKept(CASE, PHOTO, 1200, "under the label"),
    )


def print_whole(known, path, now, odds=None):
    building = lay_out(known)
    as_booked = occupancy(known, local_day(now, known.zone))
    around = Around(neighbours(known, building))
    page = case_page(known, as_booked, CASE, around=around, now=now)
    return print_case(page, known, path, beside=Beside(building, odds=odds))


def printed(build, path, now, read_paper):
    print_whole(build.house, path, now)
    return read_paper(path).text


def test_a_case_is_told_in_order_with_who_wrote_it_down(tmp_path, read_paper):
    text = printed(a_case(), tmp_path / "case.pdf", moment(0, 12), read_paper)
    assert "Case 2026-001, room 0101" in text
    assert "suspected; no competent person has confirmed it" in text
    assert "confirmed by" not in text
    assert "Live insect (counted: 2): 0101/A" in text
    assert "by tester" in text
    assert "shares a wall with 0101" in text
    assert "Rooms closed to guests" in text
    assert "Floor 1" in text
    assert "○ To be looked at" in text
    assert "under the label" in text
    assert PHOTO[:16] in text
    assert "The picture is not beside the hotel's file." in text
    assert text.index("What is next") < text.index("What happened") < text.index("Photos")


def test_a_confirmation_names_who_and_by_what_competence(tmp_path, read_paper):
    build = a_case().on(1)
    build.record(CaseJudged(CASE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(1)))
    text = printed(build, tmp_path / "case.pdf", moment(1, 12), read_paper)
    assert "confirmed by Dr. Vey (entomologist)" in text
    assert "suspected" not in text


# Source: FIPS 180-4, SHA-256; the digest of "abc" is the standard's worked example.
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_papers_kept_stand_with_name_and_whole_digest(tmp_path, read_paper):
    build = a_case()
    assert "Papers kept" not in printed(build, tmp_path / "none.pdf", moment(0, 12), read_paper)
    long = "order-" * 30 + "receipt.pdf"
    build.on(1).record(PaperKept(CASE, ABC, "visit.pdf", PaperKind.REPORT, "anna"))
    build.on(2).record(PaperKept(CASE, "cd" * 32, long, PaperKind.RECEIPT, "anna"))
    text = printed(build, tmp_path / "case.pdf", moment(2, 12), read_paper)
    assert f"Report kept: visit.pdf, SHA-256 {ABC[:16]}…" in text
    section = text[text.index("Papers kept") :]
    assert text.index("Photos") < text.index("Papers kept") < text.index("Signed")
    assert section.index("visit.pdf") < section.index(f"SHA-256 {ABC}")
    assert "Receipt" in section
    assert "SHA-256 " + "cd" * 32 in section
    assert long in "".join(section.split())


def test_a_log_stands_with_its_verdict_and_what_it_lacks(tmp_path, read_paper):
    kept = ProbeLogKept(CASE, RoomNo("0101"), "1", day(1), "heat", "heat.csv", "ab" * 32, "anna")
    warm = ProbeRead(CASE, "1", "Bed", "mattress_core", moment(1), (0.0, 60.0), (30.0, 41.0))
    text = printed(a_case().record(kept, warm), tmp_path / "c.pdf", moment(2), read_paper)
    assert "What logs of heat and cold show" in text
    assert "Log 1, room 0101" in text
    # 41 °C counts for nothing: the mattress's core is asked for above it (Kells and
    # Goblirsch 2011); and from two readings an hour apart nothing is read in between.
    assert "The log does not show the dose asked for. Bed decides: 0.00 of" in text
    assert "Bed: no reading for 60 minutes" in text


def test_a_paper_taken_back_is_no_longer_listed(tmp_path, read_paper):
    build = a_case().on(1)
    build.record(PaperKept(CASE, ABC, "visit.pdf", PaperKind.REPORT, "anna"))
    build.on(2).record(corrects=max(build.house.entries), note="of another hotel")
    text = printed(build, tmp_path / "case.pdf", moment(2, 12), read_paper)
    assert "Papers kept" not in text
    assert "of another hotel" in text


def test_what_was_taken_back_stays_in_sight(tmp_path, read_paper):
    build = a_case().on(1)
    wrong = build.record(CaseJudged(CASE, Outcome.NOT_BED_BUG, "Dr. Vey", "entomologist", day(1)))
    number = max(wrong.house.entries)
    build.on(2).record(corrects=number, note="wrong tube")
    text = printed(build, tmp_path / "case.pdf", moment(2, 12), read_paper)
    assert "Entries taken back" in text
    assert "wrong tube" in text
    assert "judged to be no bed bug" not in text


def test_a_line_written_down_days_later_says_so(tmp_path, read_paper):
    build = a_case().on(5)
    build.record(CaseJudged(CASE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(1)))
    text = printed(build, tmp_path / "case.pdf", moment(5, 12), read_paper)
    assert "written down later" in text


@pytest.mark.parametrize("code", ["en", language.PSEUDO])
def test_a_long_case_is_broken_into_pages_that_say_so(tmp_path, read_paper, code):
    language.use(code)
    build = a_case()
    for number in range(60):
        build.on(number).record(
            Sighted(
                CASE, RoomNo("0101"), "", "", Sign.DARK_SPOTS, 1, "anna", moment(number), "again"
            )
        )
    path = tmp_path / "case.pdf"
    pages = print_whole(build.house, path, moment(60))
    assert pages == len(read_paper(path).pages) > 2


def odds_of(known, on):
    around = neighbours(known, lay_out(known))
    return case_odds(OddsWish(known, occupancy(known, on), around, on), CASE)


def test_when_it_may_have_come_in_is_told_as_assumed_and_with_if_until_it_is_judged(
    tmp_path, read_paper
):
    build = a_case().room("0103", order=3).bed("A")
    print_whole(build.house, tmp_path / "if.pdf", moment(1), odds_of(build.house, day(1)))
    text = " ".join(read_paper(tmp_path / "if.pdf").text.split())
    section = text[text.index("When it may have come in") : text.index("Photos")]
    assert "worked out, assumed" in section
    assert "Room 0101, sign seen on" in section
    assert "If what was found in 0101 is bed bugs, it was brought in most likely between" in section
    assert "if what was found is bed bugs (assumed)" in section
    assert "0102 about 1 in" in section
    assert "How far back of that day it may have come in is assumed, not known." in section
    build.on(1).record(CaseJudged(CASE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(1)))
    print_whole(build.house, tmp_path / "so.pdf", moment(1), odds_of(build.house, day(1)))
    text = " ".join(read_paper(tmp_path / "so.pdf").text.split())
    assert "Room 0101, found on" in text
    assert "If what was found" not in text


def test_of_a_case_that_was_ruled_out_nothing_is_reckoned_on_paper(tmp_path, read_paper):
    build = a_case().on(1)
    build.record(CaseJudged(CASE, Outcome.NOT_BED_BUG, "Dr. Vey", "entomologist", day(1)))
    print_whole(build.house, tmp_path / "no.pdf", moment(1), odds_of(build.house, day(1)))
    assert "may have come in" not in read_paper(tmp_path / "no.pdf").text
