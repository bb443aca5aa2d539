"""One stance's numbers, plain, as the reckoning wants them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds_figures import GrowthCurve, LookKind, OddsRules, Stance


@dataclass(frozen=True, slots=True)
class Look:
    """What one look sees: which part of each place, and how well."""

    seen: tuple[float, ...]
    """0 to 1 for each of PLACES."""
    notice: float
    """Chance that one insect in a part looked at is noticed."""


@dataclass(frozen=True, slots=True)
class Setting:
    """All numbers of one stance; chances 0 to 1, times in days."""

    stance: Stance
    growth: GrowthCurve
    most_insects: float
    vacant_night: float
    """How much a night without guests ages an infestation; a let one counts 1."""
    shares: tuple[float, ...]
    away_share: float
    clumping: float
    highest_chance: float
    introductions_per_stay: float
    stays_per_day: float
    """Of a room of which no bookings are at hand."""
    moved_in: float
    days_before_record: int
    notice: Mapping[str, float]
    """By the figure's key."""
    glance_weight: float
    guest_silence: float
    sign_ratios: Mapping[str, float]
    """By the weight of a sign: weak, moderate, strong."""
    guest_notices: float
    guest_most: float
    spread: Mapping[Kind, float]
    """Chance a day that a heavily infested room infests a neighbour, by kind."""
    spread_half: float
    treatment_success: float
    survivors: float

    def look(self, kind: LookKind) -> Look:
        """A usual kind of look in this stance."""
        return Look(kind.seen, self.notice[kind.notice])


DAYS_A_YEAR = 365.0


def settings_of(rules: OddsRules) -> Mapping[Stance, Setting]:
    """The three settings, in the order of Stance."""
    return {stance: setting_of(rules, stance) for stance in Stance}


def setting_of(rules: OddsRules, stance: Stance) -> Setting:
    """The numbers of one stance."""
    f = rules.figures
    side, across = f.spread_side.of(stance), f.spread_across.of(stance)
    upright = f.spread_above_below.of(stance)
    notices = (f.notice_deep, f.notice_linen, f.notice_glance, f.notice_traps)
    per_year = f.introductions_per_room_year.of(stance)
    return Setting(
        stance=stance,
        growth=rules.growth[rules.growth_by_stance[stance]],
        most_insects=f.most_insects.of(stance),
        vacant_night=f.vacant_night.of(stance),
        shares=rules.shares,
        away_share=f.away_share.of(stance),
        clumping=f.clumping.of(stance),
        highest_chance=f.highest_chance.of(stance),
        introductions_per_stay=per_year / f.stays_per_room_year.of(stance),
        stays_per_day=f.stays_per_room_year.of(stance) / DAYS_A_YEAR,
        moved_in=f.moved_in.of(stance),
        days_before_record=int(f.days_before_record.of(stance)),
        notice={figure.key: figure.of(stance) for figure in notices},
        glance_weight=f.glance_weight.of(stance),
        guest_silence=f.guest_silence.of(stance),
        sign_ratios={
            "weak": f.weak_sign_ratio.of(stance),
            "moderate": f.moderate_sign_ratio.of(stance),
            "strong": f.strong_sign_ratio.of(stance),
        },
        guest_notices=f.guest_notices.of(stance),
        guest_most=f.guest_most.of(stance),
        spread={
            Kind.SHARES_WALL: side,
            Kind.CONNECTS: side,
            Kind.SAME_SUITE: side,
            Kind.ACROSS: across,
            Kind.ABOVE: upright,
            Kind.BELOW: upright,
        },
        spread_half=f.spread_half.of(stance),
        treatment_success=f.treatment_success.of(stance),
        survivors=f.survivors.of(stance),
    )
