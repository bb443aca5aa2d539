"""The drawing of 7,000 rooms: frames while one pans and zooms, against painting all of it.

Also a corner dragged with its neighbours, and a day of the past, against the whole house.
Processor time of the window's thread, so that other work on the machine does not count.

Run: python -m tests.bench.bench_house
"""

from __future__ import annotations

import os
import random
import sys
from datetime import timedelta
from statistics import median, quantiles
from time import thread_time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEventLoop, QObject, QPointF, QTimer
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QApplication

from hotelwatch.core.building.neighbours import neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.building.shaping import with_corner
from hotelwatch.core.cases.past_days import PastDays
from hotelwatch.core.cases.room_stands import stands
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    CheckKind,
    FloorPlaced,
    RoomDescribed,
    RoomNo,
    Side,
    WingPlaced,
)
from hotelwatch.core.house import House
from hotelwatch.core.records import Entry
from hotelwatch.screens.building.draw_work import DrawWork
from hotelwatch.screens.building.house_view import HouseView
from hotelwatch.screens.building.room_paint import Frame
from hotelwatch.screens.building.rows import RoomRow
from hotelwatch.screens.building.scene import plan_of
from hotelwatch.screens.look.theme import Look, colours_of
from tests.build import day, moment, rules

WINGS, BAYS = 70, 50
FRAMES = 150
FRAME_MS = 1000 / 60
TODAY = 700
SEEN = tuple(place.code for place in rules().bed_kinds["box_spring"].places)


def resort(wings=WINGS, floors=("1",), looks=2):
    """Two-sided wings of 50 bays in rows, some turned; each bed looked at now and then."""
    chance = random.Random(7)
    facts = [FloorPlaced(floor, level) for level, floor in enumerate(floors, 1)]
    rooms, beds, checks = [], [], []
    for wing in range(wings):
        x, y = wing % 7 * 230.0, wing // 7 * 60.0
        facts.append(WingPlaced(f"W{wing}", x, y, 12.0 if wing % 5 == 4 else 0.0))
        for floor in floors:
            for side in (Side.LEFT, Side.RIGHT):
                for bay in range(1, BAYS + 1):
                    no = RoomNo(f"{floor}-{wing}{side[0].upper()}{bay:02}")
                    rooms.append(RoomDescribed(no, floor, f"W{wing}", side, bay))
                    beds.append(BedDescribed(BedNo(f"{no}/A"), no, "box_spring"))
    for bed in beds:
        on = TODAY - chance.randrange(110)
        for _ in range(looks):
            if on >= 0:
                checks.append(
                    BedChecked(bed.bed, bed.room, day(on), CheckKind.DEEP, ("a",), 9, SEEN)
                )
            on -= 80 + chance.randrange(20)
    this = House(shipped=rules()).add(entry(1, 0), [*facts, *rooms, *beds])
    by_day = {}
    for check in checks:
        by_day.setdefault(check.checked_on, []).append(check)
    for number, (on, those) in enumerate(sorted(by_day.items()), 2):
        this = this.add(entry(number, (on - day(0)).days), those)
    return this


def entry(number, on):
    return Entry(number, moment(on) + timedelta(seconds=number), "b", "b", "", None, "", "")


class PlainView(HouseView):
    """Paints every room for every frame, as a drawing without pictures kept would."""

    def paintEvent(self, event):
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(colours_of(self.palette()).window))
        seen = self.camera.seen(self.view_size())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.paint_piece(painter, Frame(seen.left(), seen.top(), self.camera.scale), self.bounds())
        self.paint_over(painter)
        painter.end()


def shown(kind, this, rows):
    view = kind("House")
    view.motion_ms = 0
    view.resize(1280, 800)
    view.show_scene(plan_of(lay_out(this), "1"))
    view.show_rows(rows)
    view.show()
    wait(50)
    return view


def wait(ms):
    loop = QEventLoop()
    QTimer.singleShot(ms, loop.quit)
    loop.exec()


def painted(view):
    begun = thread_time()
    view.repaint()
    return (thread_time() - begun) * 1000


def pan(view, scale, frames, ahead=False):
    """Milliseconds of each frame while one pulls the drawing along and back."""
    middle = view.bounds().center()
    view.is_fitted = False
    view.camera = type(view.camera)(middle.x(), middle.y(), scale)
    view._come_to_rest()
    painted(view)
    took = []
    for frame in range(frames):
        way = 1 if frame < frames // 2 else -1
        view.pan(QPointF(9 * way, 4 * way))
        took.append(painted(view))
        if ahead:
            wait(0)
    return took


