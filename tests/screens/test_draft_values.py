from __future__ import annotations

import json
from dataclasses import replace

import pytest

from hotelwatch.actions.checks import record_looks
from hotelwatch.core.case_facts import Sign
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.checks.place_looks import find_signs, leave
from hotelwatch.core.facts import CheckKind
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.checks.draft import draft_of_entry, new_draft
from hotelwatch.screens.checks.draft_values import draft_from, values_of
from tests.build import day, house, moment


@pytest.fixture
def hotel(make_hotel):
    build = house()
    build.room("101").bed("A").bed("B", "slats").room("102").bed("A", encased=True)
    return make_hotel(build)


def typed(draft):
    """A draft in which a person said something of everything."""
    look = leave(draft.look, "101/A", "base_underside", "no_time")
    look = find_signs(look, "101/B", "slats", (Sign.LIVE_INSECT, Sign.DARK_SPOTS))
    look = leave(look, "", "skirting", "other")
    look = replace(look, noted="Lampe „neu“", found_at=moment(39, 21), checked_on=day(39))
    return replace(draft, look=look)


def test_a_draft_goes_through_json_and_comes_back_the_same(hotel):
    draft = typed(new_draft(hotel, "101", ("Anna", "Boris")))
    again = draft_from(hotel, json.loads(json.dumps(values_of(draft))))
    assert again == draft
    assert again.is_begun


def test_a_draft_nobody_touched_comes_back_untouched(hotel):
    draft = new_draft(hotel, "102", ("Anna",))
    assert not draft_from(hotel, values_of(draft)).is_begun


def test_a_correction_keeps_its_entry_and_its_reason(hotel):
    look = full_look(hotel.house, "101", on=day(40), by=("Anna", "Boris"), kind=CheckKind.DEEP)
    record_looks(hotel, [look])
    entry = max(hotel.house.entries)
    draft = replace(typed(draft_of_entry(hotel, entry, "101")), reason="typed the wrong bed")
    again = draft_from(hotel, json.loads(json.dumps(values_of(draft))))
    assert again == draft
    assert (again.corrects, again.reason) == (entry, "typed the wrong bed")


def test_a_room_or_an_entry_that_is_gone_is_refused(hotel):
    values = values_of(new_draft(hotel, "101", ("Anna",)))
    gone = {**values, "look": {**values["look"], "room": "999"}}
    with pytest.raises(Refusal, match="unknown_room"):
        draft_from(hotel, gone)
    with pytest.raises(Refusal, match="no_such_entry"):
        draft_from(hotel, {**values, "corrects": 999})


@pytest.mark.parametrize(
    "values",
    [
        {},
        {"look": {}},
        {"look": None},
        {"look": {"room": "101", "by": "Anna"}},
        {"look": "101"},
    ],
)
def test_what_is_no_check_is_told(hotel, values):
    with pytest.raises(ValueError, match="not the values of a check"):
        draft_from(hotel, values)


def test_a_wrong_day_or_kind_is_told(hotel):
    values = values_of(new_draft(hotel, "101", ("Anna",)))
    for wrong in ({"checked_on": "yesterday"}, {"kind": "guess"}, {"found_at": "noon"}):
        with pytest.raises(ValueError):  # noqa: PT011 each has the words of what reads it
            draft_from(hotel, {**values, "look": {**values["look"], **wrong}})
