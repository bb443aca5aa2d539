"""What a month's figures consist of: one frozen row for each line of the book."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.beds import Place
from hotelwatch.core.case_facts import Outcome, Sign
from hotelwatch.core.cases.case import Stage
from hotelwatch.core.cases.conditions import Condition
from hotelwatch.core.facts import BedNo, CaseNo, CheckKind, RoomNo
from hotelwatch.core.local_rules.rows import RulesJudged
from hotelwatch.core.month.account import Account
from hotelwatch.core.month.due_rows import DueRow
from hotelwatch.core.month.page_rows import FieldChange, PageRows
from hotelwatch.core.parameters import Evidence, Figure
from hotelwatch.core.treatment_facts import TreatmentRecorded


class CaseClass(StrEnum):
    """What a case is called towards strangers: suspected until a competent person has judged."""

    SUSPECTED = "class_suspected"
    CONFIRMED = "class_confirmed"
    RULED_OUT = "class_ruled_out"


class HowKnown(StrEnum):
    """How a sign became known."""

    GUEST = "guest"
    DOG = "dog"
    CHECK = "check"
    """In a check that stands in the same entry."""
    STAFF = "staff"


@dataclass(frozen=True, slots=True)
class LookRow:
    """A bed's last underside look as of the end of the account, and when the next is due."""

    bed: BedNo
    room: RoomNo
    kind: str
    encased: bool
    last_on: date | None
    days_since: int | None
    cycle_days: int
    due_on: date
    is_overdue: bool
    is_spread: bool


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A check written down: of a bed, or of a room's other places."""

    checked_on: date
    room: RoomNo
    bed: str
    """Empty for the room's other places."""
    kind: CheckKind
    by: tuple[str, ...]
    minutes: int | None
    """None where none are recorded."""
    seen: tuple[str, ...]
    unseen: tuple[str, ...]
    found: tuple[str, ...]
    is_underside_seen: bool | None
    """None for a room's other places."""
    is_list_seen: bool
    """Whether every place of its list was looked at, optional ones aside."""
    asked_by: str
    noted: str
    form_version: int
    """Of the form that was filled in; 0: not said."""
    from_clock: str
    """When the visit began, hotel's clock; empty: not said."""
    until_clock: str
    aids: tuple[str, ...]
    entry: int
    recorded_at: datetime


@dataclass(frozen=True, slots=True)
class SightingRow:
    """A sighting of the month."""

    case: CaseNo
    room: RoomNo
    bed: str
    place: str
    sign: Sign
    count: int
    seen_by: str
    seen_at: datetime
    noted: str
    entry: int
    recorded_at: datetime
    how: HowKnown
    answered_at: datetime | None
    """When the guest who told it was answered; None: not yet, or no guest told it."""
    specimens: tuple[str, ...]
    """Labels of the case's specimens from that room."""
    photos: int
    """Of the case, kept by the end of the account."""
    case_class: CaseClass
    judged_by: str
    competence: str
    judged_on: date | None

    @property
    def waits_for_answer(self) -> bool:
        """Whether a guest told it whom nobody has answered."""
        return self.how is HowKnown.GUEST and self.answered_at is None


@dataclass(frozen=True, slots=True)
class CaseRow:
    """A case that was open at some time in the month, as of the end of the account."""

    case: CaseNo
    room: RoomNo
    opened_at: datetime
    evidence: Evidence
    stage: Stage
    outcome: Outcome | None
    judged_by: str
    competence: str
    judged_on: date | None
    was_open_at_start: bool
    is_new: bool
    is_open: bool
    case_class: CaseClass
    closed_at: datetime | None
    """When a named person ended its watch; None where none did."""
    closed_by: str


@dataclass(frozen=True, slots=True)
class AskedRow:
    """A room that a case wanted looked at: asked in the month, or still open at its start."""

    case: CaseNo
    room: RoomNo
    reasons: tuple[str, ...]
    by_at: datetime
    done_on: date | None
    is_late: bool
    """Done after its deadline, or not done and the deadline has passed."""
    is_wanted: bool
    """False once its case was ruled out or its room left the roster."""
    centre: RoomNo
    """The room with the sign because of which it was asked for."""
    asked_at: datetime
    looked_by: str
    """Names with commas between them; empty while nobody looked."""
    has_found: bool
    """A sign was found in it since; empty words are no proof that nothing is there."""
    is_centre: bool
    """A sign of the case made it a room around which others are asked for."""


