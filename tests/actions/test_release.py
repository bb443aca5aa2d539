"""Giving rooms back, reading traps and closing cases, as written to a hotel's file."""

from __future__ import annotations

from datetime import timedelta

import pytest

from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.checks import record_looks
from hotelwatch.actions.choices import choose_rule
from hotelwatch.actions.release import (
    close_case,
    lift_quarantine,
    note_release_word,
    place_monitor,
    read_monitor,
    take_monitor,
)
from hotelwatch.actions.treatment import record_treatment
from hotelwatch.core.case_facts import CaseJudged, NoticeGiven, Outcome, Sighted, Sign
from hotelwatch.core.cases.case import Stage, stage_of
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.checks.monitors import monitors
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead, TreatmentRecorded

ROOM = RoomNo("102")


def log(hotel, sign=Sign.LIVE_INSECT, room=ROOM) -> CaseNo:
    sighted = Sighted(CaseNo(""), room, "", "", sign, 1, "maria", hotel.now())
    return log_sighting(hotel, sighted)


def treat(hotel, case) -> None:
    judge_case(hotel, CaseJudged(case, Outcome.CONFIRMED, "Dr. Vey", "zoologist", hotel.today()))
    record_treatment(
        hotel,
        TreatmentRecorded(case, ROOM, hotel.today(), "heat", "a firm", "L-1", hotel.now()),
    )


def look(hotel) -> None:
    one = full_look(hotel.house, ROOM, on=hotel.today(), by=("a", "b"), kind=CheckKind.CLEARANCE)
    record_looks(hotel, [one])


def give_back(hotel, clock) -> CaseNo:
    case = log(hotel)
    treat(hotel, case)
    for _ in range(4):
        clock.moment += timedelta(days=7)
        look(hotel)
    lift_quarantine(hotel, ROOM, case, by="maria", competence="trained by the firm")
    return case


def code_of(refused) -> str:
    return refused.value.code


def trap(hotel, room=ROOM) -> MonitorPlaced:
    return MonitorPlaced("T1", room, "under a leg", hotel.today(), "ana")


def test_a_case_is_closed_once_sixty_clean_covered_days_have_gone_by(hotel, clock):
    case = give_back(hotel, clock)
    place_monitor(hotel, trap(hotel))
    with pytest.raises(Refusal) as refused:
        close_case(hotel, case, by="maria")
    assert code_of(refused) == "watch_not_over"
    clock.moment += timedelta(days=60)
    read_monitor(hotel, MonitorRead("T1", RoomNo(""), hotel.today(), "ana", 0))
    close_case(hotel, case, by="maria")
    assert stage_of(hotel.house, case) is Stage.CLOSED


def test_a_sign_during_the_watch_joins_the_case_and_one_after_it_opens_a_new_one(hotel, clock):
    case = give_back(hotel, clock)
    clock.moment += timedelta(days=10)
    assert log(hotel) == case
    assert ROOM in hotel.house.quarantined(hotel.now())
    with pytest.raises(Refusal) as refused:
        close_case(hotel, case, by="maria", reason="sold")
    assert code_of(refused) == "rooms_in_quarantine"


def test_a_sign_after_the_closing_opens_a_new_case(hotel, clock):
    case = give_back(hotel, clock)
    close_case(hotel, case, by="maria", reason="the house is sold")
    clock.moment += timedelta(days=1)
    assert log(hotel) != case


def test_a_catch_in_a_trap_closes_the_room_and_asks_for_its_neighbours(hotel, clock):
    place_monitor(hotel, trap(hotel))
    clock.moment += timedelta(days=14)
    read_monitor(hotel, MonitorRead("T1", RoomNo(""), hotel.today(), "ana", 2))
    (case,) = hotel.house.sightings
    (row,) = hotel.house.sightings[case]
    assert (row.fact.room, row.fact.count, row.fact.seen_by) == (ROOM, 2, "ana")
    assert ROOM in hotel.house.quarantined(hotel.now())
    assert stage_of(hotel.house, case) is Stage.SUSPECTED
    assert len(hotel.house.asked[case]) > 1


def test_an_empty_trap_closes_and_opens_nothing(hotel, clock):
    place_monitor(hotel, trap(hotel))
    clock.moment += timedelta(days=14)
    read_monitor(hotel, MonitorRead("T1", RoomNo(""), hotel.today(), "ana", 0))
    assert not hotel.house.sightings
    assert [reading.caught for one in monitors(hotel.house) for reading in one.readings] == [0]


def test_a_trap_moves_with_its_label_and_is_taken_away(hotel, clock):
    place_monitor(hotel, trap(hotel))
    clock.moment += timedelta(days=3)
    place_monitor(hotel, trap(hotel, RoomNo("103")))
    here, gone = monitors(hotel.house)
    assert (here.room, here.is_there) == ("103", True)
    assert (gone.room, gone.taken_on) == (ROOM, hotel.today())
    take_monitor(hotel, "T1", on=hotel.today(), by="ana")
    assert not any(one.is_there for one in monitors(hotel.house))


def test_what_cannot_be_true_of_a_trap_is_refused(hotel, clock):
    today = hotel.today()
    for code, job in {
        "unknown_monitor": lambda: take_monitor(hotel, "T9", on=today, by="ana"),
        "monitor_needs_label": lambda: place_monitor(
            hotel, MonitorPlaced(" ", ROOM, "", today, "a")
        ),
        "who_placed_missing": lambda: place_monitor(
            hotel, MonitorPlaced("T1", ROOM, "", today, "")
        ),
        "unknown_room": lambda: place_monitor(hotel, trap(hotel, RoomNo("999"))),
        "day_to_come": lambda: place_monitor(
            hotel, MonitorPlaced("T1", ROOM, "", today + timedelta(days=1), "ana")
        ),
    }.items():
        with pytest.raises(Refusal) as refused:
            job()
        assert code_of(refused) == code
    place_monitor(hotel, trap(hotel))
    with pytest.raises(Refusal) as refused:
        read_monitor(hotel, MonitorRead("T1", ROOM, today - timedelta(days=1), "ana", 0))
    assert code_of(refused) == "read_before_placed"


def test_where_an_officer_releases_the_word_is_written_down_first(hotel, clock):
    case = log(hotel)
    choose_rule(hotel, "release_by", "health_officer")
    treat(hotel, case)
    for _ in range(4):
        clock.moment += timedelta(days=7)
        look(hotel)
    with pytest.raises(Refusal) as refused:
        lift_quarantine(hotel, ROOM, case, by="maria", competence="trained")
    assert code_of(refused) == "conditions_missing"
    word = NoticeGiven(case, "", "county health office", hotel.now(), "maria", "no. 7")
    for code, wrong in {
        "word_needs_giver": NoticeGiven(case, "", " ", hotel.now(), "maria"),
        "unknown_case": NoticeGiven(CaseNo("x"), "", "an office", hotel.now(), "maria"),
        "room_not_of_case": NoticeGiven(case, "", "an office", hotel.now(), "maria", room="101"),
    }.items():
        with pytest.raises(Refusal) as refused:
            note_release_word(hotel, wrong)
        assert code_of(refused) == code
    note_release_word(hotel, word)
    lift_quarantine(hotel, ROOM, case, by="maria", competence="trained")
    assert stage_of(hotel.house, case) is Stage.RELEASED
