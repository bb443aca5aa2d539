"""What people agreed to: looks while a guest stays, and nights kept free."""

from __future__ import annotations

from hotelwatch.core.facts import StaysImported
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import NightAnswered, NightAsked, VisitArranged, VisitDeclined
from hotelwatch.core.stays.agreed import asked_nights, declined_visits
from hotelwatch.core.stays.kept_nights import sold_nights
from hotelwatch.core.stays.openings import OpeningKind, occupancy
from tests.build import day, house


def let(*stays):
    return house().room("101").bed("A").on(2).stays(*(("101", *span) for span in stays))


def visit(on=5, **more):
    return VisitArranged("101", day(on), "10:00", "11:30", "maria", **more)


def opening(built, on, today=2):
    return occupancy(built.house, day(today)).opening("101", day(on))


def test_a_room_let_for_weeks_can_be_entered_as_agreed_with_its_guest():
    built = let((0, 40))
    assert opening(built, 5) is None
    found = opening(built.record(visit()), 5)
    assert found.kind is OpeningKind.ARRANGED
    assert (found.from_clock, found.until_clock) == ("10:00", "11:30")
    assert opening(built, 6) is None
    assert opening(built.record(visit(holds=False)), 5) is None


def test_where_nobody_stays_over_the_bookings_tell_when_it_can_be_entered():
    built = let((0, 5)).record(visit())
    assert opening(built, 5).kind is OpeningKind.AFTER_DEPARTURE
    assert opening(built.stays(("101", 5, 9)), 5).kind is OpeningKind.TURNOVER


def test_a_guest_who_came_later_agreed_to_nothing():
    # Written down on day 2; the guest of day 5 came on day 3.
    built = let((0, 3), (3, 40)).record(visit())
    assert opening(built, 5) is None
    assert opening(let((0, 2), (2, 40)).record(visit()), 5).kind is OpeningKind.ARRANGED


def test_the_latest_hours_count():
    built = let((0, 40)).record(visit())
    built.record(VisitArranged("101", day(5), "14:00", "15:00", "maria"))
    assert opening(built, 5).from_clock == "14:00"


def no(on=2, **more):
    return VisitDeclined("101", day(on), "maria", **more)


def is_standing(built, on):
    stay = occupancy(built.house, day(2)).stay_on("101", day(on))
    return any(one.stands(stay, day(on)) for one in declined_visits(built.house).get("101", ()))


def test_a_yes_that_is_called_off_leaves_the_no_standing_again():
    built = let((0, 40)).record(no()).on(4).record(visit(8))
    built.on(6).record(visit(8, holds=False))
    assert [on for on in range(10) if is_standing(built, on)] == [2, 3, 6, 7, 8, 9]
    built.on(8).record(visit(9))
    assert [on for on in range(10) if is_standing(built, on)] == [2, 3, 6, 7]


def test_a_no_stands_from_the_day_asked_until_its_guest_leaves():
    built = let((0, 6), (6, 40)).record(no())
    # Asked on day 2; the guest who comes on day 6 was asked nothing.
    assert [on for on in range(10) if is_standing(built, on)] == [2, 3, 4, 5]
    assert opening(built, 4) is None


def test_a_yes_ends_a_no_and_a_later_no_begins_anew():
    built = let((0, 40)).record(no()).on(4).record(visit(8))
    assert [on for on in range(10) if is_standing(built, on)] == [2, 3]
    built.on(6).record(no(6), visit(8, holds=False))
    assert [on for on in range(10) if is_standing(built, on)] == [2, 3, 6, 7, 8, 9]
    assert opening(built, 8, today=6) is None


def test_a_no_written_down_after_a_later_yes_does_not_outlast_it():
    built = let((0, 40)).on(4).record(visit(8)).record(no(2))
    assert [on for on in range(10) if is_standing(built, on)] == [2, 3]


# --- kept nights ----------------------------------------------------------------------------------


def ask(night=4, **more):
    return NightAsked("101", day(night), "overdue", **more)


