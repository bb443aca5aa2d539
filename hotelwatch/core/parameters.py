"""Figures with their unit, range, standing and source, and the rules made of them.

Filled from resources/parameters.toml: each field here is one table there, so a
misspelt figure is a type error and a forgotten one is a failing test.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from hotelwatch.core.beds import BedKind, Place
from hotelwatch.core.odds_figures import OddsRules
from hotelwatch.core.profile import Profile
from hotelwatch.core.standing import Standing


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its unit, its range, how well it is known and from where."""

    key: str
    value: float
    low: float
    high: float
    unit: str
    standing: Standing
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class Figures:
    """Every figure the core uses, by name."""

    cycle_days: Figure
    room_setup_minutes: Figure
    team_day_minutes: Figure
    team_people: Figure
    plan_days: Figure
    early_share: Figure
    neighbour_check_hours: Figure
    link_check_hours: Figure
    look_back_days: Figure
    group_rooms: Figure
    whole_floor_share: Figure
    reporter_answer_hours: Figure
    treat_days: Figure
    evaluate_days: Figure
    rules_compared_days: Figure
    specimen_hours: Figure
    visit_written_hours: Figure
    clean_checks_after_treatment: Figure
    clean_checks_undetermined: Figure
    days_between_clean_checks: Figure
    clean_checks_held: Figure
    full_checks_after_treatment: Figure
    trap_readings_wanted: Figure
    trap_days: Figure
    room_celsius: Figure
    egg_threshold_celsius: Figure
    egg_degree_days: Figure
    egg_slowest_share: Figure
    growth_threshold_celsius: Figure
    growth_degree_days: Figure
    fast_threshold_celsius: Figure
    fast_degree_days: Figure
    known_from_celsius: Figure
    known_until_celsius: Figure
    tropical_egg_days: Figure
    tropical_celsius: Figure
    chemical_first_days: Figure
    chemical_second_days: Figure
    chemical_third_days: Figure
    heat_first_days: Figure
    heat_second_days: Figure
    heat_third_days: Figure
    usual_judgement_days: Figure
    usual_treatment_days: Figure
    usual_look_wait_days: Figure
    usual_word_days: Figure
    watch_days: Figure
    watch_check_days: Figure
    starved_adult_days: Figure
    last_nymph_days: Figure
    last_female_days: Figure
    last_male_days: Figure
    bay_width_m: Figure
    room_depth_m: Figure
    corridor_width_m: Figure
    floor_height_m: Figure
    wall_gap_m: Figure
    shared_wall_m: Figure
    overlap_m2: Figure
    least_room_m2: Figure
    across_overlap_m: Figure
    corridors_meet_m: Figure
    stair_metres_per_storey: Figure
    lift_ride_metres: Figure
    walking_m_per_minute: Figure
    vacant_alarm_days: Figure
    risk_found_days: Figure
    furniture_check_days: Figure
    visit_wait_days: Figure
    pace_days: Figure
    usual_occupancy: Figure
    usual_goes_on: Figure
    learning_nights: Figure
    booked_late_a_day: Figure
    bookings_lost_a_day: Figure
    guesses_moved_a_day: Figure
    closed_without_notice: Figure
    certain_enough: Figure
    edge_reach_cm: Figure
    edge_height_cm: Figure
    edge_travel_cm: Figure
    two_people_share: Figure
    dog_detection: Figure
    dog_false_positive: Figure
    visual_detection: Figure
    corridor_minutes: Figure
    minute_worth: Figure
    alone_share: Figure
    ageing_cycles: Figure
    moved_worth: Figure
    firm_times: Figure
    promised_days: Figure
    surprise_share: Figure
    kept_night_minutes: Figure
    encasing_minutes: Figure
    longer_window_minutes: Figure
    nights_asked_most: Figure
    recent_look_days: Figure
    egg_kill_minutes: Figure
    egg_at_celsius: Figure
    egg_tenfold_celsius: Figure
    egg_floor_celsius: Figure
    adult_kill_minutes: Figure
    adult_at_celsius: Figure
    adult_tenfold_celsius: Figure
    adult_floor_celsius: Figure
    heat_cap_celsius: Figure
    heat_dose_wanted: Figure
    plain_heat_celsius: Figure
    plain_heat_minutes: Figure
    cold_kill_hours: Figure
    cold_at_celsius: Figure
    cold_slope: Figure
    cold_floor_celsius: Figure
    cold_cap_celsius: Figure
    cold_dose_wanted: Figure
    probe_gap_minutes: Figure
    probe_jump_celsius: Figure
    probe_stuck_minutes: Figure
    wash_celsius: Figure
    dryer_celsius: Figure
    dryer_minutes: Figure
    guest_move_hours: Figure
    arrivals_ahead_hours: Figure
    trials_before_learned: Figure
    trials_before_own: Figure
    blind_pair_hours: Figure
    repeat_look_days: Figure
    pin_least_digits: Figure
    pin_free_tries: Figure
    pin_wait_seconds: Figure
    pin_wait_most_minutes: Figure
    pin_counted_hours: Figure
    idle_lock_minutes: Figure
    training_again_days: Figure
    backup_all_days: Figure
    backup_daily_days: Figure
    backup_monthly_years: Figure


class Evidence(StrEnum):
    """How much a sign says, from the most to the least."""

    STRONG = "strong"
    MODERATE = "moderate"
    WEAK = "weak"


@dataclass(frozen=True, slots=True)
class SignWeight:
    """How much one kind of sign says, how well that is known and from where."""

    sign: str
    """A code of facts.Sign."""
    weight: Evidence
    standing: Standing
    source: str
    note: str
    after_treatment: Evidence | None = None
    """Its weight in a room that was treated before; None: the same."""


@dataclass(frozen=True, slots=True)
class Response:
    """What signs of a weight set going at first, beside closing the room."""

    asks_ring: bool
    """Whether the rooms around are looked at as well."""
    wants_judgement: bool
    """Whether a competent person is to judge, with a specimen if there is one."""
    standing: Standing
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class Lookalike:
    """What is often taken for a bed bug."""

    code: str
    name: str
    marks: str
    """By what a competent person tells it apart."""
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class Rules:
    """Sourced figures, kinds of bed and weights of signs, as the program ships them."""

    figures: Figures
    bed_kinds: Mapping[str, BedKind]
    room_places: tuple[Place, ...]
    """Places of a room beside its beds, in looking order."""
    form_version: int
    """Which places a check asks for, in which order: a number, from 1, that grows."""
    evidence: Mapping[str, SignWeight]
    """The weight of every sign, by its code."""
    responses: Mapping[Evidence, Response]
    """What signs of each weight set going."""
    lookalikes: Mapping[str, Lookalike]
    profiles: Mapping[str, Profile]
    """Sets of local rules, by key; the first one is that of a hotel that chose none."""
    odds: OddsRules

    def with_chosen(self, chosen: Mapping[str, float]) -> Rules:
        """These rules with a hotel's own values of some figures; unknown keys are left out."""
        own = {
            key: replace(figure, value=value, standing=Standing.CHOSEN)
            for key, value in chosen.items()
            if (figure := getattr(self.figures, key, None)) is not None
        }
        return replace(
            self,
            figures=replace(self.figures, **own),
            odds=self.odds.with_chosen(chosen),
        )
