"""What has to be true before a case may give a room back, each with whether and by whom.

By the path of the room (core.checks.follow_ups.ReleasePath):

In every one the firm's time of re-entry must be past, if the room was treated at all.

- not a bed bug: nothing else;
- no judgement yet: a judgement;
- undetermined, or nothing but weak signs: enough clean checks of each bed with the
  underside seen, since there is nothing to identify;
- closed only as a neighbour: fewer of them;
- confirmed: treated (again, after a live insect or eggs), the firm's time of re-entry past,
  for each bed enough clean clearance checks, one of them a full one, one of them after the
  slowest egg has hatched; traps that stand there read, and as many empty readings as the
  hotel asks; where the profile says so, the word of the licensed firm or the officer.

That a room stood empty is never a condition. Starved adults live 41.5 to 142.6 days on
average (Polanco, Miller, Brewster 2011, Insects 2:232-242); in a vacant home marked large
nymphs, females and males were found 57, 113 and 134 days after the host had left (Cooper,
Wang, Singh 2015, PLOS ONE): the days stand in resources/parameters.toml.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from hotelwatch.core.case_facts import NoticeGiven
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.checks.clean import CleanCount, CleanWanted, clean_counts
from hotelwatch.core.checks.follow_ups import (
    ReleasePath,
    clean_wanted,
    eggs_after,
    first_clearance_on,
    found_since,
    path_of,
    treatments_done,
)
from hotelwatch.core.checks.monitors import clean_readings, standing_in, waiting_for_a_look
from hotelwatch.core.checks.signs import finds
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.profile import Releaser
from hotelwatch.core.treatment_facts import TreatmentRecorded

RELEASE_WORD = "release_word"
"""The notice by which the word of a firm or an officer is written down."""


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition of a room's release, and whether it is met.

    Codes and values are those of core.cases.release.Missing.
    """

    code: str
    values: dict[str, Any] = field(default_factory=dict)
    is_met: bool = False
    met_on: date | None = None
    """None while it is not met, or where no day belongs to it."""
    by: tuple[str, ...] = ()
    """Who met it, as far as somebody did."""


def conditions(house: House, case: CaseNo, room: RoomNo, *, now: datetime) -> tuple[Condition, ...]:
    """Every condition of a room's release, in the order in which they are met as a rule."""
    today = local_day(now, house.zone)
    path = path_of(house, case, room)
    entering = tuple(_reentry(house, room, now))
    if path is ReleasePath.NOTHING or path is ReleasePath.JUDGEMENT:
        return (_judgement(house, case, room, is_met=path is ReleasePath.NOTHING), *entering)
    if path is not ReleasePath.TREATED:
        wanted = clean_wanted(house, case, room, today)
        return (*entering, *_looks(house, room, wanted)) if wanted else entering
    return (
        _judgement(house, case, room, is_met=True),
        *_treated(house, case, room, now),
    )


def _judgement(house: House, case: CaseNo, room: RoomNo, *, is_met: bool) -> Condition:
    judged = judgement_of(house, case)
    on, by = (judged.judged_on, (judged.judged_by,)) if judged else (None, ())
    return Condition("judgement", {"room": room}, is_met, on if is_met else None, by)


def _reentry(house: House, room: RoomNo, now: datetime) -> Iterator[Condition]:
    """The firm's time of re-entry, whatever the room was treated for and in whose case."""
    today = local_day(now, house.zone)
    until = [
        treated.reenter_at
        for treated in house.all_of(TreatmentRecorded)
        if treated.room == room and treated.treated_on <= today
    ]
    if until:
        reenter_at = max(until)
        is_past = now >= reenter_at
        on = local_day(reenter_at, house.zone) if is_past else None
        yield Condition("reentry", {"room": room, "until": reenter_at}, is_past, on)


def _treated(house: House, case: CaseNo, room: RoomNo, now: datetime) -> Iterator[Condition]:
    today = local_day(now, house.zone)
    done = treatments_done(house, case, room, today)
    if not done:
        yield Condition("treatment", {"room": room})
        return
    last = done[-1]
    found_on = found_since(house, case, room, last.treated_on)
    yield Condition("treatment", {"room": room}, True, last.treated_on, (last.firm,))
    if found_on is not None:
        yield Condition("treatment_after_find", {"room": room, "found_on": found_on})
    yield from _reentry(house, room, now)
    wanted = clean_wanted(house, case, room, today)
    if wanted is None:
        # The next treatment begins the count anew: nothing that is looked at now counts.
        return
    yield from _eggs(house, room, done)
    yield from _looks(house, room, wanted)
    yield from _traps(house, room, first_clearance_on(house, done), today)
    yield from _word(house, case, room, last)


