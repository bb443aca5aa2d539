from __future__ import annotations

import re
from datetime import UTC, date, datetime

import pytest

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.cases import release, steps
from hotelwatch.core.cases.case import Stage
from hotelwatch.core.cases.release import Missing
from hotelwatch.core.cases.steps import Step
from hotelwatch.core.checks.lifting import screened
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.rounds.plan import WhyNot
from hotelwatch.core.stays.openings import Opening, OpeningKind
from hotelwatch.wording import cautions, language, reasons
from hotelwatch.wording.sheet_cautions import lifting_text
from hotelwatch.wording.steps import MISSING, STEPS, deadline_text, missing_sentence, step_sentence
from tests.build import rules

VIENNA = "Europe/Vienna"


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_of_neighbourhood_names_the_room_it_is_of(kind):
    assert "101" in reasons.neighbour_reasons([kind], source="101")


def test_several_reasons_stand_in_one_row():
    assert (
        reasons.neighbour_reasons(["connects", "shares_wall"], source="0101")
        == "has a connecting door to 0101 and shares a wall with 0101"
    )


def test_the_room_of_a_sign_is_not_called_its_own_neighbour():
    assert reasons.neighbour_reasons(["sighting"], source="101") == "the room itself"


def opening(kind, from_clock="11:00", until_clock="15:00"):
    return Opening(date(2026, 11, 25), from_clock, until_clock, kind)


def test_an_opening_tells_its_hours():
    assert reasons.opening_text(opening(OpeningKind.TURNOVER)) == "between 11:00 and 15:00"
    assert reasons.opening_text(opening(OpeningKind.ALL_DAY)) == "vacant all day"
    assert "11:00" in reasons.opening_text(opening(OpeningKind.AFTER_DEPARTURE))
    assert "15:00" in reasons.opening_text(opening(OpeningKind.BEFORE_ARRIVAL))
    assert reasons.opening_text(None)


def test_every_reason_to_leave_a_room_out_is_worded_and_names_the_beds_left():
    assert set(reasons.WHY_NOT) == set(WhyNot)
    assert all("0021" in reasons.why_not_sentence(why, room="0021") for why in WhyNot)
    said = reasons.why_not_sentence(WhyNot.TOO_LONG, room="0021")
    assert said.startswith("0021: one bed with set-up needs more minutes than any team has")
    assert said.endswith("Give a team more minutes.")
    part = reasons.why_not_sentence(WhyNot.NO_MINUTES, room="0021", beds=("0021/C", "0021/D"))
    assert part.endswith("Its other beds are planned; left out: 0021/C and 0021/D.")


def test_every_kind_of_opening_stage_and_evidence_is_worded():
    assert set(reasons.OPENING) == set(OpeningKind)
    assert set(reasons.STAGE) == set(Stage)
    assert set(reasons.EVIDENCE) == set(Evidence)


def codes_told(doc):
    return set(re.findall(r'"([a-z_]+)"', doc))


def test_every_condition_that_release_names_has_a_sentence():
    assert codes_told(release.Missing.__doc__) == set(MISSING)


def test_every_step_that_cases_name_has_a_sentence():
    counted = {"check_neighbours", "read_monitors"}
    assert codes_told(steps.Step.__doc__) - counted == set(STEPS) - {
        "treat_again",
        "move_guest_who_came",
    }


def test_missing_conditions_are_told_by_the_hotel_s_clock():
    until = datetime(2026, 11, 25, 13, 5, tzinfo=UTC)
    said = missing_sentence(Missing("reentry", {"room": "101", "until": until}), VIENNA)
    assert said == "Nobody may enter 101 before Wed 25 Nov 2026, 14:05 CET."
    values = {"room": "101", "bed": "101/A", "have": 1, "need": 4, "next_from": date(2026, 11, 25)}
    said = missing_sentence(Missing("clean_checks", values), VIENNA)
    assert said.startswith("101/A: 1 of 4 clean checks")
    assert "Wed 25 Nov 2026" in said
    said = missing_sentence(Missing("clean_checks", {**values, "bed": ""}), VIENNA)
    assert said.startswith("101: 1 of 4")


