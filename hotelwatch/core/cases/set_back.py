"""What a find during follow-up set back: from where the count begins anew, and what it costs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.cases.release import UNTREATED, missing_for_release, release_range
from hotelwatch.core.checks.clean import clean_counts
from hotelwatch.core.checks.follow_ups import clean_wanted, treatments_done
from hotelwatch.core.checks.signs import Find, finds
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House


@dataclass(frozen=True, slots=True)
class SetBack:
    """The last find after a room's last treatment, and to what it set the clock back."""

    found_on: date
    room: RoomNo
    """Where it was found; another key of the suite sets the room back too."""
    lost: int
    """Clean checks of the bed with the most that no longer count."""
    counts_from: date | None
    """The first day on which a clean check counts again; None before a new treatment."""
    treat_again: bool
    expected_before: date | None
    """The expected day of release without the find."""
    expected_after: date | None


def set_back(house: House, case: CaseNo, room: RoomNo, now: datetime) -> SetBack | None:
    """The set-back that a room still bears; None if nothing was found since its treatment."""
    today = local_day(now, house.zone)
    found = _last_find(house, case, room, today)
    if found is None:
        return None
    before = house.without(found.entry)
    missing = missing_for_release(house, case, room, now=now)
    days = [lack.values["next_from"] for lack in missing if lack.code == "clean_checks"]
    lost = _most_clean(before, case, room, today) - _most_clean(house, case, room, today)
    return SetBack(
        found_on=found.day,
        room=found.room,
        lost=max(0, lost),
        counts_from=min(days, default=None),
        treat_again=any(lack.code in UNTREATED for lack in missing),
        expected_before=release_range(before, case, room, now).expected,
        expected_after=release_range(house, case, room, now).expected,
    )


def _last_find(house: House, case: CaseNo, room: RoomNo, today: date) -> Find | None:
    done = treatments_done(house, case, room, today)
    first = min((row.entry for row in house.sightings.get(case, ())), default=0)
    if not done:
        return None
    since = [
        find
        for find in finds(house, room)
        if find.day > done[-1].treated_on and find.entry != first
    ]
    return max(since, key=lambda find: (find.day, find.entry), default=None)


def _most_clean(house: House, case: CaseNo, room: RoomNo, today: date) -> int:
    wanted = clean_wanted(house, case, room, today)
    counts = clean_counts(house, room, wanted) if wanted else ()
    return max((count.have for count in counts), default=0)
