"""A set of local rules under which a hotel answers a sign: clauses, ring, who releases.

Profiles are examples read from published rules, never advice: each clause says where it
was read and how, and the hotel says who compared it with the law in force.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from hotelwatch.core.rule_facts import Asks, HowRead, RuleClause
from hotelwatch.core.standing import Standing

SHIPPED_PROFILE = "house"
"""The profile of a hotel that chose none."""


class Unit(StrEnum):
    """In what a clock counts."""

    HOURS = "hours"
    """Real hours, whatever clocks do."""
    CALENDAR_DAYS = "calendar_days"
    BUSINESS_DAYS = "business_days"
    """Mondays to Fridays that are no public holiday."""
    WORKING_DAYS = "working_days"
    """Days on which the house is not closed."""


class Start(StrEnum):
    """From which event a clock runs."""

    SIGHTING = "sighting"
    REPORT = "report"
    """The first sign that a guest told."""
    CONFIRMATION = "confirmation"
    TREATMENT = "treatment"


class Hold(StrEnum):
    """What happens to neighbours while nobody has looked at them."""

    HOLD = "hold"
    """Closed to guests as well."""
    INSPECT_THEN_SELL = "inspect_then_sell"
    """Not to be let before somebody has looked."""
    INSPECT = "inspect"
    """Looked at by the deadline; let meanwhile."""


class Releaser(StrEnum):
    """Whose word gives a confirmed room back."""

    HOTEL = "hotel"
    LICENSED = "licensed"
    HEALTH_OFFICER = "health_officer"


@dataclass(frozen=True, slots=True)
class Clock:
    """By when a duty is to be done."""

    duty: str
    """A code of core.local_rules.duties."""
    amount: int
    unit: Unit
    starts: Start
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class Profile:
    """A set of local rules."""

    key: str
    name: str
    """As shown; a place's rules bear its name."""
    ring_kinds: tuple[str, ...]
    """Kinds of neighbour that are looked at, codes of core.building.neighbours."""
    ring_radius: int
    """How many rooms each way."""
    hold: Hold
    confirming_signs: tuple[str, ...]
    """Signs that count as an infestation by themselves, codes of Sign."""
    release_by: Releaser
    keeps_years: int
    """For how many years records are kept after a case was closed."""
    authority: str
    """Who is to be told, in words; empty if nobody."""
    clauses: tuple[RuleClause, ...]
    standing: Standing
    source: str
    note: str
    place: str = ""
    """Where its texts bind; empty for a way of working that no text asks for."""
    file_name: str = ""
    """Of the hotel's own file; empty for a set that the program ships."""
    sha256: str = ""

    @property
    def is_own(self) -> bool:
        """Whether the hotel brought it."""
        return bool(self.file_name)

    @property
    def clocks(self) -> tuple[Clock, ...]:
        """The deadlines that its clauses set."""
        return tuple(clock_of(one) for one in self.clauses if one.asks is Asks.DEADLINE)

    def clock(self, duty: str) -> Clock | None:
        """The clock of a duty; None where no clause sets one."""
        return next((clock for clock in self.clocks if clock.duty == duty), None)

    def clause(self, key: str) -> RuleClause | None:
        """A clause by its key; None if there is none."""
        return next((one for one in self.clauses if one.clause == key), None)

    def with_choices(self, choices: Mapping[str, str]) -> Profile:
        """The profile with a hotel's own choices over it.

        Rules and choices: "ring_kinds" (codes with spaces between), "ring_radius" ("1" or
        "2"), "hold", "release_by". A choice that is none of these counts not.
        """
        kinds = tuple(choices.get("ring_kinds", "").split()) or self.ring_kinds
        radius = choices.get("ring_radius", "")
        hold, release_by = choices.get("hold", ""), choices.get("release_by", "")
        return replace(
            self,
            ring_kinds=kinds,
            ring_radius=int(radius) if radius in ("1", "2") else self.ring_radius,
            hold=Hold(hold) if hold in set(Hold) else self.hold,
            release_by=Releaser(release_by) if release_by in set(Releaser) else self.release_by,
        )


def clock_of(clause: RuleClause) -> Clock:
    """The clock that a clause with a deadline sets."""
    return Clock(
        duty=clause.duty,
        amount=clause.amount,
        unit=Unit(clause.unit),
        starts=Start(clause.starts),
        standing=Standing.PUBLISHED if clause.how_read is HowRead.READ else Standing.FROM_MEMORY,
        source=f"{clause.title}, {clause.section}",
    )


@dataclass(frozen=True, slots=True)
class Choosable:
    """What a hotel may choose for a rule that is no number."""

    values: tuple[str, ...]
    several: bool = False
    """Whether several of them may hold together."""


KEEPS = ("1", "2", "3", "5", "7", "10", "always")
"""For how many years a hotel may choose to keep something; as long as the set says: no choice."""
CHOICES: Mapping[str, Choosable] = {
    "ring_kinds": Choosable(
        ("same_suite", "connects", "shares_wall", "above", "below", "across"), several=True
    ),
    "ring_radius": Choosable(("1", "2")),
    "hold": Choosable(tuple(Hold)),
    "release_by": Choosable(tuple(Releaser)),
    "species": Choosable(("common", "tropical")),
    "clean_kinds": Choosable(("clearance", "deep_too")),
    "full_check": Choosable(("looked_at", "cover_opened")),
    "sign_off": Choosable(("competent", "named")),
    "rounds_by": Choosable(("cycle", "odds")),
    "back_up": Choosable(("closing_and_daily", "closing", "daily", "never")),
    "names_outside": Choosable(("full", "initials")),
    **{f"keeps_{what}": Choosable(KEEPS) for what in ("photos", "papers", "names", "notes")},
}
"""Every rule that a hotel may choose by RuleChosen. Of a release's rules, the species and
rounds the first choice is the usual one."""
