"""When eggs hatch and grow, by temperature."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from hotelwatch.core.checks.eggs import EggsUnknown, egg_dates, egg_times
from hotelwatch.core.choice_facts import FigureChosen, RuleChosen
from tests.build import house

TREATED = date(2025, 3, 31)


# Omori 1941, Usinger 1966 as usually quoted (from memory): eggs hatch after 10 to 12 days
# at 22 °C, 6 to 7 at 27, 5 to 6 at 30, 20 to 22.5 at 18; all ±15 %.
@pytest.mark.parametrize(
    ("celsius", "least", "most"), [(22, 11, 12), (27, 6.5, 7), (30, 5, 6), (18, 22, 22.5)]
)
def test_eggs_hatch_as_published(celsius, least, most):
    times = egg_times(house().house, celsius)
    assert least <= times.egg_days <= most
    assert times.slowest_days == pytest.approx(times.egg_days * 1.15)


# Published spans: 24 days at 30 °C and 128 at 18 (Johnson 1941, Omori 1941, Usinger 1966,
# from memory), about 52 at 22; about 33 at 27 with three days until a female lays
# (life table of Polanco et al. 2011: 35 to 40 days at 26 to 27 °C, egg to adult).
@pytest.mark.parametrize(
    ("celsius", "days", "within"), [(30, 24, 0.5), (18, 128, 2), (22, 52, 1), (27, 33, 3.3)]
)
def test_an_egg_is_an_adult_as_published(celsius, days, within):
    times = egg_times(house().house, celsius)
    assert times.adult_days == pytest.approx(days, abs=within)
    assert times.slowest_days < times.fastest_adult_days <= times.adult_days


def test_a_look_after_14_days_is_too_early_in_a_cold_room():
    built = house().house
    assert egg_dates(built, TREATED, 18).hatched_on > TREATED + timedelta(days=14)
    assert egg_dates(built, TREATED, 22).hatched_on == date(2025, 4, 13)
    assert egg_dates(built, TREATED, 22).adult_on == date(2025, 5, 22)
    assert egg_dates(built, TREATED, 22).lays_from == date(2025, 5, 16)


@pytest.mark.parametrize(
    ("celsius", "why"),
    [(16.9, EggsUnknown.TOO_COLD), (15, EggsUnknown.TOO_COLD), (33.1, EggsUnknown.TOO_WARM)],
)
def test_nothing_is_said_where_the_formula_was_not_derived(celsius, why):
    dates = egg_dates(house().house, TREATED, celsius)
    assert dates.times.why_not is why
    assert (dates.hatched_on, dates.adult_on, dates.lays_from) == (None, None, None)


def test_the_hotels_own_temperature_counts():
    built = house().record(FigureChosen("room_celsius", 27, "measured in ten rooms"))
    assert egg_dates(built.house, TREATED).hatched_on == date(2025, 4, 8)


# How and Lee 2010, Med Vet Entomol 24:108 (from memory): 5 to 7 days at 26 ± 2 °C.
def test_the_tropical_species_is_known_near_one_temperature():
    built = house().record(RuleChosen("species", "tropical")).house
    assert (egg_times(built, 26).egg_days, egg_times(built, 26).slowest_days) == (6, 7)
    assert egg_times(built, 24).slowest_days == egg_times(built, 28).slowest_days == 7
    for celsius in (22, 23.9, 28.1):
        assert egg_times(built, celsius).why_not is EggsUnknown.SPECIES
        assert egg_times(built, celsius).slowest_days is None
    assert egg_times(built, 26).adult_days is None
