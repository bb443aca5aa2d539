"""Rows of the book's pages about rooms, deadlines, lifting, training, trials and policy."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.case_facts import SpecimenStep
from hotelwatch.core.checks.dogs import AlertFate
from hotelwatch.core.checks.watching import Watch
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.odds.learning.trials import TrialState
from hotelwatch.core.people import RefusedRow
from hotelwatch.core.profile import Profile, Unit
from hotelwatch.core.trainings import TrainingState


@dataclass(frozen=True, slots=True)
class FieldChange:
    """A field that a later entry gave another value; texts as the journal has them."""

    field: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class RoomRow:
    """A room in use at the end, and what the month's other rows say of it."""

    room: RoomNo
    floor: str
    wing: str
    room_type: str
    beds: int
    overdue: int
    """Of its beds, those overdue at the end."""
    looks: int
    """Checks of its beds in which the whole underside was looked at."""
    late: int
    """Undersides looked at late, or not looked at."""
    signs: int
    quarantines: int
    nights: int
    """Summed over its quarantines."""


@dataclass(frozen=True, slots=True)
class ClockRow:
    """A deadline that a case set going, and how it was met."""

    duty: str
    """A code of wording.profiles.DUTIES."""
    case: CaseNo
    room: RoomNo
    started_at: datetime
    due_at: datetime
    unit: Unit
    """In what the clock counts; hours where no local rule sets it."""
    is_local: bool
    """Set by the local rules; else by a figure or a choice of the hotel's."""
    done_at: datetime | date | None
    """A day where only the day is known."""
    by: str
    is_late: bool
    is_wanted: bool
    """False once the case was ruled out: nobody waits any more."""


@dataclass(frozen=True, slots=True)
class LiftRow:
    """What was lifted on a day while beds of a kind were looked at."""

    on: date
    kind: str
    encased: bool
    move: str
    times: int
    weight_kg: float
    """Of the whole piece; 0 where nobody knows it. An assumption: weigh your own."""
    takes_two: bool
    """Over one person's limit, or of unknown weight."""
    by_one: int
    """Of these, in checks that name fewer than two people."""
    aids: tuple[str, ...]
    """Codes of what was used to lift with, as the checks say."""
    index: float | None
    """Lifting index of each of two people; None where the weight is unknown."""


@dataclass(frozen=True, slots=True)
class CareRow:
    """What was done with linen, luggage or tools, or a thing thrown away."""

    case: CaseNo
    room: RoomNo
    done_at: datetime | date
    what: str
    """A code of CareStep, or the thing in words."""
    is_discarded: bool
    by: str
    celsius: float
    minutes: int
    noted: str
    is_unusable: bool | None = None
    is_labelled: bool | None = None


@dataclass(frozen=True, slots=True)
class LeftLiftRow:
    """A place that was not looked at since a second person to lift was missing.

    Who looked is left out: nobody is to pay for not lifting alone.
    """

    on: date
    room: RoomNo
    bed: str
    place: str
    entry: int


@dataclass(frozen=True, slots=True)
class KeptRow:
    """A photo, specimen, paper or log of a case: written down in the month."""

    case: CaseNo
    what: str
    """"photo", "specimen", "log", or a code of PaperKind."""
    named: str
    """A specimen's or a log's label, a file's name, a photo's caption."""
    at: datetime
    entry: int
    room: str = ""
    """Empty where it is the case's."""
    step: SpecimenStep | None = None
    """Of a specimen."""
    where: str = ""
    by: str = ""
    """Who kept it; empty where only the entry says it."""
    sha256: str = ""
    """Of the file; empty for a specimen."""


@dataclass(frozen=True, slots=True)
class NoticeRow:
    """Somebody was told: a guest, an authority, a firm. Guests bear no name."""

    case: CaseNo
    room: str
    notice: str
    to: str
    given_at: datetime
    by: str
    receipt: str
    noted: str
    entry: int


