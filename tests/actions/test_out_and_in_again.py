"""The invented hotel with all that a hotel's file can hold goes out, and in on another machine."""

from __future__ import annotations

import re
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest
from PIL import Image

from hotelwatch.actions.backups import back_up_now, wish_of
from hotelwatch.actions.cases import add_photo
from hotelwatch.actions.choices import choose_rule
from hotelwatch.actions.demo.build import build_demo
from hotelwatch.actions.drawing import draw_room
from hotelwatch.actions.exporting import export_everything, how_to_verify, take_in
from hotelwatch.actions.open_hotel import open_hotel, whole_house
from hotelwatch.actions.people import describe_person, sit_down
from hotelwatch.actions.retention import expire
from hotelwatch.actions.rule_sets import choose_profile, load_rules, write_template
from hotelwatch.core.building.shaping import moved
from hotelwatch.core.people_facts import StaffRole
from hotelwatch.core.problems import Refusal
from hotelwatch.store.photos import folder_of
from tests.build import rules

PIN = "2580"
BUILT_AT = datetime(2026, 3, 11, 8, 40, tzinfo=UTC)


@pytest.fixture(scope="module")
def full(tmp_path_factory):
    """The file of a hotel with photos, papers, people, local rules, a drawing, and things gone."""
    folder = tmp_path_factory.mktemp("full")
    path = folder / "inn.hotelwatch"
    build_demo(path, rules(), now=BUILT_AT)
    now = BUILT_AT
    with closing(open_hotel(path, rules(), clock=lambda: now, by="Ana")) as hotel:
        for number, case in enumerate(sorted(hotel.house.sightings)):
            photo = folder / f"{number}.png"
            Image.new("RGB", (40, 30), (number * 20, 90, 200)).save(photo)
            add_photo(hotel, case, photo, f"“left”, bed {number};\nof the frame")
        load_rules(hotel, write_template(folder / "town.toml"))
        choose_profile(hotel, "our_town")
        room = sorted(hotel.building.shapes)[-1]
        corners = moved(hotel.building.shapes[room].outline, (0.25, 400.125))
        draw_room(hotel, room, [number for corner in corners for number in corner])
        describe_person(hotel, "Ana", StaffRole.EXECUTIVE, pin=PIN)
        back_up_now(wish_of(hotel))
        for rule in ("keeps_names", "keeps_notes", "keeps_photos"):
            choose_rule(hotel, rule, "1")
        now = BUILT_AT + timedelta(days=500)
        gone = {fact.what for fact in expire(hotel).facts}
        assert len(gone) > 1, "names and more have expired"
    shutil.rmtree(path.with_suffix(".backups"))
    return path


@pytest.fixture(scope="module")
def taken(full, tmp_path_factory):
    """Its export, and the file that was made of it in a fresh folder."""
    folder = tmp_path_factory.mktemp("elsewhere")
    export_everything(full, folder / "out")
    take_in(folder / "out", folder / "another.hotelwatch")
    return folder / "another.hotelwatch"


def contents(folder):
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def test_the_state_is_the_same_and_its_export_byte_for_byte(full, taken):
    assert whole_house(taken, rules()) == whole_house(full, rules())
    export_everything(taken, taken.with_name("again"))
    assert contents(taken.with_name("again")) == contents(taken.with_name("out"))
    assert folder_of(full).is_dir()
    for ending in (".photos", ".papers"):
        ours, theirs = (contents(path.with_suffix(ending)) for path in (full, taken))
        assert ours == theirs


def test_the_tables_are_the_same_byte_for_byte(full, taken):
    """But for the numbers of rows of bookings, in which imports leave gaps."""
    packed = []
    for path in (full, taken):
        copy, to = (taken.with_name(f"{path.stem}.{ending}") for ending in ("copy", "db"))
        shutil.copyfile(path, copy)
        with closing(sqlite3.connect(copy, isolation_level=None)) as plain:
            plain.execute("CREATE TEMP TABLE kept AS SELECT * FROM stay ORDER BY line")
            plain.execute("UPDATE kept SET line = rowid")
            plain.execute("DELETE FROM stay")
            plain.execute("INSERT INTO stay SELECT * FROM kept")
            plain.execute("VACUUM INTO ?", (str(to),))
        content = to.read_bytes()
        # SQLite file format: bytes 24-27 and 92-95 count changes, 40-43 changes of the schema.
        packed.append((content[:24], content[28:40], content[44:92], content[96:]))
    assert packed[0] == packed[1]


def test_people_rules_and_drawing_came_along(full, taken):
    before = open_hotel(full, rules(), clock=lambda: BUILT_AT, by="")
    after = open_hotel(taken, rules(), clock=lambda: BUILT_AT, by="")
    with closing(before), closing(after):
        with pytest.raises(Refusal):
            sit_down(after, "Ana", "2581")
        sit_down(after, "Ana", PIN)
        assert after.person == "Ana"
        assert after.house.profile == before.house.profile
        assert after.house.profile.key == "our_town"
        assert after.building.shapes == before.building.shapes


def test_a_stranger_finds_that_everything_holds_and_what_was_changed(taken):
    out = taken.with_name("out")
    script = taken.with_name("verify_export.py")
    script.write_text(re.findall(r"```python\n(.*?)```", how_to_verify(), re.DOTALL)[1], "utf-8")
    digests = (out / "digests.txt").read_text().splitlines()

    def said():
        asked = [sys.executable, "-I", str(script), str(out), "120"]
        done = subprocess.run(asked, capture_output=True, text=True, encoding="utf-8", check=False)
        return done.stdout.splitlines()

    assert said() == ["everything holds", f"entry 120: {digests[119][:64]}", digests[-1][:64]]
    for name, old, new in (
        ("csv/photo_kept.csv", b"bed 1;", b"bed 2;"),
        ("csv/stay.csv", b"2026-03", b"2026-04"),
        ("words.jsonl", b'"Ana"', b'"Eve"'),
        ("entries.jsonl", b'"kind":"deep"', b'"kind":"quick"'),
    ):
        content = (out / name).read_bytes()
        assert old in content, name
        (out / name).write_bytes(content.replace(old, new, 1))
        lines = said()
        assert lines[0] != "everything holds"
        assert any(name in line for line in lines)
        assert len(lines) > 3, "more than the list of files says so"
        (out / name).write_bytes(content)
