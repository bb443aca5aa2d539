"""What is due to go from the record, and why the rest stays.

Photos, papers, logs, names of staff and notes are kept for years: as many as the local
rules say, or as the hotel chose for each. The years run from the day on which the case was
closed that they were written down for; what belongs to no case, from the end of its month.
What is kept for a number of years is kept on the anniversary too, and goes on the day after.
Where it began on 29 February, the anniversary in a year without one is 1 March, so that
nothing goes a day early.

Nothing goes that an open case needs: what was written down for it, and what was written down
for no case since the month of its first sign. The same holds for a case, or all of them, on
which somebody has said that nothing may expire.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.case_facts import CaseClosed, PhotoKept
from hotelwatch.core.cases.case import is_open
from hotelwatch.core.days import local_day, month_bounds
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import CaseNo, Fact
from hotelwatch.core.house import House
from hotelwatch.core.people_facts import PersonDescribed
from hotelwatch.core.record_facts import ContentExpired, Expiring, ExpiryStopped
from hotelwatch.core.records import Kept
from hotelwatch.core.rule_facts import RulesCompared
from hotelwatch.core.treatment_facts import PaperKept, ProbeLogKept

ALWAYS = "always"
OWN = "own"
RULE_OF: Mapping[Expiring, str] = {
    Expiring.PHOTO: "keeps_photos",
    Expiring.PAPER: "keeps_papers",
    Expiring.LOG: "keeps_papers",
    Expiring.NAME: "keeps_names",
    Expiring.NOTE: "keeps_notes",
}
"""The hotel's choice for each, a key of profile.CHOICES."""
FILES: Mapping[Expiring, type[PhotoKept | PaperKept | ProbeLogKept]] = {
    Expiring.PHOTO: PhotoKept,
    Expiring.PAPER: PaperKept,
    Expiring.LOG: ProbeLogKept,
}
WHY_STAYS = ("kept_always", "all_stopped", "case_stopped", "case_open", "in_force", "not_yet")


@dataclass(frozen=True, slots=True)
class Keeping:
    """For how long something is kept, and who says so."""

    years: int | None
    """None: always."""
    policy: str
    """The local rules' key, or "own"."""
    is_shorter: bool
    """Whether the hotel chose fewer years than its local rules say."""


@dataclass(frozen=True, slots=True)
class Content:
    """Something that is there and may expire."""

    what: Expiring
    which: str
    """A file's digest, or the number of words."""
    concerns: str
    """Cases with spaces between, or a month."""
    entry: int
    """The entry that wrote it down first."""
    words: str = ""
    """A name; of the rest nothing."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether something is due to go."""

    content: Content
    why: str
    """Empty: it is due. Else a code of WHY_STAYS."""
    goes_on: date | None
    """The day from which it goes; None where no day can be named yet."""
    case: str = ""
    """The case because of which it stays."""

    @property
    def is_due(self) -> bool:
        """Whether it may go now."""
        return not self.why


def anniversary(day: date, years: int) -> date:
    """The same day so many years later; 1 March where it was 29 February and there is none."""
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return date(day.year + years, 3, 1)


def keepings(house: House) -> dict[Expiring, Keeping]:
    """How long each is kept."""
    profile = house.profile
    found = {}
    for what, rule in RULE_OF.items():
        choice = house.choices.get(rule, "")
        if not choice:
            found[what] = Keeping(profile.keeps_years, profile.key, False)
        elif choice == ALWAYS:
            found[what] = Keeping(None, OWN, False)
        else:
            found[what] = Keeping(int(choice), OWN, int(choice) < profile.keeps_years)
    return found


def stopped(house: House) -> Mapping[str, ExpiryStopped]:
    """The cases of which nothing may expire, with the word that says so; "" for all of them."""
    latest = {fact.case: fact for fact in house.all_of(ExpiryStopped)}
    return {case: fact for case, fact in latest.items() if fact.holds}


def files_of(house: House) -> tuple[Content, ...]:
    """Every photo, paper and log that was kept and has not expired since; each file once."""
    gone = {
        (row.fact.what, which): row.entry
        for row in house.kept_of(ContentExpired)
        for which in row.fact.which
    }
    found = []
    for what, kind in FILES.items():
        cases: defaultdict[str, set[str]] = defaultdict(set)
        entries: dict[str, int] = {}
        for row in house.kept.get(kind, ()):
            assert isinstance(row.fact, kind)
            if row.entry > gone.get((what, row.fact.sha256), 0):
                cases[row.fact.sha256].add(house.case_now(row.entry, row.fact.case))
                entries.setdefault(row.fact.sha256, row.entry)
        found += [
            Content(what, digest, " ".join(sorted(named)), entries[digest])
            for digest, named in cases.items()
        ]
    return tuple(found)


def verdicts(house: House, contents: Iterable[Content], today: date) -> tuple[Verdict, ...]:
    """Whether each is due on a day, in the order given."""
    return tuple(map(_Deciding(house, today).verdict, contents))


