from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from hotelwatch.core.rounds.leaning import Fallback
from hotelwatch.wording.forecast import chance_text, fallback_sentence, leaning_sentence


@pytest.mark.parametrize(
    ("chance", "text"),
    [
        (0.0, "less than 1 in 10"),
        (0.04, "less than 1 in 10"),
        (0.06, "about 1 in 10"),
        (0.71, "about 7 in 10"),
        (0.98, "more than 9 in 10"),
    ],
)
def test_a_chance_is_said_in_tenths_and_never_as_certain(chance, text):
    assert chance_text(chance) == text


def test_what_a_visit_leans_on_says_from_where_it_is_known():
    assert leaning_sentence(0.7, nights=365) == (
        "Counts on the room being empty that day, with a chance of about 7 in 10"
        " (learned from this hotel's last 365 nights)."
    )
    assert "last night)" in leaning_sentence(0.7, nights=1)
    assert "assumed" in leaning_sentence(0.7, nights=0)


def test_a_later_day_is_one_to_fall_back_to_and_an_earlier_one_to_be_sure():
    later, earlier = (Fallback(date(2026, 11, 27), is_later, True) for is_later in (True, False))
    assert fallback_sentence(later) == "If a guest is in it, Fri 27 Nov is likely to do."
    assert fallback_sentence(earlier) == (
        "No later day of this plan is in time and likely to do; to be sure, move it to Fri 27 Nov."
    )
    for one in (later, earlier):
        assert fallback_sentence(replace(one, has_minutes=False)) == (
            fallback_sentence(one) + " Another visit of that day would have to give way."
        )


def test_the_lack_of_a_fallback_is_said():
    assert fallback_sentence(None) == (
        "If a guest is in it, no other day of this plan is in time and likely to do."
    )
