"""What must hold when a process is killed, two write at once, or the disk is full."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from itertools import pairwise
from pathlib import Path

import pytest

from hotelwatch.core.facts import FloorPlaced
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.loading import load
from hotelwatch.store.verify import verify
from tests.build import rules
from tests.store.conftest import Desk

ROOT = Path(__file__).resolve().parents[2]

WRITER = """
import sys
import time
from pathlib import Path
from hotelwatch.core.facts import FloorPlaced
from hotelwatch.core.problems import Refusal
from hotelwatch.store.hotel_file import open_file
from hotelwatch.store.loading import load
from tests.build import moment, rules

path, name, count, room = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
if room:
    import resource
    limit = path.stat().st_size + room
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
journal = open_file(path)
house = load(journal, rules())
print("ready", flush=True)
sys.stdin.readline()
for number in range(count):
    def decide(house):
        last = max(house.entries, default=0)
        return [FloorPlaced(f"{name} {number} after {last} line {n}", n) for n in range(30)]
    try:
        house, _ = journal.append(decide, by=name, action="test", at=moment(number), house=house)
    except Refusal as refusal:
        print("refused", refusal.code, flush=True)
        break
    print(max(house.entries), flush=True)
    time.sleep(float(sys.argv[5]))
journal.close()
"""


def writer(path, name, count, *, room=0, pause=0.0):
    values = map(str, (path, name, count, room, pause))
    command = [sys.executable, "-c", WRITER, *values]
    pipe = subprocess.PIPE
    process = subprocess.Popen(command, cwd=ROOT, stdin=pipe, stdout=pipe, stderr=pipe, text=True)
    assert process.stdout.readline() == "ready\n"
    return process


def start(*processes):
    """Let them write, all from one moment."""
    for process in processes:
        process.stdin.write("\n")
        process.stdin.flush()


def whole(path):
    journal = open_file(path)
    try:
        return load(journal, rules())
    finally:
        journal.close()


def test_what_was_acknowledged_survives_a_kill_at_any_moment(tmp_path):
    path = tmp_path / "killed.hotel"
    create(path).close()
    chooser = random.Random(7)
    acknowledged = []
    for run in range(6):
        process = writer(path, f"run {run}", 100_000)
        start(process)
        told = [process.stdout.readline() for _ in range(chooser.randint(1, 12))]
        time.sleep(chooser.uniform(0, 0.008))
        process.kill()
        rest, errors = process.communicate(timeout=30)
        assert errors == ""
        # A number without its line break may have been cut: it was not told.
        lines = ("".join(told) + rest).split("\n")[:-1]
        acknowledged += [(int(line), f"run {run}") for line in lines]
        house = whole(path)
        for number, name in acknowledged:
            assert house.entries[number].by == name
        assert verify(path).is_sound
    assert len(acknowledged) >= 6
    counts = dict.fromkeys(house.entries, 0)
    for row in house.kept[FloorPlaced]:
        counts[row.entry] += 1
    assert set(counts.values()) == {30}, "no entry is there in part"


def test_two_processes_that_write_at_once_lose_nothing(tmp_path):
    path = tmp_path / "two.hotel"
    create(path).close()
    count = 60
    # Without a pause one of them may not get its turn before the other is done.
    processes = [writer(path, name, count, pause=0.01) for name in ("anna", "boris")]
    start(*processes)
    told = []
    for process in processes:
        out, errors = process.communicate(timeout=100)
        assert (process.returncode, errors) == (0, "")
        told.append([int(line) for line in out.split()])
    assert sorted(told[0] + told[1]) == list(range(1, 2 * count + 1))
    house = whole(path)
    assert list(house.entries) == list(range(1, 2 * count + 1))
    names = [entry.by for entry in house.entries.values()]
    assert sum(a != b for a, b in pairwise(names)) > 2, "they did write at once"
    for row in house.kept[FloorPlaced]:
        # Each decided on a house that had every entry before its own.
        assert f"after {row.entry - 1} " in row.fact.floor
        assert row.fact.floor.startswith(house.entries[row.entry].by)
    assert verify(path).is_sound


@pytest.mark.skipif(sys.platform == "win32", reason="needs a limit on a file's size")
def test_a_file_that_may_not_grow_refuses_and_keeps_what_it_had(tmp_path):
    path = tmp_path / "full.hotel"
    create(path).close()
    process = writer(path, "anna", 1000, room=50_000)
    start(process)
    out, errors = process.communicate(timeout=60)
    assert (process.returncode, errors) == (0, "")
    *numbers, last = out.splitlines()
    assert last in ("refused disk_full", "refused disk_failed")
    assert len(numbers) > 2
    assert list(whole(path).entries) == [int(number) for number in numbers]
    assert verify(path).is_sound


def test_a_full_disk_refuses_and_the_desk_goes_on_when_there_is_room(desk):
    desk.write(FloorPlaced("1", 1))
    db = desk.journal.db
    pages = db.execute("PRAGMA page_count").fetchone()[0]
    db.execute(f"PRAGMA max_page_count = {pages + 2}")
    before = desk.house
    with pytest.raises(Exception, match="disk_full"):
        desk.write(*(FloorPlaced(str(number) * 50, number) for number in range(2000)))
    assert load(desk.journal, rules()) == before
    db.execute(f"PRAGMA max_page_count = {pages + 2000}")
    desk.write(FloorPlaced("2", 2))
    assert list(desk.house.entries) == [1, 2]
    assert verify(desk.journal.path).is_sound


def test_a_journal_left_by_a_killed_process_is_rolled_back_on_opening(tmp_path):
    path = tmp_path / "cut.hotel"
    desk = Desk(create(path))
    desk.write(FloorPlaced("1", 1))
    kept = desk.house
    # A write in the middle, with part of it in the file: what a power cut leaves.
    db = desk.journal.db
    db.execute("PRAGMA cache_size = 1")
    db.execute("BEGIN IMMEDIATE")
    row = (2, "2026-01-05T09:00:00Z", "x", "x", "x" * 200_000, None, "x", "0" * 64)
    db.conn.execute("INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?)", row)
    journal = path.with_name(f"{path.name}-journal")
    cut = tmp_path / "after"
    cut.mkdir()
    (cut / path.name).write_bytes(path.read_bytes())
    (cut / journal.name).write_bytes(journal.read_bytes())
    db.rollback()
    desk.journal.close()
    assert (cut / path.name).stat().st_size > path.stat().st_size
    assert whole(cut / path.name) == kept
    assert verify(cut / path.name).is_sound
    assert [p.name for p in cut.iterdir()] == [path.name]


def test_a_file_that_a_killed_process_left_is_checked_without_being_opened_first(tmp_path):
    path = tmp_path / "cut.hotel"
    desk = Desk(create(path))
    desk.write(FloorPlaced("1", 1))
    db = desk.journal.db
    db.execute("PRAGMA cache_size = 1")
    db.execute("BEGIN IMMEDIATE")
    row = (2, "2026-01-05T09:00:00Z", "x", "x", "x" * 200_000, None, "x", "0" * 64)
    db.conn.execute("INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?)", row)
    cut = tmp_path / "after"
    cut.mkdir()
    for name in (path.name, f"{path.name}-journal"):
        (cut / name).write_bytes((tmp_path / name).read_bytes())
    db.rollback()
    desk.journal.close()
    found = verify(cut / path.name)
    assert (found.problems, found.entries) == ((), 1)


def test_a_file_that_another_holds_is_busy_not_damaged(desk, monkeypatch):
    desk.write(FloorPlaced("1", 1))
    monkeypatch.setattr("hotelwatch.store.connection.BUSY_MS", 50)
    held = desk.journal.db.conn
    held.execute("BEGIN EXCLUSIVE")
    with pytest.raises(Exception, match="file_busy"):
        verify(desk.journal.path)
    held.rollback()