def facts_of(house: House, found: Iterable[Verdict]) -> tuple[ContentExpired, ...]:
    """What to write down of those that are due, one for each kind."""
    kept = keepings(house)
    which: defaultdict[Expiring, list[str]] = defaultdict(list)
    for verdict in found:
        if verdict.is_due:
            which[verdict.content.what].append(verdict.content.which)
    return tuple(
        ContentExpired(what, tuple(which[what]), kept[what].years or 0, kept[what].policy)
        for what in Expiring
        if which[what]
    )


class _Deciding:
    """What is asked of the house again and again."""

    def __init__(self, house: House, today: date) -> None:
        self._house = house
        self._today = today
        self._keepings = keepings(house)
        self._stopped = stopped(house)
        self._ends: dict[str, date | None] = {}
        self._in_force = _in_force(house)
        self._needing = _needing(house, self._stopped)

    def verdict(self, content: Content) -> Verdict:
        years = self._keepings[content.what].years
        if "" in self._stopped:
            return Verdict(content, "all_stopped", None)
        if years is None:
            return Verdict(content, "kept_always", None)
        is_month = _is_month(content.concerns)
        return self._of_month(content, years) if is_month else self._of_cases(content, years)

    def _of_cases(self, content: Content, years: int) -> Verdict:
        ends = []
        for written in content.concerns.split():
            case = self._house.case_now(content.entry, CaseNo(written))
            if case in self._stopped:
                return Verdict(content, "case_stopped", None, case)
            end = self._end(case, content.entry)
            if end is None:
                return Verdict(content, "case_open", None, case)
            ends.append(end)
        return self._by_time(content, anniversary(max(ends), years))

    def _of_month(self, content: Content, years: int) -> Verdict:
        for first, case in self._needing:
            if first <= content.concerns:
                why = "case_stopped" if case in self._stopped else "case_open"
                return Verdict(content, why, None, case)
        last = month_bounds(content.concerns)[1]
        left_on = self._in_force.get((content.concerns, content.words), last)
        if left_on is None:
            return Verdict(content, "in_force", None)
        return self._by_time(content, anniversary(max(left_on, last), years))

    def _by_time(self, content: Content, kept_until: date) -> Verdict:
        goes_on = kept_until + timedelta(days=1)
        return Verdict(content, "" if goes_on <= self._today else "not_yet", goes_on)

    def _end(self, case: CaseNo, entry: int) -> date | None:
        """The day on which a case was over; None while it is open."""
        if case not in self._ends:
            self._ends[case] = _ended_on(self._house, case)
        told = self._ends[case]
        if told is None and case not in self._house.sightings:
            # Taken back as a whole: what was written down for it stands alone.
            known = self._house.entries.get(entry)
            return local_day(known.recorded_at, self._house.zone) if known else self._today
        return told


def _is_month(concerns: str) -> bool:
    """Whether it is a month, as "2026-01", and no case, as "2026-001"."""
    try:
        month_bounds(concerns)
    except ValueError:
        return False
    return True


def _ended_on(house: House, case: CaseNo) -> date | None:
    if case not in house.sightings or is_open(house, case):
        return None
    closed = house.kept_of_case(CaseClosed, case)
    if closed:
        at = max(closed[-1].fact.closed_at, house.entry_of(closed[-1]).recorded_at)
        return local_day(at, house.zone)
    rows = (row for kind in _OF_CASES for row in house.kept_of_case(kind, case))
    return local_day(max(house.entry_of(row).recorded_at for row in rows), house.zone)


_OF_CASES: tuple[type[Fact], ...] = tuple(
    kind for kind in FACT_KINDS if "case" in kind.__slots__ and kind is not ExpiryStopped
)


def _needing(house: House, stopped: Mapping[str, ExpiryStopped]) -> list[tuple[str, str]]:
    """The month of the first sign of each case that is open or stopped, with the case."""
    return sorted(
        (f"{min(row.fact.seen_at for row in rows):%Y-%m}", case)
        for case, rows in house.sightings.items()
        if case in stopped or is_open(house, case)
    )


def _in_force(house: House) -> dict[tuple[str, str], date | None]:
    """By month and name: None where the name is in force, else the day until which it was.

    That is of people who are described, until they leave; and of who compared the local
    rules with the law, until somebody does so anew.
    """
    left: dict[str, date | None] = {}
    for row in house.kept_of(PersonDescribed):
        on = local_day(house.entry_of(row).recorded_at, house.zone)
        left[row.fact.person] = None if row.fact.in_use else on
    found = {
        (_month(house, row), row.fact.person): left[row.fact.person]
        for row in house.kept_of(PersonDescribed)
    }
    compared = {(one.fact.rules, one.fact.clause): one for one in house.kept_of(RulesCompared)}
    for one in compared.values():
        found[_month(house, one), one.fact.by] = None
    return found


def _month(house: House, row: Kept[Fact]) -> str:
    return f"{house.entry_of(row).recorded_at:%Y-%m}"
