"""What actions write for a sighting, a judgement, a release and a month."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from PIL import Image

from hotelwatch.actions.books import write_book
from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.desk import explain_let, let_of
from hotelwatch.actions.release import lift_quarantine
from hotelwatch.actions.reports import check_file, close_month, month_figures
from hotelwatch.actions.rounds import publish_round, wish_for
from hotelwatch.actions.treatment import record_treatment
from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    PhotoKept,
    QuarantineLifted,
    Sighted,
    Sign,
)
from hotelwatch.core.checks.looking import find, full_look
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo, StaysImported
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.store.photos import photo_path
from tests.build import rules


def sighted(hotel, room, sign=Sign.LIVE_INSECT, **more):
    fact = Sighted(CaseNo(""), room, "", "", sign, 0, "ana", hotel.now())
    return replace(fact, **more)


def judged(hotel, case, outcome):
    return CaseJudged(case, outcome, "J. Marder", "entomologist", hotel.today())


def code_of(refused):
    return refused.value.code


def test_one_entry_holds_the_sighting_and_everything_that_follows_from_it(hotel):
    before = max(hotel.house.entries)
    case = log_sighting(hotel, sighted(hotel, "102"))
    assert max(hotel.house.entries) == before + 1
    assert hotel.house.quarantined(hotel.now()) == {"102"}
    asked = {row.fact.room: row.fact.reasons for row in hotel.house.asked[case]}
    # Both sides, above, and the room itself: practice of both sides, above and below.
    assert asked == {
        "102": ("sighting",),
        "101": ("shares_wall",),
        "103": ("shares_wall",),
        "202": ("above",),
    }


def test_neighbours_can_be_struck_out_but_not_the_room_itself(hotel):
    case = log_sighting(hotel, sighted(hotel, "102"), not_asked=frozenset({"101", "102"}))
    assert {row.fact.room for row in hotel.house.asked[case]} == {"102", "103", "202"}


def test_a_second_sign_in_the_room_joins_its_case(hotel):
    first = log_sighting(hotel, sighted(hotel, "102"))
    second = log_sighting(hotel, sighted(hotel, "102", Sign.DARK_SPOTS))
    assert first == second == "2026-001"
    assert len(hotel.house.sightings[first]) == 2
    assert len(hotel.house.quarantines) == 1


def test_finds_of_one_round_in_two_rooms_open_two_cases(hotel):
    looks = [
        find(
            full_look(hotel.house, room, on=hotel.today(), by=("a", "b"), kind=CheckKind.DEEP),
            f"{room}/A",
            "base_staple_line",
            Sign.LIVE_INSECT,
        )
        for room in ("101", "204")
    ]
    record_looks(hotel, looks)
    assert set(hotel.house.sightings) == {"2026-001", "2026-002"}
    assert hotel.house.quarantined(hotel.now()) == {"101", "204"}


def test_a_photo_is_kept_without_what_else_was_in_its_file(hotel, tmp_path):
    picture = tmp_path / "spot.jpg"
    exif = Image.Exif()
    exif[0x0110] = "Invented camera"
    Image.new("RGB", (30, 20), "white").save(picture, exif=exif)
    case = log_sighting(hotel, sighted(hotel, "102"), photos=[picture])
    kept = hotel.house.all_of(PhotoKept)
    assert [photo.case for photo in kept] == [case]
    stored = photo_path(hotel.path, kept[0].sha256)
    assert stored.stat().st_size == kept[0].size_bytes
    with Image.open(stored) as image:
        assert not image.getexif()


def test_nothing_is_written_where_the_photo_is_none(hotel, tmp_path):
    before = max(hotel.house.entries)
    text = tmp_path / "letter.txt"
    text.write_text("no picture", "utf-8")
    with pytest.raises(Refusal) as refused:
        log_sighting(hotel, sighted(hotel, "102"), photos=[text])
    assert code_of(refused) == "not_a_photo"
    assert max(hotel.house.entries) == before


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"room": "999"}, "unknown_room"),
        ({"seen_by": " "}, "who_saw_missing"),
    ],
)
def test_a_sighting_that_can_t_be_is_refused(hotel, change, code):
    with pytest.raises(Refusal) as refused:
        log_sighting(hotel, replace(sighted(hotel, "102"), **change))
    assert code_of(refused) == code


def test_a_sighting_of_tomorrow_is_refused(hotel):
    fact = sighted(hotel, "102", seen_at=hotel.now() + timedelta(hours=2))
    with pytest.raises(Refusal) as refused:
        log_sighting(hotel, fact)
    assert code_of(refused) == "moment_to_come"


def test_a_quarantine_is_lifted_on_conditions_or_on_a_named_persons_reason(hotel):
    case = log_sighting(hotel, sighted(hotel, "102"))
    with pytest.raises(Refusal) as refused:
        lift_quarantine(hotel, "102", case, by="maria")
    assert code_of(refused) == "conditions_missing"
    with pytest.raises(Refusal) as refused:
        lift_quarantine(hotel, "102", case, by=" ", reason="Wanted.")
    assert code_of(refused) == "lifting_needs_name"
    lift_quarantine(hotel, "102", case, by="maria", reason="Health officer gave it back.")
    lifted = hotel.house.all_of(QuarantineLifted)[0]
    assert (lifted.conditions_met, lifted.reason) == (False, "Health officer gave it back.")
    with pytest.raises(Refusal) as refused:
        lift_quarantine(hotel, "102", case, by="maria")
    assert code_of(refused) == "not_in_quarantine"


def test_a_confirmed_room_is_given_back_after_treatment_and_spaced_clean_checks(hotel, clock):
    case = log_sighting(hotel, sighted(hotel, "102"))
    judge_case(hotel, judged(hotel, case, Outcome.CONFIRMED))
    treated = TreatmentRecorded(
        case, "102", hotel.today(), "heat", "a licensed firm", "L-1", hotel.now()
    )
    record_treatment(hotel, treated)
    figures = rules().figures
    need = int(figures.clean_checks_after_treatment.value)
    for number in range(need):
        with pytest.raises(Refusal):
            lift_quarantine(hotel, "102", case, by="maria")
        clock.moment += timedelta(days=figures.days_between_clean_checks.value)
        look = full_look(
            hotel.house, "102", on=hotel.today(), by=("a", "b"), kind=CheckKind.CLEARANCE
        )
        record_looks(hotel, [look])
        assert number < need
    with pytest.raises(Refusal) as refused:
        lift_quarantine(hotel, "102", case, by="maria")
    assert code_of(refused) == "lifting_needs_competence"
    lift_quarantine(hotel, "102", case, by="maria", competence="trained by the firm")
    assert hotel.house.quarantined(hotel.now()) == frozenset()


def test_a_judgement_needs_a_name_and_a_competence(hotel):
    case = log_sighting(hotel, sighted(hotel, "102"))
    for change, code in (
        ({"judged_by": ""}, "who_judged_missing"),
        ({"competence": " "}, "competence_missing"),
        ({"case": CaseNo("2026-999")}, "unknown_case"),
    ):
        with pytest.raises(Refusal) as refused:
            judge_case(hotel, replace(judged(hotel, case, Outcome.CONFIRMED), **change))
        assert code_of(refused) == code


def test_a_round_is_published_once_and_the_same_draft_again_writes_nothing(hotel):
    draft = plan_rounds(hotel.house, hotel.occupancy(), wish_for(hotel, 7))
    assert draft.slots
    publish_round(hotel, draft)
    published = max(hotel.house.entries)
    assert tuple(s for slots in hotel.house.slots.values() for s in slots) == draft.promised
    publish_round(hotel, draft)
    assert max(hotel.house.entries) == published


def test_a_month_is_closed_once_and_only_when_it_is_over(hotel, clock, tmp_path):
    with pytest.raises(Refusal) as refused:
        close_month(hotel, "2026-03")
    assert code_of(refused) == "month_not_over"
    clock.moment += timedelta(days=30)
    close_month(hotel, "2026-03")
    with pytest.raises(Refusal) as refused:
        close_month(hotel, "2026-03")
    assert code_of(refused) == "month_closed_already"
    write_book(hotel.path, rules(), "2026-03", tmp_path / "march.xlsx", hotel.now())
    told = month_figures(hotel.path, rules(), "2026-03", hotel.now())
    assert told.account.closed_by == "maria"
    assert check_file(hotel.path).is_sound


def test_a_month_in_which_a_blocked_room_was_let_is_closed_once_that_is_explained(hotel, clock):
    # Check case K15 of common practice: such a month can't be signed without a note.
    log_sighting(hotel, sighted(hotel, "102"))
    clock.moment += timedelta(days=2)
    today = hotel.today()
    stay = Stay("b1", "102", "", today, today + timedelta(days=1), StayStatus.IN_HOUSE)
    hotel.record_stays([stay], StaysImported("list.csv", "0" * 64, today, 1, 0))
    clock.moment += timedelta(days=30)
    with pytest.raises(Refusal) as refused:
        close_month(hotel, "2026-03")
    assert code_of(refused) == "let_not_explained"
    assert refused.value.values == {"room": "102", "day": today.isoformat()}
    let = let_of(hotel, RoomNo("102"), today)
    for note, by, code in (("", "ines", "let_needs_note"), ("a reason", " ", "let_needs_name")):
        with pytest.raises(Refusal) as refused:
            explain_let(hotel, let, note=note, by=by)
        assert code_of(refused) == code
    explain_let(hotel, let, note="Sold by phone before the list came.", by="ines")
    close_month(hotel, "2026-03")
    told = let_of(hotel, RoomNo("102"), today)
    assert (told.explained, told.explained_by) == ("Sold by phone before the list came.", "ines")


def test_a_treatment_is_written_down_for_rooms_of_its_case_only(hotel):
    case = log_sighting(hotel, sighted(hotel, "102"))
    treated = TreatmentRecorded(
        case, "204", hotel.today(), "heat", "a licensed firm", "L-1", hotel.now()
    )
    with pytest.raises(Refusal) as refused:
        record_treatment(hotel, treated)
    assert code_of(refused) == "room_not_of_case"
    record_treatment(hotel, replace(treated, room="103"))
    assert hotel.house.all_of(TreatmentRecorded)[0].room == "103"


def test_no_room_stays_closed_when_the_last_of_two_mistaken_signs_is_taken_back(hotel):
    first = log_sighting(hotel, sighted(hotel, "102"))
    one = max(hotel.house.entries)
    log_sighting(hotel, sighted(hotel, "102", Sign.EGGS))
    two = max(hotel.house.entries)
    take_back(hotel, one, reason="Another room was meant.")
    # The eggs still hold the room.
    assert hotel.house.quarantined(hotel.now()) == {"102"}
    take_back(hotel, two, reason="Those as well.")
    assert hotel.house.quarantined(hotel.now()) == frozenset()
    assert first not in hotel.house.sightings
    (given_back,) = hotel.house.all_of(QuarantineLifted)
    assert given_back.reason == "Those as well."
    assert given_back.by == hotel.by