@dataclass(frozen=True, slots=True)
class TreatmentRow:
    """Licensed work, and what is kept with its case about it."""

    told: TreatmentRecorded
    logs: tuple[tuple[str, str], ...]
    """Logs of heat or cold of that room and day: label and digest."""
    reports: tuple[str, ...]
    """Digests of the case's reports kept from that day on."""


@dataclass(frozen=True, slots=True)
class QuarantineRow:
    """A quarantine that held at some time in the month."""

    room: RoomNo
    case: CaseNo
    from_at: datetime
    reason: str
    placed_by: str
    lifted_at: datetime | None
    lifted_by: str
    competence: str
    """What makes who lifted it competent; empty where nobody said."""
    conditions_met: bool | None
    """None while it holds."""
    lift_reason: str
    nights: int
    """Nights of the month on which it held."""
    conditions: tuple[Condition, ...] = ()
    """Of its release, when it was lifted, or as they stand while it holds."""


@dataclass(frozen=True, slots=True)
class LetRow:
    """A room let while it was in quarantine: should not exist, so it stands in the book."""

    room: RoomNo
    booking: str
    arrives_on: date
    leaves_on: date
    first_night: date
    nights: int
    quarantined_from: datetime
    quarantined_until: datetime | None
    was_let_blocked: bool
    """The guest came into the closed room; else a guest in house stayed on."""
    was_known: bool = True
    """The quarantine had been written down when the first of these nights began."""
    explained: str = ""
    """How it came, in a named person's words."""
    explained_by: str = ""


@dataclass(frozen=True, slots=True)
class TeamDayRow:
    """What a team was planned for and what was recorded on a day."""

    on: date
    team: str
    """Empty for checks that stood on no sheet."""
    planned_rooms: int
    planned_minutes: int
    beds: int
    minutes: int
    people_minutes: int
    """Minutes times the people named; a check without names counts for one."""


@dataclass(frozen=True, slots=True)
class PersonRow:
    """A person's recorded time; never what they found."""

    person: str
    days: int
    beds: int
    minutes: int


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A fact that was written down late, or that replaced or withdrew another."""

    entry: int
    corrects: int | None
    recorded_at: datetime
    by: str
    reason: str
    month: str
    """The month that it concerns, as YYYY-MM."""
    kind: str
    """The kind of fact, by its class name."""
    subject: str
    """The bed, room or case it is about."""
    changed: tuple[FieldChange, ...]


@dataclass(frozen=True, slots=True)
class Counts:
    """The month in numbers, each counted from the rows beside it."""

    due: int
    in_time: int
    late: int
    not_done: int
    ahead: int
    no_longer_due: int
    worst_late_days: int
    beds: int
    beds_looked_at: int
    """Beds whose underside was looked at in the month."""
    beds_overdue: int
    beds_never_looked_at: int
    bed_checks: int
    bed_checks_complete: int
    """Bed checks that looked at every place of the underside."""
    sightings: int
    cases_open_at_start: int
    cases_new: int
    cases_reopened: int
    cases_closed: int
    cases_open_at_end: int
    asked: int
    asked_late: int
    quarantines: int
    quarantine_nights: int
    """Room-nights of the month in quarantine, a room's night counted once."""
    lifted_on_conditions: int
    lifted_on_reason: int
    lets_against: int
    minutes: int
    people_minutes: int
    changes: int


@dataclass(frozen=True, slots=True)
class PlaceList:
    """The places of a kind of bed in use, or of a room, in looking order."""

    kind: str
    """Empty for a room's other places."""
    encased: bool
    places: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class MonthRows:
    """The lines of the month's book."""

    due: tuple[DueRow, ...]
    looks: tuple[LookRow, ...]
    checks: tuple[CheckRow, ...]
    sightings: tuple[SightingRow, ...]
    cases: tuple[CaseRow, ...]
    asked: tuple[AskedRow, ...]
    treatments: tuple[TreatmentRow, ...]
    quarantines: tuple[QuarantineRow, ...]
    lets: tuple[LetRow, ...]
    team_days: tuple[TeamDayRow, ...]
    people: tuple[PersonRow, ...]
    changes: tuple[ChangeRow, ...]


@dataclass(frozen=True, slots=True)
class MonthFigures:
    """A month's figures."""

    account: Account
    counts: Counts
    rows: MonthRows
    used: tuple[Figure, ...]
    """The figures that the month rests on."""
    place_lists: tuple[PlaceList, ...]
    pages: PageRows
    local_rules: RulesJudged
    """What the record shows of the set of local rules in force."""
