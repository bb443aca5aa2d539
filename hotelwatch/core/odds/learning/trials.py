"""Blind trials as the record tells them: whether anybody looked there, and found the dummy.

Which look was the first one after a dummy was hidden comes from the checks written down,
not from memory. A place that the check left out says nothing of how well one looks, nor
does a dummy that got lost, nor a look by the person who hid it: each is counted apart.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from hotelwatch.core.checks.asked import SERVING
from hotelwatch.core.facts import BedChecked, BedNo, CheckKind, RoomChecked
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept
from hotelwatch.core.trial_facts import DummyEnded, DummyFate, DummyHidden


class TrialState(StrEnum):
    """Where a blind trial stands; only found and missed say how well one looks."""

    HIDDEN = "hidden"
    """It still lies there and must be collected."""
    FOUND = "found"
    """By the first look at its place."""
    MISSED = "missed"
    NOBODY_LOOKED = "nobody_looked"
    """No check of its bed or room is written down while it lay there."""
    NOT_LOOKED_AT = "not_looked_at"
    """There was a check, and it left the place out."""
    NOT_BLIND = "not_blind"
    """Who hid it was among those who looked first."""
    LOST = "lost"


COUNTING = (TrialState.FOUND, TrialState.MISSED)
"""Trials that say how well one looks."""


@dataclass(frozen=True, slots=True)
class PlaceLooked:
    """A check that came while a dummy lay there."""

    entry: int
    checked_on: date
    kind: CheckKind
    by: tuple[str, ...]
    is_of_place: bool
    """Whether it looked at the dummy's place."""


@dataclass(frozen=True, slots=True)
class Trial:
    """One dummy from hiding to end, with what the record says of the looks between."""

    entry: int
    """Of the hiding: this one is taken back to undo the trial."""
    hidden: DummyHidden
    ended: DummyEnded | None
    state: TrialState
    checks: tuple[PlaceLooked, ...]
    """Of its bed or room while it lay there, by day, then as written down."""

    @property
    def first_look(self) -> PlaceLooked | None:
        """The first check that looked at its place."""
        return next((check for check in self.checks if check.is_of_place), None)

    @property
    def looked_by(self) -> tuple[str, ...]:
        """Who looked first, by the record; as told where no check is written down."""
        if self.first_look is not None:
            return self.first_look.by
        return self.ended.looked_by if self.ended else ()

    @property
    def counts(self) -> bool:
        """Whether it says how well one looks."""
        return self.state in COUNTING

    @property
    def is_deep(self) -> bool:
        """Whether the first look was a deep, asked or clearance check."""
        return self.first_look is not None and self.first_look.kind in SERVING


@dataclass(frozen=True, slots=True)
class Tally:
    """How many dummies of how many were found."""

    found: int
    trials: int


def trials(house: House) -> tuple[Trial, ...]:
    """Every blind trial: those still hidden first, then by the day they ended, latest first.

    Ended ones whose looks are older than the checks at hand are left out.
    """
    found = [_trial(house, hidden, ended) for hidden, ended in _paired(house)]
    since = house.complete_from
    at_hand = [t for t in found if t.ended is None or since is None or t.hidden.hidden_on >= since]
    at_hand.sort(key=lambda t: (t.hidden.room, t.hidden.bed, t.hidden.place, t.entry))
    at_hand.sort(key=lambda t: t.ended.ended_on if t.ended else date.max, reverse=True)
    return tuple(at_hand)


def hidden_now(house: House) -> Mapping[str, DummyHidden]:
    """Dummies that have not been collected, by label."""
    return {hidden.fact.dummy: hidden.fact for hidden, ended in _paired(house) if ended is None}


