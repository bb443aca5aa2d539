"""The first page read anew at 2,000 rooms and ten years: what the window's thread waits for.

Run as ``python -m tests.bench.bench_today``. Six teams with 72 rooms on their sheets and three
open cases; each time one check more was written down. Beside it stand one pass over the due
dates of all beds, which no such page can do without, in the same run, and what the charts over
time take in their job. Times are those of the window's thread on the processor, so that others at
work on the machine count little.
"""

from __future__ import annotations

import os
import tempfile
import time
from dataclasses import fields
from datetime import UTC, datetime, timedelta
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from hotelwatch import paths
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import CaseNo, RoomNo, RoundPublished, SlotPublished, TeamDescribed
from hotelwatch.core.facts import TeamName as Team
from hotelwatch.core.whole.over_time import over_time
from hotelwatch.intake.rules_file import read_rules
from hotelwatch.screens.at_hand.bus import Bus
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.at_hand.odds_kept import OddsKept
from hotelwatch.screens.look.theme import Look
from hotelwatch.screens.month.over_time import REACH
from hotelwatch.screens.today.page import TodayPage
from tests.bench.bench_store import TODAY, build_ten_years, one_check, spread, tell_pair

NOW = datetime(TODAY.year, TODAY.month, TODAY.day, 9, tzinfo=UTC)
TEAMS, ROOMS_EACH, CASES, ROUNDS = 6, 12, 3, 15


def main() -> None:
    """Print the times."""
    app = QApplication([])
    look = Look(app)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "ten_years.hotelwatch"
        build_ten_years(path)
        hotel = open_hotel(path, read_rules(paths.resources()), clock=lambda: NOW, by="bench")
        _fill(hotel)
        page, jobs = _page(hotel, Path(folder))
        look.dress(page)
        _, taken = timed(page.refresh)
        print(f"first time            {taken * 1e3:8.2f} ms")
        _settle(app, jobs)
        again, bare = [], []
        for number in range(ROUNDS):
            check = one_check(f"{number + 1:02}{number:02}", TODAY)
            hotel.record(lambda _, check=check: [check], action="bench")
            _, taken = timed(lambda: looks(hotel.house, TODAY))
            bare.append(taken)
            hotel.record(lambda _, check=check: [check], action="bench")
            _settle(app, jobs)
            _, taken = timed(page.refresh)
            again.append(taken)
            _settle(app, jobs)
        tell_pair("after one check more", again, "due dates of all beds", bare)
        _, taken = timed(lambda: over_time(hotel.house, TODAY, REACH))
        print(f"charts over time, in their job {taken:.2f} s; refresh {spread(again)}")
        jobs.close()
        page.deleteLater()
        hotel.close()


def timed(run):
    """What it gave, and the processor time that this thread took for it."""
    start = time.thread_time()
    result = run()
    return result, time.thread_time() - start


def _settle(app, jobs) -> None:
    """Let jobs end: one that runs meanwhile takes its share of the processor."""
    while jobs.is_busy:
        app.processEvents()
        time.sleep(0.002)


def _fill(hotel) -> None:
    rooms = list(hotel.house.rooms)
    teams = [TeamDescribed(Team(f"team {n}"), 2, 300) for n in range(TEAMS)]
    slots = []
    for team in range(TEAMS):
        for place in range(ROOMS_EACH):
            room = rooms[team * ROOMS_EACH + place]
            beds = tuple(bed.bed for bed in hotel.house.beds_of(room))
            slots.append(SlotPublished(TODAY, Team(f"team {team}"), place, room, beds, 20, ""))
    round_ = RoundPublished(TODAY, TODAY + timedelta(days=7))
    hotel.record(lambda _: [*teams, round_, *slots], action="bench")
    for number in range(CASES):
        case, room = CaseNo(f"2026-{number + 1:03}"), RoomNo(rooms[300 + 7 * number])
        found = Sighted(case, room, "", "seats", Sign.LIVE_INSECT, 1, "bench", NOW)
        closed = QuarantinePlaced(room, case, NOW, "sighting")
        near = [rooms[300 + 7 * number + step] for step in (-2, 2)]
        by = NOW + timedelta(hours=8)
        asked = [CheckAsked(case, RoomNo(one), ("shares_wall",), by) for one in near]
        hotel.record(lambda _, told=(found, closed, *asked): list(told), action="bench")


def _page(hotel, folder):
    jobs, went = Jobs(), lambda *_where: None
    given = {
        "hotel": hotel,
        "bus": Bus(),
        "jobs": jobs,
        "notices": Notices(),
        "files": None,
        "people": ChoiceStore(folder),
        "go_to": went,
        "go_to_rooms": went,
        "log_sighting": went,
        "pages": frozenset({"checks", "cases", "building", "odds"}),
        "odds": OddsKept(hotel, jobs),
        "drafts": folder,
    }
    known = {field.name for field in fields(Context)}
    page = TodayPage(Context(**{name: one for name, one in given.items() if name in known}))
    page.resize(1068, 672)
    page.show()
    return page, jobs


if __name__ == "__main__":
    main()