def answer(night=4, is_kept=True):
    return NightAnswered("101", day(night), is_kept, "desk")


def states(built, today=2):
    return [one.is_kept for one in asked_nights(built.house, day(today))]


def test_a_night_waits_for_an_answer_and_again_when_asked_again():
    built = let().record(ask())
    assert states(built) == [None]
    assert states(built.record(answer(is_kept=False))) == [False]
    assert states(built.record(ask())) == [None]
    assert states(built.record(answer())) == [True]
    assert states(built, today=5) == []
    assert states(built.record(ask(holds=False))) == []


def test_a_note_comes_with_the_answer_and_goes_when_asked_again():
    built = let().record(ask())
    built.record(NightAnswered("101", day(4), False, "desk", "fair that week"))
    (told,) = asked_nights(built.house, day(2))
    assert (told.is_kept, told.note) == (False, "fair that week")
    (told,) = asked_nights(built.record(ask()).house, day(2))
    assert (told.is_kept, told.note) == (None, "")


def loaded():
    return StaysImported("b.csv", "0", day(2), 1, 0)


def test_a_night_kept_free_that_bookings_loaded_since_have_sold_is_told():
    """A guest comes on the night asked for: front desk kept it, and sold it all the same."""

    def sold(built):
        seen = occupancy(built.house, day(2))
        return [(one.room, one.night) for one in sold_nights(built.house, seen, day(2))]

    built = let((4, 6)).record(loaded()).record(ask())
    assert sold(built) == []
    # Before bookings are loaded anew, that guest may be given another room yet.
    assert sold(built.record(answer())) == []
    assert sold(built.record(loaded())) == [("101", day(4))]
    # Nor is a word broken that front desk did not give.
    assert sold(built.record(answer(is_kept=False)).record(loaded())) == []
    assert sold(let((5, 7)).record(ask()).record(answer()).record(loaded())) == []


def test_an_answer_before_the_question_counts_for_nothing():
    assert states(let().record(answer()).record(ask())) == [None]


def test_nights_stand_in_order_with_their_answers():
    built = let().room("102").record(NightAsked("102", day(4), "b"), ask(6), ask(4))
    built.record(NightAnswered("102", day(4), True, "desk"))
    told = [(one.night, one.room, one.answered_by) for one in asked_nights(built.house, day(2))]
    assert told == [(day(4), "101", ""), (day(4), "102", "desk"), (day(6), "101", "")]


def two_doubles(*facts):
    built = house().room("101", room_type="D").room("102", room_type="D").on(2)
    for fact in facts:
        built.record(fact)
    built.house = built.house.with_stays(
        [Stay("b1", "", "D", day(3), day(6)), Stay("b2", "", "D", day(8), day(9))]
    )
    return occupancy(built.house, day(2))


def test_nobody_is_placed_in_a_room_for_a_night_that_is_kept():
    assert two_doubles().stay_on("101", day(4)).booking == "b1"
    seen = two_doubles(ask(), answer())
    assert seen.stay_on("101", day(4)) is None
    assert seen.stay_on("102", day(4)).booking == "b1"
    assert seen.opening("101", day(4)).kind is OpeningKind.ALL_DAY
    assert seen.stay_on("101", day(8)).booking == "b2"
    for unkept in ([ask()], [ask(), answer(is_kept=False)], [ask(), answer(), ask(holds=False)]):
        assert two_doubles(*unkept).stay_on("101", day(4)).booking == "b1"


def test_a_booking_that_front_desk_gave_the_room_stays_there():
    built = let((3, 6)).record(ask()).record(answer())
    assert occupancy(built.house, day(2)).stay_on("101", day(4)) is not None


def test_a_night_that_front_desk_keeps_waits_for_the_booking_to_leave_the_room():
    built = let((4, 7))
    seen = occupancy(built.house, day(2))
    nights = {n: seen.is_given("101", day(n)) for n in (3, 4, 6, 7)}
    assert nights == {3: False, 4: True, 6: True, 7: False}
    assert not seen.is_given("102", day(4))
