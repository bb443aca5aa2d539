"""Whatever is done to a file's bytes: it is read, or refused by code, and nothing else."""

from __future__ import annotations

import random
import zipfile
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.problems import InputRefused, Refusal
from hotelwatch.intake.grids import FileCode
from hotelwatch.intake.roster_file import read_roster, take
from hotelwatch.intake.stays_file import read_stays
from tests.build import rules
from tests.intake.files import csv_file, ods_cell, ods_file, ods_row, xlsx_file

ROWS = [
    ("Room", "Floor", "Beds", "Connecting", "Arrival", "Nights", "Status"),
    ("101", "1", "2 box spring", "103", date(2026, 3, 1), "3", "booked"),
    ("103", "2", "1 sofa bed, 1 crib", "101", date(2026, 3, 5), "1", "left"),
]
TIMES = 120


def sound_ods(path):
    return ods_file(path, *(ods_row(*(ods_cell(str(cell)) for cell in row)) for row in ROWS))


WRITERS = {
    "csv": lambda path: csv_file(path, ROWS),
    "xlsx": lambda path: xlsx_file(path, ROWS),
    "ods": sound_ods,
}


def read_both(path):
    """Read a file as a roster and as bookings; the codes of those that were refused."""
    readers = (lambda: take(read_roster(path, rules()), keep_good=True), lambda: read_stays(path))
    return [code for read in readers if (code := refusal_of(read))]


def refusal_of(read):
    """The code of a refused file; None where it was read, with whatever problems."""
    try:
        read()
    except Refusal as refusal:
        return FileCode(refusal.code)
    except InputRefused:
        return None


@pytest.mark.parametrize("kind", WRITERS)
def test_the_sound_file_is_read(tmp_path, kind):
    path = WRITERS[kind](tmp_path / f"f.{kind}")
    assert read_both(path) == []
    assert (
        len(take(read_roster(path, rules()), keep_good=False)) == 2 + 2 + 4
    )  # floors, rooms, beds


@pytest.mark.parametrize("kind", WRITERS)
def test_truncated_files_are_refused_by_code_or_read(tmp_path, kind):
    path = WRITERS[kind](tmp_path / f"f.{kind}")
    whole = path.read_bytes()
    dice = random.Random(1)
    refused = 0
    for _ in range(TIMES):
        path.write_bytes(whole[: dice.randrange(len(whole))])
        refused += bool(read_both(path))
    assert refused == TIMES or kind == "csv"


@pytest.mark.parametrize("kind", WRITERS)
def test_files_with_flipped_bytes_are_refused_by_code_or_read(tmp_path, kind):
    path = WRITERS[kind](tmp_path / f"f.{kind}")
    whole = path.read_bytes()
    dice = random.Random(2)
    for _ in range(TIMES):
        mangled = bytearray(whole)
        for _ in range(dice.randint(1, 8)):
            mangled[dice.randrange(len(mangled))] = dice.randrange(256)
        path.write_bytes(mangled)
        assert set(read_both(path)) <= set(FileCode)


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_parts_with_flipped_signs_are_refused_by_code_or_read(tmp_path, kind):
    # Sound archives around broken parts, so that the readers themselves are met.
    sound = WRITERS[kind](tmp_path / f"sound.{kind}")
    with zipfile.ZipFile(sound) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    path = tmp_path / f"f.{kind}"
    dice = random.Random(3)
    refused = 0
    for _ in range(TIMES):
        name = dice.choice(sorted(parts))
        mangled = bytearray(parts[name])
        for _ in range(dice.randint(1, 3)):
            mangled[dice.randrange(len(mangled))] = dice.choice(b'<>"0123456789/ =azAZ')
        with zipfile.ZipFile(path, "w") as archive:
            for part, data in parts.items():
                archive.writestr(part, bytes(mangled) if part == name else data)
        refused += bool(read_both(path))
    assert 0 < refused < TIMES


ODD_TEXT = st.one_of(
    st.text(max_size=8),
    st.text("0123456789", min_size=1, max_size=6000),
    st.from_regex(
        r"[0-9]{0,3}[ x×/,.-]{0,2}(box spring|sofa|king|yes|left|Apr|B|G)?", fullmatch=True
    ),
    st.sampled_from(["1", "101", "2026-03-01", "crib", "𐩀", "²", "①", "-1", "1e400", "٣"]),
)
ROSTER_LINE = ("Room", "Floor", "Wing", "Side", "Order", "Beds", "Encased", "Connecting", "Width")
STAYS_LINE = ("Booking", "Room", "Type", "Arrival", "Departure", "Nights", "Status")


@settings(max_examples=75, deadline=None)
@given(st.data(), st.sampled_from([ROSTER_LINE, STAYS_LINE, (*ROSTER_LINE[:3], "Level", "Beds")]))
def test_cells_of_any_text_are_read_or_named_with_their_row(tmp_path_factory, data, headings):
    width = len(headings)
    line = st.lists(ODD_TEXT, min_size=width, max_size=width)
    rows = data.draw(st.lists(line, min_size=1, max_size=4))
    text = [[cell.replace("\0", "").encode("utf-8", "ignore").decode() for cell in r] for r in rows]
    path = csv_file(tmp_path_factory.mktemp("any") / "f.csv", [headings, *text])
    for reading in (read_roster(path, rules()), read_stays(path)):
        assert all(problem.row <= len(rows) + 1 for problem in reading.problems)
        assert all(problem.code and problem.where == "f.csv" for problem in reading.problems)
