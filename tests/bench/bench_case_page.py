"""The page of cases in a resort of 7,000 rooms with 40 open cases, against a bare label.

Run: python -m tests.bench.bench_case_page
"""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path
from statistics import median

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QLabel

from hotelwatch import paths
from hotelwatch.actions.hotel import start_hotel
from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.cases.links import record_of
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import HotelDescribed, StaysImported
from hotelwatch.intake.rules_file import read_rules
from hotelwatch.screens.at_hand.bus import Bus
from hotelwatch.screens.at_hand.choices import ChoiceStore
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.at_hand.odds_kept import OddsKept
from hotelwatch.screens.cases.page import CasesPage
from tests.bench.bench_ring import CASES, resort, with_cases
from tests.build import day, moment

TIMES = 8


def main() -> None:
    app = QApplication.instance() or QApplication([])
    with tempfile.TemporaryDirectory() as folder:
        hotel = _hotel(Path(folder))
        page = _page(hotel, Path(folder))
        cases = list(hotel.house.sightings)[:CASES]
        bare = median(_seconds(_bare, app) for _ in range(TIMES))
        page.choose(cases[0])
        app.processEvents()
        for name, part in (("what is next", None), ("ring", page.panel.ring_part)):
            page.panel.tabs.setCurrentWidget(part or page.panel.tabs.widget(0))
            page.choose(cases[1])
            took = [_seconds(_choose, app, page, case) for case in cases[2 : 2 + TIMES]]
            print(
                f"choosing one of {CASES} cases, {name}: median {median(took) * 1000:.0f} ms,"
                f" most {max(took) * 1000:.0f} ms; a bare label {bare * 1000:.1f} ms,"
                f" {median(took) / bare:.1f} times"
            )
        hotel.close()


def _choose(app, page, case):
    page.choose(case)
    page.grab()


def _bare(app):
    label = QLabel("hotelwatch")
    label.resize(1280, 800)
    label.grab()


def _seconds(act, *values):
    start = time.process_time()
    act(*values)
    return time.process_time() - start


def _hotel(folder):
    house, chance = resort()
    around = Around(neighbours(house, lay_out(house)), record_of(house))
    told = with_cases(house, around, chance)
    described = HotelDescribed(name="Resort (invented)", zone="Europe/Vienna")
    hotel = start_hotel(
        folder / "resort.hotelwatch",
        described,
        read_rules(paths.resources()),
        clock=lambda: moment(1),
        by="bench",
    )
    facts = [fact for kind in FACT_KINDS for fact in told.all_of(kind)]
    hotel.record(lambda _house: facts, action="bench")
    hotel.record_stays(told.stays, StaysImported("bench.csv", "0" * 64, day(-400), 1, 0))
    return hotel


def _page(hotel, folder):
    went = type("Went", (), {})()
    jobs = Jobs()
    context = Context(
        hotel=hotel,
        bus=Bus(),
        jobs=jobs,
        notices=Notices(),
        files=None,
        people=ChoiceStore(folder),
        go_to=lambda page, room=None: setattr(went, "last", (page, room)),
        go_to_rooms=lambda name, rooms: None,
        log_sighting=lambda room: None,
        pages=frozenset({"cases", "checks"}),
        odds=OddsKept(hotel, jobs),
    )
    page = CasesPage(context)
    page.resize(1060, 690)
    page.refresh()
    page.show()
    return page


if __name__ == "__main__":
    main()