@dataclass(frozen=True, slots=True)
class VisitRow:
    """A usual follow-up visit after a treatment, and the look that met it."""

    case: CaseNo
    room: RoomNo
    treated_on: date
    number: int
    """From 1, in the order of days."""
    due_on: date
    is_before_hatch: bool
    """Too early to tell of the slowest eggs."""
    done_on: date | None
    """The first look from that day on, by eye, at every underside place of a bed of the room."""
    by: str
    has_found: bool


@dataclass(frozen=True, slots=True)
class WatchRow:
    """How far the watch of a confirmed case has come, or how it was ended."""

    case: CaseNo
    watch: Watch
    """As of the end of the account, or of the day on which it was ended."""
    looks: tuple[date, ...]
    """Days of the watch on which its rooms were looked at."""
    closed_at: datetime | None
    closed_by: str
    is_over: bool | None
    """Whether it was closed because the watch was over; None while it is open."""
    reason: str


@dataclass(frozen=True, slots=True)
class DogRow:
    """A dog's alert of the month and what became of it; or a visit without any."""

    on: date
    firm: str
    handler: str
    certified: str
    """As the firm told it."""
    led_through: int
    """Rooms of the visit."""
    room: str
    """Where it alerted; empty: nowhere."""
    case: str
    fate: AlertFate | None
    fate_on: date | None
    by: str
    entry: int


@dataclass(frozen=True, slots=True)
class TrainingRow:
    """A training of the month."""

    on: date
    person: str
    subject: str
    language: str
    by: str
    entry: int


@dataclass(frozen=True, slots=True)
class TrialRow:
    """A blind trial that ended; where open ones lie stands nowhere in the book.

    Who looked is left out: finds are not ranked by person.
    """

    ended_on: date
    hidden_on: date
    room: RoomNo
    place: str
    state: TrialState
    checks: int
    """Checks of its bed or room while it lay there."""
    is_late: bool
    """Ended in a month closed before; written down after that."""
    entry: int


@dataclass(frozen=True, slots=True)
class PolicyRow:
    """A rule, choice, figure, cycle or role that somebody changed in the month."""

    entry: int
    at: datetime
    by: str
    kind: str
    """The kind of fact, by its class name."""
    changed: tuple[FieldChange, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class InForce:
    """The policy at the end of the account."""

    profile: Profile
    choices: tuple[tuple[str, str], ...]
    profile_checked_by: str
    """Who compared the set last with the law in force; empty: nobody."""
    profile_checked_on: date | None
    cycles: tuple[tuple[str, str, int], ...]
    """Scope, which, days: as chosen."""
    own_figures: tuple[tuple[str, float, str], ...]
    """Key, value, reason."""
    roles: tuple[tuple[str, str], ...]
    """Who, in which role."""


@dataclass(frozen=True, slots=True)
class Price:
    """What something costs, as assumed or put in by the hotel."""

    what: str
    """A key of odds.toml."""
    value: float
    low: float
    high: float
    is_own: bool


@dataclass(frozen=True, slots=True)
class PageRows:
    """The lines of these pages."""

    rooms: tuple[RoomRow, ...]
    clocks: tuple[ClockRow, ...]
    lifts: tuple[LiftRow, ...]
    left_lifts: tuple[LeftLiftRow, ...]
    kept: tuple[KeptRow, ...]
    notices: tuple[NoticeRow, ...]
    visits: tuple[VisitRow, ...]
    watches: tuple[WatchRow, ...]
    care: tuple[CareRow, ...]
    dogs: tuple[DogRow, ...]
    trainings: tuple[TrainingRow, ...]
    training_states: tuple[TrainingState, ...]
    trials: tuple[TrialRow, ...]
    policy: tuple[PolicyRow, ...]
    refusals: tuple[RefusedRow, ...]
    in_force: InForce
    prices: tuple[Price, ...]
