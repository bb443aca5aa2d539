"""The book's page on how likely something was missed, room by room, with its range."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hotelwatch.core.odds_figures import ByStance, OddsRules, Stance
from hotelwatch.papers.listings import Attention, Listing, Sheet, Value
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import chance_text, hotel_lines

if TYPE_CHECKING:
    # Their module brings arrays along, which take time to load.
    from hotelwatch.core.odds.rows import GroupRow, RoomRow

MANY = 10_000
DIGITS = 1
WIDEST = 70


@dataclass(frozen=True, slots=True)
class OddsOfMonth:
    """The odds as of a month's end, by what its book knows."""

    rooms: tuple[RoomRow, ...]
    """Every room."""
    hotel: GroupRow
    rules: OddsRules


def odds_sheet(odds: OddsOfMonth) -> Sheet:
    """The page with its assumptions above it."""
    return Sheet(odds_title(), (odds_listing(odds),), tuple(_notes(odds)))


def odds_title() -> str:
    """The page's title."""
    return _("How likely it was missed")


def odds_listing(odds: OddsOfMonth) -> Listing:
    """Each room's chance in words and in numbers, by room."""
    headings = (
        _("Room"),
        _("Floor"),
        _("Chance that something is there and was missed"),
        _("Of 10,000 such rooms, central"),
        _("Of 10,000, optimistic"),
        _("Of 10,000, cautious"),
        _("First underside last looked at"),
        _("How well it is known"),
    )
    rooms = sorted(odds.rooms, key=lambda row: row.room)
    return Listing("odds", headings, tuple(_row(row) for row in rooms), widest=WIDEST)


def _row(row: RoomRow) -> tuple[Value, ...]:
    if row.is_found:
        found = Attention(_("confirmed, and no treatment since is on record"))
        return (row.room, row.floor, found, None, None, None, row.last_on, "")
    return (
        row.room,
        row.floor,
        chance_text(row.chance),
        *_of_many(row.chance),
        row.last_on or _("never"),
        _("Assumption"),
    )


def _of_many(chance: ByStance) -> Iterator[float]:
    """Rounded, so that the last digits of another machine's arithmetic do not show."""
    for stance in (Stance.CENTRAL, Stance.OPTIMISTIC, Stance.CAUTIOUS):
        yield round(chance[stance] * MANY, DIGITS)


def _notes(odds: OddsOfMonth) -> Iterator[str]:
    yield _("Reckoned from what was looked at, how long ago, and from figures that are ASSUMED.")
    yield _(
        "The range goes from optimistic to cautious assumptions. A small chance is no proof"
        " that nothing is there."
    )
    yield from hotel_lines(odds.hotel, odds.rules)
