"""The tabs of each page, by which one comes to them before the page was ever made.

A test holds the titles against the pages' own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from PySide6.QtWidgets import QTabBar, QWidget

from hotelwatch.core.facts import Fact
from hotelwatch.core.people_facts import TrainingRecorded
from hotelwatch.core.roles import Sight
from hotelwatch.screens.frame.go_to_box import Goal, Kind
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m


@dataclass(frozen=True, slots=True)
class TabOfPage:
    """A tab: what it is known by, its title, and what a role must see for it to be there."""

    code: str
    marked_title: str
    needs: Sight | None = None
    writes: tuple[type[Fact], ...] = ()
    """What also shows the tab to a role that may write it down."""

    @property
    def title(self) -> str:
        """As it stands on the page, where a count may follow it."""
        return _(self.marked_title)


TABS: dict[str, tuple[TabOfPage, ...]] = {
    "rounds": (
        TabOfPage("plan", m("Plan")),
        TabOfPage("visits", m("Visits")),
        TabOfPage("what_if", m("What if")),
        TabOfPage("days", m("Days")),
        TabOfPage("teams", m("Teams")),
        TabOfPage("cycles", m("Cycles")),
    ),
    "checks": (
        TabOfPage("record", m("Record a check")),
        TabOfPage("recorded", m("Recorded lately")),
    ),
    "cases": (
        TabOfPage("cases", m("Cases")),
        TabOfPage("asked", m("Checks asked for")),
        TabOfPage("dogs", m("Dog visits")),
        TabOfPage("next", m("What is next, and the story")),
        TabOfPage("ring", m("Other rooms")),
        TabOfPage("since", m("Since when")),
        TabOfPage("treatment", m("Treatment")),
        TabOfPage("release", m("Release")),
    ),
    "odds": (
        TabOfPage("look_next", m("Where to look next")),
        TabOfPage("hotel", m("The hotel")),
        TabOfPage("cycle", m("What a cycle buys")),
        TabOfPage("surveys", m("Surveys")),
        TabOfPage("trials", m("Blind trials"), Sight.TRIALS),
        TabOfPage("compare", m("Compare rules")),
        TabOfPage("back", m("Looking back")),
        TabOfPage("rests", m("What it rests on")),
    ),
    "month": (
        TabOfPage("book", m("The month's book")),
        TabOfPage("over_time", m("Over time")),
        TabOfPage("traps", m("Traps")),
        TabOfPage("check", m("Check a book"), Sight.RECORD),
    ),
    "rules": (
        TabOfPage("sets", m("Local rules")),
        TabOfPage("choices", m("Own choices")),
        TabOfPage("figures", m("Figures")),
        TabOfPage("holidays", m("Public holidays")),
        TabOfPage("carts", m("Carts")),
        TabOfPage("types", m("Types of room")),
        TabOfPage("hotel", m("The hotel")),
        TabOfPage("kept", m("What is kept")),
        TabOfPage("people", m("People"), Sight.PEOPLE),
        TabOfPage("training", m("Training"), Sight.PEOPLE, (TrainingRecorded,)),
    ),
}


def tab_of(page: str, code: str) -> TabOfPage | None:
    """The tab of that code; None where the page has none."""
    return next((tab for tab in TABS.get(page, ()) if tab.code == code), None)


def goal_of_tab(page: str, title: str, go: Callable[[str], object]) -> Goal:
    """The way to the tab of that title on the page of that title."""
    return Goal(Kind.TAB, title, title, _("Tab of {page}").format(page=page), partial(go, title))


def turn_to(page: QWidget, title: str) -> bool:
    """Turn a page to the tab of that title, exactly or with a count behind it."""
    for bar, place in _places(page):
        said = bar.tabText(place).replace("&", "")
        if said == title or said.startswith(f"{title} ("):
            bar.setCurrentIndex(place)
            return True
    return False


def _places(page: QWidget) -> Iterator[tuple[QTabBar, int]]:
    for bar in page.findChildren(QTabBar):
        for place in range(bar.count()):
            if bar.isTabVisible(place) and bar.isTabEnabled(place):
                yield bar, place
