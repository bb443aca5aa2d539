"""One confirmed case in the book: how it became known, proofs, treatment, visits, the closing.

What a monthly file holds, sheet by sheet: common practice, no source; that a guest who told
something is answered, and what a treatment's record says: Chicago's and Kansas's texts as
resources/profiles.toml names them.
"""

from __future__ import annotations

import tempfile
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import pytest

from hotelwatch.core.case_facts import (
    CaseClosed,
    CaseJudged,
    NoticeGiven,
    Outcome,
    PhotoKept,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
    SpecimenNoted,
    SpecimenStep,
)
from hotelwatch.core.facts import BedChecked, CaseNo, CheckKind, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.month.figures import figures
from hotelwatch.core.treatment_facts import PaperKept, PaperKind, ProbeLogKept, TreatmentRecorded
from hotelwatch.papers.month_book import write_month_book
from tests.build import Build, day, house, moment
from tests.papers.office import converted, needs_office
from tests.papers.test_month_book import CLAIMS, rows_of, text_of

CASE, OTHER, ROOM = CaseNo("2026-001"), CaseNo("2026-002"), RoomNo("0101")
NOW = datetime(2026, 4, 20, 9, tzinfo=UTC)
DIGEST = "0123456789abcdef" * 4


def looked(built: Build, on: int, **more: object) -> Build:
    """Every place of the bed, after the treatment."""
    return built.on(on).checked("A", day(on), kind=CheckKind.CLEARANCE, **more)


@cache
def a_case() -> House:
    """January 2026: a guest's word, a specimen, confirmed, heated on the 10th day; looks since."""
    built = house().room(ROOM).bed("A").room("0102").bed("A")
    built.on(2).record(
        Sighted(CASE, ROOM, "0101/A", "", Sign.CAST_SKIN, 1, "desk", moment(2), by_guest=True),
        QuarantinePlaced(ROOM, CASE, moment(2), "sighting"),
        SpecimenNoted(CASE, "S-7", ROOM, SpecimenStep.KEPT, "safe", "carla", moment(2)),
        PhotoKept(CASE, DIGEST, 100, "seam"),
    )
    built.on(3).record(NoticeGiven(CASE, "answer_guest", "", moment(3), "eva", room=ROOM))
    built.on(4).record(CaseJudged(CASE, Outcome.CONFIRMED, "Dr Moth", "entomologist", day(4)))
    built.on(5).record(
        Sighted(OTHER, RoomNo("0102"), "", "", Sign.GUEST_WORD, 0, "desk", moment(5))
    )
    built.on(10).record(
        TreatmentRecorded(
            *(CASE, ROOM, day(10), "heat", "Firm of tests", "L-1", moment(11)),
            **{"product": "dust", "amount": "20 g", "areas": ("frame",), "receipt_no": "R-55"},
        ),
        ProbeLogKept(CASE, ROOM, "log-1", day(10), "heat", "probes.csv", DIGEST, "eva"),
        PaperKept(CASE, "f" * 64, "report.pdf", PaperKind.REPORT, "eva"),
    )
    built._room = ROOM
    looked(built, 17)
    looked(built, 26, seen=("bedding",), unseen=("base_corner_caps:no_second_person",))
    looked(built, 39)
    built.on(40).record(QuarantineLifted(ROOM, CASE, moment(40), "eva", True, "", "licence 5"))
    built.on(60).record(CaseClosed(CASE, moment(60), "eva", False, "hotel is sold"))
    return built.house


@cache
def book_of(month: str) -> Path:
    path = Path(tempfile.mkdtemp(prefix="hotelwatch-proofs-")) / f"{month}.xlsx"
    write_month_book(path, figures(a_case(), month, now=NOW), claims=CLAIMS)
    return path


def test_a_finding_says_how_it_became_known_by_whom_it_was_identified_and_answered():
    rows = {row["Case"]: row for row in rows_of(book_of("2026-01"), "Sightings")}
    told = rows[CASE]
    assert told["How it became known"] == "a guest told it"
    # 09:00 UTC is 10:00 in Vienna in January (IANA Europe/Vienna).
    assert told["Guest was answered"] == datetime(2026, 1, 8, 10)
    assert (told["Class"], told["Identified by"]) == ("confirmed", "Dr Moth")
    assert (told["Competent through"], told["Identified on"]) == ("entomologist", day(4))
    assert (told["Specimens"], told["Photos of the case"]) == ("S-7", 1)
    assert rows[OTHER]["Guest was answered"] == "not yet"
    assert rows[OTHER]["Class"] == "suspected"