def test_a_step_counts_its_rooms_and_says_which_are_late():
    step = Step("check_neighbours", {"rooms": ("102", "201"), "count": 2, "late": 1})
    assert step_sentence(step, VIENNA) == "Look at 2 neighbouring rooms: 102 and 201. 1 is overdue."
    step = Step("check_neighbours", {"rooms": ("102",), "count": 1, "late": 0})
    assert step_sentence(step, VIENNA) == "Look at 1 neighbouring room: 102."


def test_traps_are_named_as_traps():
    one = Step("read_monitors", {"room": "101", "monitors": ("P-1",)})
    two = Step("read_monitors", {"room": "101", "monitors": ("P-1", "P-2")})
    assert step_sentence(one, VIENNA) == "Look into trap P-1 in 101, and write down what is in it."
    assert step_sentence(two, VIENNA).startswith("Look into traps P-1 and P-2 in 101, and write")


def test_a_find_after_treatment_is_said_to_need_treatment_again():
    values = {"rooms": ("101",), "found_on": date(2026, 11, 25)}
    assert "Found again on Wed 25 Nov 2026" in step_sentence(
        Step("record_treatment", values), VIENNA
    )
    values = {"rooms": ("101",), "found_on": None}
    assert "licensed firm for 101" in step_sentence(Step("record_treatment", values), VIENNA)


def test_a_deadline_that_has_passed_is_said_so():
    due = datetime(2026, 11, 25, 13, 5, tzinfo=UTC)
    step = Step("check_room", {"room": "101"}, due)
    before, after = datetime(2026, 11, 25, 12, tzinfo=UTC), datetime(2026, 11, 26, tzinfo=UTC)
    assert deadline_text(step, VIENNA, now=before) == "by Wed 25 Nov 2026, 14:05 CET"
    assert deadline_text(step, VIENNA, now=after).startswith("was to be done by")
    assert deadline_text(Step("nothing_open"), VIENNA, now=after) == ""


@pytest.mark.parametrize("code", ["lifting", "sharps", "heat", "chemicals", "bites"])
def test_every_caution_has_a_short_line_and_its_sentences(code):
    assert cautions.caution_text(code).endswith(".")
    assert all(sentence.endswith(".") for sentence in cautions.caution_sentences(code))


def test_cautions_defer_to_those_who_know():
    said = {
        code: " ".join(cautions.caution_sentences(code))
        for code in ("lifting", "heat", "chemicals", "bites")
    }
    # Waters, Putz-Anderson, Garg: Applications manual for the revised NIOSH lifting
    # equation, 94-110: not for two people, tight space, pushing or tilting.
    assert "94-110" in said["lifting"]
    assert "screen" in said["lifting"]
    assert "country's rules" in said["lifting"]
    assert "licensed" in said["heat"]
    assert "re-entry time" in said["chemicals"]
    assert "doctor" in said["bites"]
    assert "no medical advice" in said["bites"]


def lift_of(weight_kg):
    return lifting_text(screened(rules().figures, "stand_base", weight_kg))


def test_a_lift_says_its_indices_that_it_screens_only_and_who_goes_first():
    said = lift_of(24.0)
    assert "about 24 kg (assumed)" in said
    assert "1.2 for one and 0.9 for each of two" in said
    assert "Screening only" in said
    assert said.endswith("local rules on lifting go first.")
    assert "third person" not in said
    assert "safe" not in said.lower()


def test_a_lift_that_is_too_much_for_two_is_not_talked_small():
    assert "If yours weighs as much, call a third person or leave it." in lift_of(40.0)


def test_a_bed_of_unknown_weight_takes_two():
    said = lift_of(0.0)
    assert said.startswith("Two people: nobody knows what this bed weighs.")
    assert "inf" not in said
