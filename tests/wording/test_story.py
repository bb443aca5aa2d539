from __future__ import annotations

from dataclasses import replace
from datetime import date
from zoneinfo import ZoneInfo

import pytest

from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    PhotoKept,
    QuarantineLifted,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.rows import AskedRow
from hotelwatch.core.cases.steps import Step
from hotelwatch.core.cases.story import StoryLine
from hotelwatch.core.facts import CheckKind
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.wording import story
from hotelwatch.wording.names import QUARANTINE_REASONS
from tests.build import day, moment

VIENNA = ZoneInfo("Europe/Vienna")
ASKED = AskedRow(
    "2026-001", "101", "102", ("shares_wall", "connects"), moment(1), None, True, False, 3
)
SIGHTED = Sighted(
    "2026-001", "102", "102/A", "slats", Sign.EGGS, 3, "Esther", moment(0), "by torch"
)


def line(code, **values):
    return StoryLine(code, day(0), moment(0), 3, values)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (ASKED, "to be done"),
        (replace(ASKED, is_late=True), "late, to be done now"),
        (replace(ASKED, is_open=False), "no longer wanted"),
        (replace(ASKED, is_open=False, done_on=date(2026, 1, 6)), "looked at Tue 6 Jan"),
        (
            replace(ASKED, is_open=False, is_late=True, done_on=date(2026, 1, 7)),
            "looked at Wed 7 Jan, late",
        ),
    ],
)
def test_an_asked_check_is_to_be_done_late_done_or_no_longer_wanted(row, said):
    assert story.asked_state_text(row) == said
    assert story.asked_sentence(row) == (
        f"101 (shares a wall with 102 and has a connecting door to 102): {said}"
    )


def test_asked_checks_are_summed_up_and_what_is_left_stands_first():
    done = replace(ASKED, room="103", is_open=False, done_on=date(2026, 1, 6))
    late = replace(ASKED, room="104", is_late=True)
    told = line("asked", rows=(done, ASKED, late), by_at=moment(1))
    assert story.story_sentence(told, VIENNA) == (
        "3 rooms to be looked at by Tue 6 Jan 2026, 10:00 CET: 1 done, 2 left, 1 late."
    )
    assert [text[:3] for text in story.story_details(told)] == ["104", "101", "103"]


def test_a_sighting_says_what_where_who_and_the_note():
    assert story.story_sentence(line("sighted", fact=SIGHTED), VIENNA) == (
        "Eggs or egg shells (counted: 3): 102/A, slats. Seen or reported by Esther. “by torch”"
    )


def test_every_line_of_a_story_has_a_sentence_that_claims_no_clean_room():
    told = [
        line("sighted", fact=SIGHTED),
        line("quarantined", rooms=("102", "104"), reason="same_suite"),
        line("judged", fact=CaseJudged("c", Outcome.NOT_BED_BUG, "Jo", "Licence 1", day(0))),
        line(
            "treated",
            fact=TreatmentRecorded("c", "102", day(0), "Heat", "Firm", "W-1", moment(1)),
        ),
        line("lifted", fact=QuarantineLifted("102", "c", moment(2), "Jo", True)),
        line("lifted", fact=QuarantineLifted("102", "c", moment(2), "Jo", False, "Full house")),
        line("photos", facts=(PhotoKept("c", "a" * 64, 1),)),
        line(
            "looked",
            room="102",
            kind=CheckKind.CLEARANCE,
            by=("Ana", "Bo"),
            beds=2,
            beds_seen=1,
            found=False,
        ),
    ]
    said = [story.story_sentence(one, VIENNA) for one in told]
    assert len(set(said)) == len(said)
    assert all(text.endswith((".", "”", "Full house")) for text in said)
    assert not any("{" in text or "free of" in text.lower() for text in said)
    assert "underside looked at on 1 of 2 beds" in said[-1]
    assert "Nobody enters before Tue 6 Jan 2026, 10:00 CET" in said[3]


def test_every_reason_of_a_quarantine_has_its_sentence():
    assert {*QUARANTINE_REASONS, "same_suite"} == set(story.QUARANTINED)


def test_a_step_fits_a_column():
    steps = [
        Step("check_room", {"room": "102"}),
        Step("check_neighbours", {"rooms": ("101", "103"), "count": 2, "late": 0}),
        Step("record_treatment", {"rooms": ("102", "104"), "found_on": None}),
        Step("clearance_checks", {"room": "102", "bed": "102/A", "have": 1, "need": 4}),
        Step("lift_quarantine", {"rooms": ("102",)}),
        Step("other_room", {"room": "103", "day": day(0)}),
        Step("nothing_open"),
    ]
    assert [story.step_short(step) for step in steps] == [
        "Look at 102",
        "Look at 2 neighbours",
        "Treatment of 102 and 104",
        "Clearance: 1 of 4 clean",
        "Decide on giving back 102",
        "New room for 103's guest",
        "Nothing open",
    ]


def test_a_line_stands_on_its_day_with_the_hotels_clock_where_one_is_known():
    assert story.days_line(line("sighted"), VIENNA) == "Mon 5 Jan 2026, 10:00"
    assert story.days_line(StoryLine("judged", day(0), None, 3), VIENNA) == "Mon 5 Jan 2026"
