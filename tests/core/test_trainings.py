from __future__ import annotations

from hotelwatch.core.people_facts import (
    PersonDescribed,
    StaffRole,
    TrainingRecorded,
    TrainingTopic,
)
from hotelwatch.core.trainings import overdue, training_states
from tests.build import day, house


def trained(person, topic, on):
    return TrainingRecorded(person, topic, "español", day(on), "mira")


def states_of(built, today):
    return {(s.person, s.subject): s for s in training_states(built.house, day(today))}


def test_a_training_comes_again_a_year_later():
    # Cal. Code Regs. title 8 § 3345, as digests have it: every year.
    built = house().record(PersonDescribed("ana", StaffRole.HOUSEKEEPER, "x"))
    built.record(trained("ana", TrainingTopic.LIFTING, 10))
    key = ("ana", TrainingTopic.LIFTING)
    assert states_of(built, 375)[key].due_on == day(375)
    assert not states_of(built, 375)[key].is_overdue
    assert states_of(built, 376)[key].is_overdue
    built.record(trained("ana", TrainingTopic.LIFTING, 376))
    assert not states_of(built, 376)[key].is_overdue


def test_each_role_needs_its_topics_and_a_manager_none():
    built = house()
    for name, role in (("ana", StaffRole.EXECUTIVE), ("ben", StaffRole.FRONT_DESK)):
        built.record(PersonDescribed(name, role, "x"))
    built.record(PersonDescribed("gm", StaffRole.MANAGER, "x"))
    late = overdue(training_states(built.house, day(1)))
    assert {s.person for s in late} == {"ana", "ben"}
    assert [s.subject for s in late if s.person == "ben"] == [TrainingTopic.RESPONSE]
    assert len([s for s in late if s.person == "ana"]) == len(TrainingTopic)


def test_who_looks_at_beds_counts_and_who_has_left_does_not():
    built = house().room("101").bed("A").checked("A", day(3), by=("carla", "dora"))
    built.record(PersonDescribed("dora", StaffRole.HOUSEKEEPER, "x"))
    built.record(PersonDescribed("dora", StaffRole.HOUSEKEEPER, "x", in_use=False))
    assert {person for person, _topic in states_of(built, 20)} == {"carla"}


def test_a_training_of_a_day_to_come_does_not_count_yet():
    built = house().record(PersonDescribed("ana", StaffRole.ENGINEER, "x"))
    built.record(trained("ana", TrainingTopic.SIGNS, 30))
    assert states_of(built, 20)["ana", TrainingTopic.SIGNS].last is None
