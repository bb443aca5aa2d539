from __future__ import annotations

from datetime import date

import pytest

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


def test_a_fallback_is_named_or_its_lack():
    assert "Fri 27 Nov" in fallback_sentence(date(2026, 11, 27))
    assert "no other day" in fallback_sentence(None)