def test_a_treatment_names_amount_receipt_log_and_report_and_their_digests_stand_whole():
    path = book_of("2026-01")
    (row,) = rows_of(path, "Treatments")
    assert (row["Amount, as reported"], row["Receipt number"]) == ("20 g", "R-55")
    assert (row["Areas"], row["Log of heat or cold"]) == ("frame", f"log-1 ({DIGEST[:12]})")
    assert row["Firm's report kept"] == "f" * 12
    kept = {row["What"]: row["SHA-256 of the file"] for row in rows_of(path, PROOFS)}
    assert kept == {
        **{"Photo": DIGEST, "Specimen": "", "Log of heat or cold": DIGEST},
        "Report": "f" * 64,
    }


PROOFS = "Photos, specimens, papers"


def test_visits_after_a_treatment_are_counted_by_hand():
    # After heat 7, 14 and 28 days (derived, resources/parameters.toml): 17, 24 and 38 days in,
    # which are 22 and 29 January and 12 February. Looked at on days 17, 26, 39: each met by the
    # first look from its day on; on day 26 a place underneath was left out, so that look is none.
    january = rows_of(book_of("2026-01"), "Follow-up visits")
    february = rows_of(book_of("2026-02"), "Follow-up visits")
    assert [(row["Visit no."], row["Due on"], row["Looked at on"]) for row in january] == [
        (1, day(17), day(17)),
        (2, day(24), ""),
    ]
    assert january[1]["Result"] == "not looked at"
    assert [(row["Visit no."], row["Looked at on"]) for row in february] == [
        (2, day(39)),
        (3, day(39)),
    ]
    assert {row["Result"] for row in february} == {"no sign seen, which is no proof"}


def test_what_nobody_lifted_alone_stands_in_the_book_without_a_name():
    (row,) = rows_of(book_of("2026-01"), "Not lifted")
    assert (row["Bed"], row["Why"]) == ("0101/A", "No second person to lift")
    assert "anna" not in str(row)


def test_the_closing_says_what_was_looked_at_until_when_by_whom_and_no_more():
    (row,) = rows_of(book_of("2026-03"), "Watch and closing")
    assert (row["Closed by"], row["Closed because of"]) == ("eva", "a person's reason")
    assert row["Watch since"] == day(10)
    words = str(row["Closing words"])
    # By the calendar: days 17 and 39 from 5 January 2026.
    assert "22 Jan 2026" in words
    assert "13 Feb 2026" in words
    assert "of 60 days" in words
    assert "hotel is sold" in words
    assert "proves that nothing" in words


def test_new_cases_are_suspected_confirmed_or_ruled_out_and_no_other():
    rows = {
        row["Its name in formulas"]: row["As counted by the program"]
        for row in rows_of(book_of("2026-01"), "Summary")
    }
    assert (rows["cases_new_confirmed"], rows["cases_new_suspected"]) == (1, 1)
    parts = ("cases_new_suspected", "cases_new_confirmed", "cases_new_ruled_out")
    assert sum(rows[part] for part in parts) == rows["cases_new"] == 2
    assert rows["cases_open_at_start"] + rows["cases_new"] - rows["cases_closed"] == 2
    assert (rows["guests_not_answered"], rows["visits_not_made"]) == (1, 1)


def test_the_form_that_was_filled_in_stands_beside_its_check(tmp_path):
    built = house().room(ROOM).bed("A")
    fact = BedChecked("0101/A", ROOM, day(3), CheckKind.DEEP, ("a",), 9, ("x",), form_version=3)
    told = figures(built.on(3).record(fact).house, "2026-01", now=NOW)
    write_month_book(tmp_path / "b.xlsx", told, claims=CLAIMS)
    (row,) = rows_of(tmp_path / "b.xlsx", "Checks")
    assert row["Form version"] == 3


@needs_office
@pytest.mark.long
def test_a_second_program_counts_the_same():
    again = converted(book_of("2026-01"))
    for row in rows_of(again, "Summary"):
        told = row["As counted by the program"]
        assert row["As counted by this file"] == pytest.approx(told, abs=0.005), row
    assert "Err:" not in text_of(again)
