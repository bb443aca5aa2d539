"""What one window decides while another has written: the house as it is then counts."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from hotelwatch.actions.cases import judge_case, log_sighting
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.desk import front_desk
from hotelwatch.actions.hotel import choose_cycle
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.actions.treatment import record_treatment
from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    CaseNo,
    RoomDescribed,
    RoomNo,
    Scope,
    Side,
    StaysImported,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Stay
from hotelwatch.core.treatment_facts import TreatmentRecorded
from tests.build import rules

NEW = RoomNo("105")


@pytest.fixture
def other(hotel, clock):
    other = open_hotel(hotel.path, rules(), clock=clock, by="second desk")
    yield other
    other.close()


def sighted(hotel, room):
    return Sighted(CaseNo(""), RoomNo(room), "", "", Sign.LIVE_INSECT, 0, "ana", hotel.now())


def judged(hotel, case):
    return CaseJudged(case, Outcome.CONFIRMED, "J. Marder", "entomologist", hotel.today())


def add_room(hotel):
    room = RoomDescribed(NEW, "1", "", Side.LEFT, 5, "Double")
    bed = BedDescribed(BedNo(f"{NEW}/A"), NEW, "box_spring")
    hotel.record(lambda _: [room, bed], action="load_roster")


def test_a_neighbour_that_another_window_put_on_the_roster_is_asked_for(hotel, other):
    add_room(hotel)
    case = log_sighting(other, sighted(other, "104"))
    assert {row.fact.room for row in other.house.asked[case]} == {"104", "103", "204", NEW}
    assert other.neighbours() == hotel.neighbours()


def test_a_case_that_another_window_opened_can_be_judged_and_treated(hotel, other):
    case = log_sighting(other, sighted(other, "102"))
    judge_case(hotel, judged(hotel, case))
    treated = TreatmentRecorded(
        case, RoomNo("102"), hotel.today(), "heat", "firm", "L-1", hotel.now()
    )
    record_treatment(hotel, treated)
    assert hotel.house.kept_of_case(TreatmentRecorded, case)
    with pytest.raises(Refusal, match="unknown_room"):
        record_treatment(hotel, replace(treated, room=RoomNo("999")))


def test_a_case_that_another_window_took_back_is_not_judged(hotel, other):
    case = log_sighting(hotel, sighted(hotel, "102"))
    other.refresh()
    take_back(hotel, max(hotel.house.entries), reason="wrong room")
    with pytest.raises(Refusal, match="unknown_case"):
        judge_case(other, judged(other, case))
    assert not other.house.all_of(CaseJudged)


def test_a_cycle_is_chosen_for_a_room_that_another_window_added(hotel, other):
    add_room(hotel)
    choose_cycle(other, Scope.ROOM, NEW, 30)
    assert other.house.cycle_of(NEW) == 30


def test_front_desk_reads_the_same_in_this_window_and_in_one_opened_afterwards(hotel, clock):
    nights = date(2026, 3, 9), date(2026, 3, 20)
    taken = [Stay(f"b{no}", no, "Double", *nights) for no in hotel.house.rooms if no != "102"]
    stays = [*taken[:-1], Stay("open", "", "Double", *nights)]
    hotel.record_stays(stays, StaysImported("list.csv", "0" * 64, hotel.today(), 7, 0))
    # The booking without a room was foreseen in 102, the first that is free.
    assert hotel.occupancy().stays_by_room[RoomNo("102")][0].booking == "open"
    log_sighting(hotel, sighted(hotel, "102"))
    later = open_hotel(hotel.path, rules(), clock=clock, by="second desk")
    assert front_desk(hotel) == front_desk(later)
    assert hotel.occupancy().stays_by_room[RoomNo("204")][0].booking == "open"
    later.close()