def _paired(house: House) -> list[tuple[Kept[DummyHidden], DummyEnded | None]]:
    """Each hiding with its end; an end belongs to the latest open hiding of its label."""
    rows: list[Kept[DummyHidden] | Kept[DummyEnded]] = [*house.kept_of(DummyHidden)]
    rows += house.kept_of(DummyEnded)
    open_now: defaultdict[str, list[Kept[DummyHidden]]] = defaultdict(list)
    ends: dict[Kept[DummyHidden], DummyEnded] = {}
    hidings: list[Kept[DummyHidden]] = []
    for row in sorted(rows, key=lambda row: row.entry):
        fact = row.fact
        if isinstance(fact, DummyHidden):
            hiding = Kept(row.entry, fact)
            hidings.append(hiding)
            open_now[fact.dummy].append(hiding)
        elif open_now[fact.dummy]:
            ends[open_now[fact.dummy].pop()] = fact
    return [(hiding, ends.get(hiding)) for hiding in hidings]


def _trial(house: House, hidden: Kept[DummyHidden], ended: DummyEnded | None) -> Trial:
    until = ended.ended_on if ended else date.max
    checks = tuple(
        PlaceLooked(
            row.entry,
            row.fact.checked_on,
            row.fact.kind,
            row.fact.by,
            hidden.fact.place in row.fact.seen,
        )
        for row in _checks_of(house, hidden.fact)
        if _is_after(row, hidden) and row.fact.checked_on <= until
    )
    return Trial(hidden.entry, hidden.fact, ended, _state(hidden.fact, ended, checks), checks)


def _checks_of(
    house: House, hidden: DummyHidden
) -> tuple[Kept[BedChecked], ...] | tuple[Kept[RoomChecked], ...]:
    if hidden.bed:
        return house.checks_by_bed.get(BedNo(hidden.bed), ())
    return house.kept_room_checks.get(hidden.room, ())


def _is_after(check: Kept[BedChecked] | Kept[RoomChecked], hidden: Kept[DummyHidden]) -> bool:
    """Whether a check came after the hiding: on its day only if written down later."""
    day, other = check.fact.checked_on, hidden.fact.hidden_on
    return day > other or (day == other and check.entry > hidden.entry)


def _state(
    hidden: DummyHidden, ended: DummyEnded | None, checks: tuple[PlaceLooked, ...]
) -> TrialState:
    if ended is None:
        return TrialState.HIDDEN
    looks = [check for check in checks if check.is_of_place]
    if not looks:
        return TrialState.NOT_LOOKED_AT if checks else TrialState.NOBODY_LOOKED
    if _folded(hidden.by) in map(_folded, looks[0].by):
        return TrialState.NOT_BLIND
    if ended.was_found:
        # The last look brought it to light; had there been one before, that one missed it.
        return TrialState.FOUND if len(looks) == 1 else TrialState.MISSED
    return TrialState.LOST if ended.fate is DummyFate.LOST else TrialState.MISSED


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()


# --- counted -------------------------------------------------------------------------------------


def counted(found: Iterable[Trial], *, deep: bool = True) -> tuple[Trial, ...]:
    """Trials that say how well a deep look sees, or with ``deep=False`` a brief one."""
    return tuple(trial for trial in found if trial.counts and trial.is_deep == deep)


def tally(counting: Collection[Trial]) -> Tally:
    """How many of these trials found their dummy."""
    return Tally(sum(trial.state is TrialState.FOUND for trial in counting), len(counting))


def tally_by_place(counting: Iterable[Trial]) -> Mapping[str, Tally]:
    """The same for each place, by its code."""
    groups: defaultdict[str, list[Trial]] = defaultdict(list)
    for trial in counting:
        groups[trial.hidden.place].append(trial)
    return {place: tally(rows) for place, rows in sorted(groups.items())}


def tally_by_person(counting: Iterable[Trial]) -> Mapping[str, Tally]:
    """The same for each person who looked, in alphabetical order; those who looked together, each.

    Names that differ in case or spaces alone are one, written as it was first.
    """
    groups: defaultdict[str, list[Trial]] = defaultdict(list)
    written: dict[str, str] = {}
    for trial in counting:
        for folded, name in {_folded(name): name for name in trial.looked_by}.items():
            written.setdefault(folded, " ".join(name.split()))
            groups[folded].append(trial)
    return {written[folded]: tally(rows) for folded, rows in sorted(groups.items())}


def states(found: Iterable[Trial]) -> Mapping[TrialState, int]:
    """How many trials stand where; every state is there."""
    counts = Counter(trial.state for trial in found)
    return {state: counts[state] for state in TrialState}
