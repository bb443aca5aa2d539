"""Write down who was trained in what."""

from __future__ import annotations

from dataclasses import replace

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.people_facts import TrainingRecorded
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes


def record_training(hotel: OpenHotel, told: TrainingRecorded) -> Changes:
    """Write down a training.

    Refusal("training_needs_name"), ("training_needs_language"), ("training_needs_trainer"),
    ("day_to_come"); Denied by role.
    """
    person, language, by = told.person.strip(), told.language.strip(), told.by.strip()
    if not person:
        raise Refusal("training_needs_name")
    if not language:
        raise Refusal("training_needs_language", person=person)
    if not by:
        raise Refusal("training_needs_trainer", person=person)
    if told.on > hotel.today():
        raise Refusal("day_to_come", day=told.on.isoformat())
    fact = replace(told, person=person, language=language, by=by)
    return hotel.record(lambda _house: [fact], action="record_training")
