"""What a room's odds rest on: its last look, what that left out, who came since, its neighbours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.facts import BedChecked, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.day_later import chances_later
from hotelwatch.core.odds.evidence import Visit
from hotelwatch.core.odds.hotel import Reckoning, odds_of
from hotelwatch.core.odds.sensitivity import mean_chance_seen
from hotelwatch.core.odds.settings import Look
from hotelwatch.core.odds.since import HIGH, LOW, Window
from hotelwatch.core.odds_figures import ByStance, Stance

MONTH_DAYS = 30


@dataclass(frozen=True, slots=True)
class LastVisit:
    """The last look at a room, and what it would have missed."""

    on: date
    has_find: bool
    seen: tuple[str, ...]
    """Codes of parts looked at, of any of its beds or of the room, in looking order."""
    unseen: tuple[str, ...]
    """Codes of parts that were not looked at on at least one bed, or in the room."""
    insects: int
    missed: ByStance
    """The chance that this look would have missed an infestation of so many."""


@dataclass(frozen=True, slots=True)
class RoomStory:
    """What a room's odds rest on."""

    room: RoomNo
    last: LastVisit | None
    looks: int
    """Visits on record."""
    record_from: date
    arrivals_since: float
    """Stays that began since the last look, or on record; expected where bookings are not."""
    is_expected: bool
    """Whether some of those arrivals are only expected."""
    by_day: ByStance
    """The chance of an introduction on one more day."""
    window: Mapping[Stance, Window]
    """If something is there: when it most likely came in, 5 to 95 %."""
    insects: ByStance
    """If something is there: how many, in the middle case."""
    treated_on: date | None
    """The last treatment on record."""
    in_a_month: ByStance
    """The chance 30 days from now, if nobody looks until then."""


def room_story(house: House, reckoning: Reckoning, room: RoomNo) -> RoomStory:
    """What a room's odds rest on today."""
    known = reckoning.records
    plain = known.plain[room]
    window: dict[Stance, Window] = {}
    insects: dict[Stance, float] = {}
    for stance in Stance:
        _record, odds = odds_of(reckoning, house, room, stance)
        first, last = odds.since_window(LOW, HIGH)
        window[stance] = known.day_of(first), known.day_of(last)
        insects[stance] = float(odds.insects[odds.since_window(0.5, 0.5)[0]])
    figures = {stance: odds.rooms[room] for stance, odds in reckoning.of.items()}
    visit = plain.visits[-1] if plain.visits else None
    since = visit.day if visit else plain.began
    bookings_from = known.nights.known_from
    return RoomStory(
        room=room,
        last=_last_visit(house, reckoning, room, visit) if visit else None,
        looks=len(plain.visits),
        record_from=known.day_of(plain.began),
        arrivals_since=float(known.nights.arrivals_of(plain.row)[since:].sum()),
        is_expected=bookings_from is None or bookings_from > since,
        by_day={stance: row.by_day for stance, row in figures.items()},
        in_a_month={
            stance: float(chances_later(row.chance, 1.0 - (1.0 - row.by_day) ** MONTH_DAYS))
            for stance, row in figures.items()
        },
        window=window,
        insects=insects,
        treated_on=known.day_of(max(plain.treated)) if plain.treated else None,
    )


def _last_visit(house: House, reckoning: Reckoning, room: RoomNo, visit: Visit) -> LastVisit:
    day = reckoning.records.day_of(visit.day)
    seen, unseen = _parts(house, room, day, visit.entry)
    insects = int(house.rules.odds.figures.survey_insects.value)
    shares = reckoning.records.plain[room].shares
    missed: dict[Stance, float] = {}
    for stance, odds in reckoning.of.items():
        look = Look(visit.seen, odds.setting.notice[visit.notice])
        found = mean_chance_seen(odds.setting, look, [float(insects)], shares=shares)
        missed[stance] = 1.0 - float(found[0])
    return LastVisit(day, visit.has_find, seen, unseen, insects, missed)


def _parts(
    house: House, room: RoomNo, day: date, entry: int
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Codes looked at, and codes not looked at somewhere, in looking order."""
    rules = house.rules
    seen: dict[str, None] = {}
    unseen: dict[str, None] = {}

    def take(codes: list[str], fact: BedChecked | RoomChecked | None) -> None:
        looked = set(fact.seen) if fact is not None else set()
        seen.update((code, None) for code in codes if code in looked)
        unseen.update((code, None) for code in codes if code not in looked)

    for bed in house.beds_of(room):
        places = rules.bed_kinds[bed.kind].places_of(encased=bed.encased)
        rows = house.checks_by_bed.get(bed.bed, ())
        at = [r.fact for r in rows if r.entry == entry and r.fact.checked_on == day]
        take([place.code for place in places], at[-1] if at else None)
    looks = house.kept_room_checks.get(room, ())
    told = [r.fact for r in looks if r.entry == entry and r.fact.checked_on == day]
    take([place.code for place in rules.room_places], told[-1] if told else None)
    return tuple(seen), tuple(unseen)