def zoom(view, frames):
    """Milliseconds of each frame while one turns the wheel, in and out again."""
    view.fit_now()
    painted(view)
    took, at = [], QPointF(700, 380)
    for frame in range(frames):
        view.zoom(1.09 if frame < frames // 2 else 1 / 1.09, at)
        took.append(painted(view))
    begun = thread_time()
    view._come_to_rest()
    view.repaint()
    return took, (thread_time() - begun) * 1000


def told(name, took, plain):
    usual = median(took)
    slow = quantiles(took, n=20)[-1]
    in_time = sum(one <= FRAME_MS for one in took) / len(took)
    say(
        f"{name}: median {usual:.1f} ms, 95 of 100 within {slow:.1f} ms, most {max(took):.1f} ms; "
        f"{in_time:.0%} of frames in time for 60 a second ({1000 / usual:.0f} a second); "
        f"painting everything {median(plain):.0f} ms, {median(plain) / usual:.0f} times"
    )


def say(text):
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def frames():
    this = resort()
    at = moment(TODAY)
    begun = thread_time()
    found = stands(this, at, day(TODAY))
    rows = {no: RoomRow(one, "1", 1, "", "", day(TODAY), this.zone) for no, one in found.items()}
    say(f"{len(rows)} rooms on one floor; where they stand {thread_time() - begun:.2f} s")
    view, plain = shown(HouseView, this, rows), shown(PlainView, this, rows)
    fit = view.camera.scale
    for name, scale in (("all", fit), ("3 px/m", 3.0), ("9 px/m", 9.0), ("40 px/m", 40.0)):
        took = pan(view, scale, FRAMES, ahead=True)
        told(f"pan, {name}", took, pan(plain, scale, 6))
    took, rest = zoom(view, FRAMES)
    told("zoom", took, zoom(plain, 6)[0])
    say(f"at rest after zooming, all rooms in view painted anew: {rest:.0f} ms")
    day_later = {
        no: RoomRow(one, "1", 1, "", "", day(TODAY + 1), this.zone)
        for no, one in stands(this, moment(TODAY + 1), day(TODAY + 1)).items()
    }
    begun = thread_time()
    view.show_rows(day_later)
    view.repaint()
    say(f"another day of all rooms shown and painted: {(thread_time() - begun) * 1000:.0f} ms")
    view.close()
    plain.close()


def drag():
    this = resort(wings=10, floors=tuple(str(n) for n in range(1, 8)))
    building = lay_out(this)
    keeper = QObject()
    work = DrawWork(keeper)
    begun = thread_time()
    work.begin(this, building)
    first = (thread_time() - begun) * 1000
    room = RoomNo("3-2L25")
    work.choose(room)
    outline, took = work.outline(), []
    for step in range(60):
        x, y = outline[2]
        begun = thread_time()
        work.try_outline(with_corner(outline, 2, (x + 0.02 * step, y + 0.03 * step)))
        work.tried()
        took.append((thread_time() - begun) * 1000)
    begun = thread_time()
    neighbours(this, building)
    whole = (thread_time() - begun) * 1000
    say(
        f"a corner dragged among {len(building.shapes)} rooms with its neighbours: "
        f"median {median(took):.2f} ms, most {max(took):.1f} ms (to begin {first:.0f} ms); "
        f"all neighbours anew {whole:.0f} ms, {whole / median(took):.0f} times"
    )


def past():
    this = resort(wings=20, looks=8)
    past_days = PastDays(this)
    begun = thread_time()
    past_days.at(past_days.end_of(day(TODAY - 400)))
    first = (thread_time() - begun) * 1000
    took, slow = [], []
    for number in range(TODAY - 300, TODAY, 12):
        at = past_days.end_of(day(number))
        begun = thread_time()
        quick = past_days.at(at)
        took.append((thread_time() - begun) * 1000)
        if number % 5 == 0:
            begun = thread_time()
            if stands(this.as_of(at), at, day(number)) != quick:
                raise SystemExit("the two answers differ")
            slow.append((thread_time() - begun) * 1000)
    say(
        f"a day of the past, {len(this.rooms)} rooms with 700 days of record: "
        f"median {median(took):.1f} ms (the first {first:.0f} ms); "
        f"the house as of that day {median(slow):.0f} ms, {median(slow) / median(took):.0f} times,"
        " same answers"
    )


if __name__ == "__main__":
    app = QApplication.instance() or QApplication([])
    look = Look(app)
    frames()
    drag()
    past()
