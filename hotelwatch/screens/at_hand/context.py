"""What a page is given: the open hotel, and the means to work, to tell and to go elsewhere."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from PySide6.QtWidgets import QWidget

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.facts import Fact, RoomNo
from hotelwatch.core.roles import Sight
from hotelwatch.screens.at_hand.bus import Bus
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.at_hand.odds_kept import OddsKept


class GoTo(Protocol):
    """Goes to another page, perhaps to a room on it."""

    def __call__(self, page: str, room: RoomNo | None = None) -> None:
        """Show that page."""


class Files(Protocol):
    """Asks the person for files and shows them; a test answers at once."""

    def open(self, title: str, patterns: str, then: Callable[[Path], object]) -> None:
        """Ask for a file that exists; ``patterns`` as "Tables (*.xlsx *.csv)"."""

    def save(
        self, title: str, patterns: str, suggested: Path, then: Callable[[Path], object]
    ) -> None:
        """Ask where to write a file."""

    def folder(self, title: str, suggested: Path, then: Callable[[Path], object]) -> None:
        """Ask for a folder that exists."""

    def show(self, path: Path) -> bool:
        """Open a file or folder with whatever the system opens it with; False: nothing does."""


class People(Protocol):
    """Names typed before on this computer."""

    def names(self) -> tuple[str, ...]:
        """Known names, those used last first."""

    def remember(self, names: tuple[str, ...]) -> None:
        """Offer these names first from now on."""


@dataclass(frozen=True, slots=True)
class Context:
    """Handed to every page's factory; pages keep it and look nothing up elsewhere."""

    hotel: OpenHotel
    bus: Bus
    jobs: Jobs
    notices: Notices
    files: Files
    people: People
    go_to: GoTo
    go_to_rooms: Callable[[str, frozenset[RoomNo]], None]
    """Shows these rooms, under a name for them, on the page of the house."""
    log_sighting: Callable[[RoomNo | None], None]
    """Opens the form for a sighting, perhaps with its room filled in."""
    pages: frozenset[str]
    """Keys of the pages there are."""
    odds: OddsKept
    """How sure one may be, as last reckoned."""
    copied_to: Callable[[], Path | None] = lambda: None
    """Tells the folder on another disk or share to which backups are copied."""

    def may(self, *kinds: type[Fact]) -> bool:
        """Whether who sits there may write each of these kinds of fact down by itself."""
        return self.hotel.may(*kinds)

    def sees(self, sight: Sight) -> bool:
        """Whether who sits there may see this."""
        return self.hotel.sees(sight)


@dataclass(frozen=True, slots=True)
class PageSpec:
    """A page of the window: its key, title, drawing and how it is made.

    The page is made when first shown. It has ``refresh()``, called when it is shown
    and something was written down since, and on the first showing. It may have

    - ``focus_room(room)``, called by ``go_to(key, room)`` after the refresh;
    - ``topics``, a frozenset of the Topics that concern it (all, if it has none);
    - ``focus_rooms(name, rooms)``, on the page of the house only;
    - ``focus_sheet(mark)``, on the page of checks only;
    - ``log_sighting(room)`` and ``focus_case(case)``, on the page of cases only;
    - ``take_file(path)``, on pages that load tables;
    - ``draft()``, plain values of what is half entered there (None: nothing), with a ``what``
      in words, and ``take_draft(values)``, which puts them back;
    - ``unsaved()``, sentences on what is typed there and would be lost;
    - a focus proxy, which gets the keyboard when one comes to the page by keys.

    Keys: today, rounds, checks, building, cases, desk, odds, month, rules.
    """

    key: str
    title: str
    icon: str
    factory: Callable[[Context], QWidget]
    in_navigation: bool = True
    """False for a page one comes to by an action, as for loading a roster."""
    needs: Sight | None = None
    """What a role must see for the page to be there; None: nothing."""
    writes: tuple[type[Fact], ...] = ()
    """What a role must be allowed to write down for the page to be there."""
    own_keys: Callable[[], tuple[tuple[str, str], ...]] = tuple
    """Pairs of keys and what they do on this page only, known before it is made."""
    deed: str = ""
    """The code of the action that one comes there for, as a refusal names it."""
