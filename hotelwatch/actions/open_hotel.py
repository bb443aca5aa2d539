"""The open hotel: its file, its House, the clock, and who sits at the desk."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from copy import copy
from datetime import date, datetime, timedelta, tzinfo
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from hotelwatch.actions import gate
from hotelwatch.actions.session import Session
from hotelwatch.core import days
from hotelwatch.core.building.neighbours import Neighbour, neighbours
from hotelwatch.core.building.rooms import Building, lay_out
from hotelwatch.core.cases.links import TYING, Record, record_of
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.choice_facts import FigureChosen
from hotelwatch.core.facts import (
    Fact,
    FloorPlaced,
    RoomDescribed,
    RoomDrawn,
    RoomNo,
    StaysImported,
    Topic,
    WingPlaced,
)
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Rules
from hotelwatch.core.people import is_guarded
from hotelwatch.core.people_facts import DeedRefused
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes, Stay
from hotelwatch.core.roles import Seat, Sight, may_write, sees
from hotelwatch.core.stays.openings import Occupancy, occupancy
from hotelwatch.core.undoing import Deed
from hotelwatch.store import hotel_file
from hotelwatch.store.journal import Journal
from hotelwatch.store.loading import last_number, load
from hotelwatch.store.print_folder import sweep_print_folder

Decide = Callable[[House], Sequence[Fact]]
"""Says which facts to write down, given the house as it is at that moment."""

NOBODY = "–"
"""Stands as the writer of a refusal where nobody sits there."""
CHECKS_AT_HAND_DAYS = 730
"""Checks older than this stay in the file until a report asks for them."""


class OpenHotel:
    """One hotel's file while it is open. Only the thread that opened it may write."""

    def __init__(
        self, journal: Journal, house: House, *, clock: Callable[[], datetime], by: str
    ) -> None:
        """Hold an open journal and the house read from it."""
        self.journal = journal
        self.by = by
        self.person = ""
        """Who showed a PIN and sits at the desk; empty: nobody."""
        self.right_pins: dict[str, datetime] = {}
        """When each person last gave the right PIN here: wrong ones before count no more."""
        self.session = Session()
        self.announce: Callable[[Changes], None] = _nobody_listens
        self._clock = clock
        self._house = house
        self._building: Building | None = None
        self._neighbours: Mapping[RoomNo, tuple[Neighbour, ...]] | None = None
        self._occupancy: tuple[date, Occupancy] | None = None
        self._record: tuple[House, Record] | None = None

    # --- what is known ------------------------------------------------------------

    @property
    def path(self) -> Path:
        """The hotel's file."""
        return self.journal.path

    @property
    def house(self) -> House:
        """All facts at hand."""
        return self._house

    @property
    def building(self) -> Building:
        """Where the rooms lie."""
        if self._building is None:
            self._building = lay_out(self._house)
        return self._building

    def neighbours(self, house: House | None = None) -> Mapping[RoomNo, tuple[Neighbour, ...]]:
        """Who is whose neighbour, and why; ``house`` may know a newer roster than ours."""
        if house is not None and not _lies_alike(house, self._house):
            return neighbours(house, lay_out(house))
        if self._neighbours is None:
            self._neighbours = neighbours(self._house, self.building)
        return self._neighbours

    @property
    def neighbours_at_hand(self) -> Mapping[RoomNo, tuple[Neighbour, ...]] | None:
        """Who is whose neighbour, where it was found already."""
        return self._neighbours

    def keep_neighbours(self, house: House, found: Mapping[RoomNo, tuple[Neighbour, ...]]) -> None:
        """Take over what somebody found for that house, if rooms still lie as they did."""
        if self._neighbours is None and _lies_alike(house, self._house):
            self._neighbours = found

    def around(self, house: House | None = None) -> Around:
        """Who is whose neighbour, and what the record ties together."""
        return Around(self.neighbours(house), self._ties(house or self._house))

    def occupancy(self) -> Occupancy:
        """Which room is let when, as seen today."""
        today = self.today()
        if self._occupancy is None or self._occupancy[0] != today:
            self._occupancy = (today, occupancy(self._house, today))
        return self._occupancy[1]

    @property
    def zone(self) -> tzinfo:
        """The hotel's time zone; UTC while the hotel is not described."""
        return self._house.zone

    def now(self) -> datetime:
        """The moment, in UTC."""
        return self._clock()

    def today(self) -> date:
        """The hotel's date."""
        return days.local_day(self.now(), self.zone)

    # --- what changes it -------------------------------------------------------------

    def record(
        self, decide: Decide, *, action: str, note: str = "", corrects: int | None = None
    ) -> Changes:
        """Write one entry: what ``decide`` says of the house as it is at that moment.

        Nothing is written where it says nothing. Raises Refusal, and writes
        nothing, where the action is not allowed; where that is because of who sits
        there, the refusal alone is written down, as an entry of its own.
        """

        def allowed(house: House) -> Sequence[Fact]:
            facts = tuple(decide(house))
            gate.check(house, self.person, facts, action=action, corrects=corrects)
            return facts

        with self._denials_noted():
            house, facts = self.journal.append(
                allowed,
                by=self.by,
                action=action,
                at=self.now(),
                note=note,
                corrects=corrects,
                house=self._house,
            )
        if facts or corrects is not None:
            entry = last_number(house)
            self.session.note(Deed(entry, self.by, action, facts, note, corrects))
        return self._take(house)

    def record_stays(self, stays: Sequence[Stay], imported: StaysImported) -> Changes:
        """Replace what was known of bookings from ``imported.replaces_from`` on."""
        self.require(StaysImported, action="import_stays")
        house = self.journal.replace_stays(
            stays, imported, by=self.by, at=self.now(), house=self._house
        )
        self.session.note(Deed(last_number(house), self.by, "import_stays", (imported,)))
        return self._take(house)

    # --- who sits there -----------------------------------------------------------------

    @property
    def is_guarded(self) -> bool:
        """Whether roles count, because people are described."""
        return is_guarded(self._house)

    @property
    def seat(self) -> Seat | None:
        """Who sits there, in the role that they have now; None: nobody."""
        return gate.seat_of(self._house, self.person)

    def may(self, *kinds: type[Fact]) -> bool:
        """Whether who sits there may write each of these kinds down by itself."""
        return not self.is_guarded or (self.seat is not None and may_write(self.seat.role, *kinds))

    def sees(self, sight: Sight) -> bool:
        """Whether who sits there may see this."""
        return not self.is_guarded or (self.seat is not None and sees(self.seat.role, sight))

    def may_take_back(self, entry: int) -> bool:
        """Whether who sits there may let an entry count no more."""
        try:
            gate.check(self._house, self.person, (), action="take_back", corrects=entry)
        except Refusal:
            return False
        return True

    def require(self, kind: type[Fact], *, action: str) -> None:
        """Raise Denied, and note it, unless a kind may be written: for what precedes an entry."""
        self.refresh()
        with self._denials_noted():
            gate.check_kind(self._house, self.person, kind, action=action)

    def require_sight(self, sight: Sight) -> None:
        """Raise Denied, and note it, unless who sits there may see this."""
        with self._denials_noted():
            gate.check_sight(self._house, self.person, sight)

    def note_denial(self, told: DeedRefused) -> None:
        """Write down what was refused; this is never refused itself."""
        self.note(told, action="refuse", by=self.person or told.person or NOBODY)

    def note(self, fact: Fact, *, action: str, by: str = "") -> None:
        """Write down what has happened already, whoever sits there."""
        house, _ = self.journal.append(
            lambda _house: [fact],
            by=by or self.by,
            action=action,
            at=self.now(),
            house=self._house,
        )
        self._take(house)

    @contextmanager
    def _denials_noted(self) -> Iterator[None]:
        try:
            yield
        except gate.Denied as denied:
            with suppress(Refusal):  # a full disk must not hide why it was refused
                self.note_denial(denied.told)
            raise

    # --- what others wrote ----------------------------------------------------------------

    def refresh(self) -> Changes | None:
        """Take in what another window or command wrote since; None if nothing."""
        newer = self.journal.refresh(self._house)
        return None if newer is None else self._take(newer)

    def as_it_is(self) -> OpenHotel:
        """The hotel as it is known at this moment, for a worker, which only reads of it."""
        held = copy(self)
        held.announce = _nobody_listens
        return held

    def close(self) -> None:
        """Close the file; what was printed more than a day ago goes."""
        self.journal.close()
        sweep_print_folder(self.path, self.now())

    def _ties(self, house: House) -> Record:
        """What the record ties; read again only where a fact or a booking of it changed."""
        if self._record is None or not _tells_alike(house, self._record[0]):
            self._record = (house, record_of(house))
        return self._record[1]

    def _take(self, house: House) -> Changes:
        before, self._house = self._house, house
        changes = house.changes_since(before)
        if changes.topics & {Topic.ROSTER, Topic.SETTINGS} and not _lies_alike(house, before):
            self._building = self._neighbours = None
        if changes.topics & {Topic.ROSTER, Topic.STAYS, Topic.SETTINGS, Topic.QUARANTINE}:
            self._occupancy = None
        if changes.topics:
            self.announce(changes)
        return changes