def _eggs(house: House, room: RoomNo, done: tuple[TreatmentRecorded, ...]) -> Iterator[Condition]:
    times = eggs_after(house, done).times
    if times.why_not is not None:
        values = {"room": room, "why": times.why_not, "celsius": times.celsius}
        yield Condition("eggs_not_known", values)


# --- looks --------------------------------------------------------------------------------


def _looks(house: House, room: RoomNo, wanted: CleanWanted) -> Iterator[Condition]:
    counts = clean_counts(house, room, wanted)
    for count in counts:
        values = _values(room, count, count.have, count.need)
        yield _look("clean_checks", values, count, is_met=count.have >= count.need)
    if wanted.need_full:
        lacking = [count for count in counts if count.full < count.need_full]
        yield _of_room("full_check", room, counts, lacking=lacking)
    if wanted.hatched_on is not None:
        lacking = [count for count in counts if not count.is_after_hatch]
        late = _of_room("after_hatch", room, counts, lacking=lacking)
        late.values["next_from"] = max(late.values["next_from"], wanted.hatched_on)
        late.values["celsius"] = house.rules.figures.room_celsius.value
        yield late


def _of_room(
    code: str, room: RoomNo, counts: tuple[CleanCount, ...], *, lacking: list[CleanCount]
) -> Condition:
    """A condition that each bed of a room meets with one look."""
    values = {
        "room": room,
        "beds": tuple(count.bed for count in lacking if count.bed),
        "next_from": min(count.next_from for count in lacking or counts),
    }
    if lacking:
        return Condition(code, values)
    last = max(counts, key=lambda count: count.last_on or date.min)
    return Condition(code, values, True, last.last_on, last.last_by)


def _values(room: RoomNo, count: CleanCount, have: int, need: int) -> dict[str, Any]:
    return {
        "room": room,
        "bed": count.bed,
        "have": have,
        "need": need,
        "next_from": count.next_from,
    }


def _look(code: str, values: dict[str, Any], count: CleanCount, *, is_met: bool) -> Condition:
    on, by = (count.last_on, count.last_by) if is_met else (None, ())
    return Condition(code, values, is_met, on, by)


def _traps(house: House, room: RoomNo, first: date, today: date) -> Iterator[Condition]:
    """Traps that stand there are looked into; how many empty readings are asked is a figure."""
    # One that was placed today has had nothing to tell yet.
    here = [one for one in standing_in(house, room, today) if one.placed_on < today]
    if here:
        unread = [one for one in waiting_for_a_look(house, room, today) if one in here]
        labels = tuple(one.monitor for one in unread or here)
        last_on = max(one.last_on(today) for one in here)
        yield Condition(
            "traps_read",
            {"room": room, "monitors": labels},
            not unread,
            None if unread else last_on,
        )
    need = int(house.rules.figures.trap_readings_wanted.value)
    if not need:
        return
    from_on = max([first, *(find.counts_from for find in finds(house, room))])
    read = clean_readings(house, room, first=from_on, last=today)
    yield _readings(house, room, read, from_on=from_on)


def _readings(
    house: House, room: RoomNo, read: tuple[tuple[date, str], ...], *, from_on: date
) -> Condition:
    figures = house.rules.figures
    need = int(figures.trap_readings_wanted.value)
    since = read[-1][0] if read else from_on
    is_met = len(read) >= need
    values = {
        "room": room,
        "have": len(read),
        "need": need,
        "next_from": date.fromordinal(since.toordinal() + int(figures.trap_days.value)),
    }
    on, by = (read[-1][0], (read[-1][1],)) if is_met else (None, ())
    return Condition("trap_readings", values, is_met, on, by)


def _word(house: House, case: CaseNo, room: RoomNo, last: TreatmentRecorded) -> Iterator[Condition]:
    """The word of the firm or the officer, given after the last treatment and the last find."""
    whose = house.profile.release_by
    if whose is Releaser.HOTEL:
        return
    since = max([last.treated_on, *(find.day for find in finds(house, room))])
    given = [
        row.fact
        for row in house.kept_of_case(NoticeGiven, case)
        if row.fact.notice == RELEASE_WORD
        and row.fact.room in ("", room)
        and local_day(row.fact.given_at, house.zone) > since
    ]
    on = local_day(given[-1].given_at, house.zone) if given else None
    by = (given[-1].to,) if given else ()
    yield Condition("release_word", {"room": room, "whose": whose}, bool(given), on, by)
