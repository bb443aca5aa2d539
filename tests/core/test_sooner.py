"""Rooms wanted earlier than their cycle: vacant for weeks, or furniture moved."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.checks.coverage import last_look
from hotelwatch.core.checks.sooner import PullReason, pulls
from hotelwatch.core.facts import StaysImported
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.rounds.demand import demand
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, rules

ALARM = int(rules().figures.vacant_alarm_days.value)
WITHIN = int(rules().figures.furniture_check_days.value)


def pulled(built, today=0):
    return pulls(built.house, occupancy(built.house, day(today)), day(today))


def room_with(*stays, checked=None):
    built = house().room("101").bed("A")
    if checked is not None:
        built.checked("A", day(checked))
    return built.stays(*(("101", first, last) for first, last in stays))


def test_a_room_vacant_for_weeks_is_wanted_by_its_next_arrival():
    # Kansas K.A.R. 28-36-77(p): a room vacant for 30 days or more, before it is rented.
    assert ALARM == 30
    (pull,) = pulled(room_with((-12, -10), (20, 22))).values()
    assert (pull.room, pull.why, pull.beds) == ("101", PullReason.VACANT_LONG, ("101/A",))
    assert (pull.by_on, pull.from_on) == (day(20), day(-10))
    assert pull.values == {"since": day(-10).isoformat(), "arrival": day(20).isoformat()}


def test_a_day_less_is_not_for_weeks():
    assert not pulled(room_with((-12, -10), (19, 22)))
    assert not pulled(room_with((-12, -10)))
    assert not pulled(room_with((-12, -10), (5, 6), (30, 32)))


def test_a_look_within_as_many_days_before_the_arrival_will_do():
    assert not pulled(room_with((-12, -10), (30, 32), checked=0))
    assert pulled(room_with((-12, -10), (30, 32), checked=-1))


def test_a_vacancy_to_come_is_foreseen():
    (pull,) = pulled(room_with((-2, 4), (40, 42))).values()
    assert (pull.from_on, pull.by_on) == (day(10), day(40))


def test_a_room_that_nobody_had_since_bookings_are_known_counts_as_vacant_since_then():
    built = room_with((10, 12))
    assert not pulled(built)
    built.record(StaysImported("b.csv", "", day(-20), 1, 0))
    (pull,) = pulled(built).values()
    assert pull.values["since"] == day(-20).isoformat()
    late = room_with((10, 12)).record(StaysImported("b.csv", "", day(-19), 1, 0))
    assert not pulled(late)


def moved(first=0, **more):
    return FurnitureMoved("101", "102", day(first), "headboard", **more)


def two_rooms(today=0):
    return house().room("101").bed("A").room("102").bed("A").bed("B").on(today)


def test_both_rooms_are_wanted_soon_after_furniture_moved():
    found = pulled(two_rooms().record(moved()))
    assert list(found) == ["101", "102"]
    assert {pull.why for pull in found.values()} == {PullReason.FURNITURE_MOVED}
    assert {pull.by_on for pull in found.values()} == {day(WITHIN)}
    assert (found["101"].values["other"], found["102"].values["other"]) == ("102", "101")
    assert found["102"].beds == ("102/A", "102/B")


def test_a_look_on_a_later_day_settles_a_move_bed_by_bed():
    built = two_rooms().record(moved()).on(1)
    built.checked("A", day(0))
    assert pulled(built, 1)["102"].beds == ("102/A", "102/B")
    built.checked("A", day(1))
    assert pulled(built, 1)["102"].beds == ("102/B",)
    built.checked("B", day(1))
    assert list(pulled(built, 1)) == ["101"]


def test_a_move_written_down_late_is_not_late_at_once():
    built = two_rooms(today=20).record(moved())
    assert pulled(built, 20)["101"].by_on == day(20 + WITHIN)
    assert pulled(two_rooms().record(moved(3)), 2) == {}


def test_of_two_reasons_the_more_pressing_one_is_told():
    built = room_with((-40, -38), (2, 4)).room("102").bed("A").record(moved())
    assert pulled(built)["101"].why is PullReason.VACANT_LONG
    later = room_with((-20, -18), (12, 14)).room("102").bed("A").record(moved())
    assert pulled(later)["101"].why is PullReason.FURNITURE_MOVED


# --- as demand sees them -------------------------------------------------------------------------


def wanted(built, until, today=0):
    found = demand(built.house, day(today), day(until), pulled=pulled(built, today))
    return {one.room: one for one in found}


def test_a_pulled_room_is_wanted_by_its_earlier_day_with_the_reason():
    built = two_rooms().checked("A", day(0)).checked("B", day(0)).record(moved())
    one = wanted(built, 13)["102"]
    assert (one.due_on, one.bed_due_on) == (day(WITHIN), (day(WITHIN), day(WITHIN)))
    assert (one.earliest_on, one.early_days) == (day(1), WITHIN - 1)
    assert one.pull.why is PullReason.FURNITURE_MOVED
    assert one.by_at is None
    assert wanted(built, 0).keys() & {"102"} == set()


def test_only_what_a_look_would_settle_is_wanted():
    # Vacant until day 60; a look before day 30 would not do.
    built = room_with((-12, -10), (60, 62), checked=0)
    assert "101" not in wanted(built, 29)
    assert wanted(built, 30)["101"].due_on == day(60)


def test_a_room_due_before_its_pull_keeps_its_own_day():
    built = room_with((-40, -38), (25, 26), checked=-90)
    one = wanted(built, 13)["101"]
    assert (one.due_on, one.pull) == (day(1), None)


@given(
    st.lists(
        st.tuples(st.integers(-80, 60), st.integers(1, 10)), max_size=4, unique_by=lambda s: s[0]
    ),
    st.integers(-90, 0),
)
def test_every_vacancy_of_weeks_before_the_next_guest_is_seen_and_no_other(spans, checked):
    stays = []
    for first, nights in sorted(spans):
        if not stays or first >= stays[-1][1]:
            stays.append((first, first + nights))
    built = room_with(*stays, checked=checked)
    arrivals = [first for first, _last in stays if first >= 0]
    expected = None
    if arrivals:
        arrival = min(arrivals)
        left = [last for _first, last in stays if last <= arrival]
        if left and arrival - max(left) >= ALARM and checked < arrival - ALARM:
            expected = arrival
    found = pulled(built)
    assert ({(p.by_on - day(0)).days for p in found.values()} or {None}) == {expected}
    for pull in found.values():
        assert all(last_look(built.house, bed, day(0)) < pull.from_on for bed in pull.beds)