def _lies_alike(one: House, other: House) -> bool:
    kinds = (RoomDescribed, RoomDrawn, FloorPlaced, WingPlaced, FigureChosen)
    return one is other or all(one.kept_of(kind) == other.kept_of(kind) for kind in kinds)


def _tells_alike(one: House, other: House) -> bool:
    if one.stays is not other.stays:
        return False
    return one is other or all(one.kept_of(kind) == other.kept_of(kind) for kind in TYING)


def known_zone(name: str) -> tzinfo:
    """The IANA time zone of that name. Refusal("unknown_zone") if there is none."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise Refusal("unknown_zone", zone=name) from error


def open_hotel(
    path: Path,
    rules: Rules,
    *,
    clock: Callable[[], datetime],
    by: str,
    house: House | None = None,
) -> OpenHotel:
    """Open a hotel's file. Refusal says why it can't be opened; nothing is changed then.

    What was printed from it more than a day ago goes.
    ``house`` is what ``read_house`` read of it a moment ago; only what came since is read.
    """
    journal = hotel_file.open_file(path)
    try:
        if house is None:
            house = load(journal, rules, checks_since=_horizon(clock()))
        else:
            house = journal.refresh(house) or house
        known_zone(house.hotel.zone if house.hotel else "UTC")
    except BaseException:
        journal.close()
        raise
    sweep_print_folder(path, clock())
    return OpenHotel(journal, house, clock=clock, by=by)


def read_house(path: Path, rules: Rules, *, now: datetime) -> House:
    """What ``open_hotel`` has at hand, read through a connection of its own: for a worker."""
    journal = hotel_file.open_file(path, read_only=True)
    try:
        return load(journal, rules, checks_since=_horizon(now))
    finally:
        journal.close()


def _horizon(now: datetime) -> date:
    return now.date() - timedelta(days=CHECKS_AT_HAND_DAYS)


def whole_house(path: Path, rules: Rules) -> House:
    """Every fact of a hotel's file, read through a connection of its own."""
    journal = hotel_file.open_file(path, read_only=True)
    try:
        return load(journal, rules)
    finally:
        journal.close()


def _nobody_listens(changes: Changes) -> None:
    """Stand in until a window listens."""
