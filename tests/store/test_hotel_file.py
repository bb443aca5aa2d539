from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest

from hotelwatch.core.facts import FloorPlaced
from hotelwatch.core.problems import Refusal
from hotelwatch.store import connection, hotel_file
from hotelwatch.store.connection import has_wal_fix
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.loading import load
from hotelwatch.store.schema import APPLICATION_ID, FORMAT, objects
from hotelwatch.store.verify import verify
from tests.build import rules
from tests.store.conftest import Desk

ROOT = Path(__file__).resolve().parents[2]


def state(folder):
    """Every file of a folder with its bytes and the moment it was last written."""
    return {
        path.name: (path.read_bytes(), path.stat().st_mtime_ns)
        for path in folder.rglob("*")
        if path.is_file()
    }


def assert_refused(code, path, **kwargs):
    before = state(path.parent)
    with pytest.raises(Refusal) as caught:
        open_file(path, **kwargs)
    assert caught.value.code == code
    assert state(path.parent) == before, "nothing was changed, and nothing left beside it"
    return caught.value.values


@pytest.fixture
def closed(desk):
    desk.write(*(FloorPlaced(str(n), n) for n in range(1, 900)))
    desk.journal.close()
    return desk.journal.path


def test_a_new_file_is_empty_marked_and_numbered(tmp_path):
    path = tmp_path / "new.hotel"
    journal = create(path)
    assert load(journal, rules()).entries == {}
    journal.close()
    # SQLite file format: user_version at byte 60, application_id at byte 68.
    head = path.read_bytes()[:100]
    assert int.from_bytes(head[60:64], "big") == FORMAT
    assert int.from_bytes(head[68:72], "big") == APPLICATION_ID
    assert [p.name for p in tmp_path.iterdir()] == ["new.hotel"]


def test_an_existing_file_is_never_made_anew(tmp_path):
    path = tmp_path / "letter.txt"
    path.write_text("Dear guest")
    with pytest.raises(Refusal) as caught:
        create(path)
    assert caught.value.code == "file_exists"
    assert state(tmp_path).keys() == {"letter.txt"}
    assert path.read_text() == "Dear guest"


def test_a_file_is_not_made_in_a_folder_that_is_not_there(tmp_path):
    with pytest.raises(Refusal) as caught:
        create(tmp_path / "nowhere" / "new.hotel")
    assert caught.value.code == "no_such_folder"


def test_a_missing_file_is_said_to_be_missing(tmp_path):
    assert_refused("no_such_file", tmp_path / "none.hotel")
    assert not (tmp_path / "none.hotel").exists()


@pytest.mark.parametrize(
    "content", [b"", b"room,bed\n101,A\n", b"SQLite format 3\x00", b"\x00" * 5000, b"PK\x03\x04"]
)
@pytest.mark.parametrize("read_only", [False, True])
def test_what_is_no_hotel_file_is_left_alone(tmp_path, content, read_only):
    path = tmp_path / "strange.hotel"
    path.write_bytes(content)
    assert_refused("not_a_hotel_file", path, read_only=read_only)


def test_a_folder_is_no_hotel_file(tmp_path):
    (tmp_path / "folder").mkdir()
    assert_refused("not_a_hotel_file", tmp_path / "folder")


def test_another_programs_database_is_left_alone(tmp_path):
    path = tmp_path / "other.db"
    with closing(sqlite3.connect(path)) as plain:
        plain.execute("PRAGMA journal_mode = WAL")
        plain.execute("CREATE TABLE entry (id INTEGER)")
    assert_refused("not_a_hotel_file", path)


def test_a_file_of_a_newer_version_says_which(closed):
    with closing(sqlite3.connect(closed)) as plain:
        plain.execute(f"PRAGMA user_version = {FORMAT + 1}")
    values = assert_refused("newer_file", closed)
    assert (values["file_format"], values["our_format"]) == (str(FORMAT + 1), str(FORMAT))


def test_a_file_of_an_earlier_trial_is_not_called_damaged(closed):
    with closing(sqlite3.connect(closed)) as plain:
        plain.execute(f"PRAGMA user_version = {FORMAT - 1}")
    assert_refused("older_file", closed)


def test_the_tables_have_the_shape_that_the_files_number_stands_for():
    """A kind of fact more or a column changed is another shape: it wants the next number."""
    shape = sha256("\n".join(objects().values()).encode()).hexdigest()
    assert (FORMAT, shape[:12]) == (9, "9d96acb57f55")


@pytest.mark.parametrize("share", [0.3, 0.7, 0.95])
@pytest.mark.parametrize("read_only", [False, True])
def test_a_file_cut_short_is_damaged(closed, share, read_only):
    content = closed.read_bytes()
    closed.write_bytes(content[: int(len(content) * share)])
    assert_refused("damaged_file", closed, read_only=read_only)


def test_a_file_whose_first_page_was_overwritten_is_damaged(closed):
    content = bytearray(closed.read_bytes())
    content[100:3000] = b"\xff" * 2900
    closed.write_bytes(content)
    assert_refused("damaged_file", closed)


def what_reading_tells(path):
    """The code with which opening or loading is refused; empty if it is not."""
    try:
        journal = open_file(path)
        try:
            load(journal, rules())
        finally:
            journal.close()
    except Refusal as refusal:
        return refusal.code
    return ""


def test_a_page_of_facts_overwritten_is_refused_in_loading_or_told_by_verify(closed):
    whole = closed.read_bytes()
    for page in range(2, len(whole) // 4096):
        content = bytearray(whole)
        content[page * 4096 : (page + 1) * 4096] = b"\xa5" * 4096
        closed.write_bytes(content)
        assert what_reading_tells(closed) in ("", "damaged_file")
        assert not verify(closed).is_sound
        assert closed.read_bytes() == bytes(content)


def test_a_file_whose_guards_were_taken_off_is_damaged(closed):
    with closing(sqlite3.connect(closed)) as plain:
        plain.execute("DROP TRIGGER entry_no_update")
    values = assert_refused("damaged_file", closed)
    assert values["reason"] == "entry_no_update"


def test_cells_that_we_did_not_write_are_damage(closed):
    with closing(sqlite3.connect(closed)) as plain:
        row = (2, "2026-13-77T25:00:00Z", "x", "x", "", None, "x", "0" * 64)
        plain.execute("INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?)", row)
        plain.commit()
    journal = open_file(closed)
    with pytest.raises(Refusal) as caught:
        load(journal, rules())
    assert caught.value.code == "damaged_file"
    journal.close()


OPEN_AS_NOBODY = """
import os, sys
from pathlib import Path
from hotelwatch.core.problems import Refusal
from hotelwatch.store.hotel_file import open_file
os.setgid(65534)
os.setuid(65534)
try:
    open_file(Path(sys.argv[1]), read_only=sys.argv[2] == "ro").close()
    print("opened")
except Refusal as refusal:
    print(refusal.code)
"""


@pytest.mark.parametrize(
    ("file_mode", "folder_mode", "how", "told"),
    [
        (0o444, 0o777, "rw", "read_only_file"),
        (0o666, 0o555, "rw", "read_only_file"),
        (0o000, 0o777, "rw", "read_only_file"),
        (0o444, 0o555, "ro", "opened"),
        (0o666, 0o777, "rw", "opened"),
    ],
)
def test_a_file_that_may_not_be_written_is_said_to_be_read_only(
    closed, tmp_path_factory, file_mode, folder_mode, how, told
):
    if not hasattr(os, "setuid") or os.getuid() != 0:
        pytest.skip("needs root, to become a person without rights")
    folder = Path("/tmp") / f"hotelwatch-test-{os.getpid()}"
    folder.mkdir()
    try:
        path = folder / "test.hotel"
        shutil.copy(closed, path)
        path.chmod(file_mode)
        folder.chmod(folder_mode)
        before = state(folder)
        run = subprocess.run(
            [sys.executable, "-c", OPEN_AS_NOBODY, str(path), how],
            cwd=ROOT,
            capture_output=True,
            text=True,
            timeout=60,
        )
        assert (run.stdout.strip(), run.stderr) == (told, "")
        assert state(folder) == before
    finally:
        folder.chmod(0o777)
        shutil.rmtree(folder)


def test_a_file_on_a_share_is_refused(closed, monkeypatch):
    monkeypatch.setattr(hotel_file, "network_kind_of", lambda path: "nfs4")
    assert assert_refused("on_network_share", closed)["share"] == "nfs4"
    with pytest.raises(Refusal) as caught:
        create(closed.with_name("new.hotel"))
    assert caught.value.code == "on_network_share"


def test_an_open_file_is_set_to_keep_what_it_is_told(desk):
    found = {
        name: desk.journal.db.execute(f"PRAGMA {name}").fetchone()[0]
        for name in ("foreign_keys", "trusted_schema", "busy_timeout", "synchronous")
    }
    is_wal = has_wal_fix(sqlite3.sqlite_version_info)
    # SQLite's PRAGMA synchronous: 2 is FULL, 3 is EXTRA.
    assert found == {
        "foreign_keys": 1,
        "trusted_schema": 0,
        "busy_timeout": 5000,
        "synchronous": 2 if is_wal else 3,
    }


@pytest.mark.parametrize(
    ("version", "is_fixed"),
    [
        # SQLite's page on the write-ahead log, "WAL-reset bug": fixed in 3.51.3,
        # 3.50.7 and 3.44.6; 3.52.0 was withdrawn.
        ((3, 40, 1), False),
        ((3, 44, 5), False),
        ((3, 44, 6), True),
        ((3, 45, 3), False),
        ((3, 50, 6), False),
        ((3, 50, 7), True),
        ((3, 51, 2), False),
        ((3, 51, 3), True),
        ((3, 52, 0), False),
        ((3, 52, 1), True),
        ((3, 53, 4), True),
        ((4, 0, 0), True),
    ],
)
def test_a_write_ahead_log_is_kept_only_where_it_is_safe(version, is_fixed):
    assert has_wal_fix(version) is is_fixed


def test_a_file_from_a_newer_sqlite_loses_its_log_where_it_is_unsafe(desk, monkeypatch):
    monkeypatch.setattr(connection, "has_wal_fix", lambda version: True)
    desk.journal.close()
    newer = Desk(open_file(desk.journal.path))
    newer.write(FloorPlaced("1", 1))
    assert newer.journal.db.journal_mode == "wal"
    newer.journal.close()
    monkeypatch.setattr(connection, "has_wal_fix", lambda version: False)
    older = open_file(desk.journal.path)
    assert older.db.journal_mode == "delete"
    assert load(older, rules()) == newer.house
    older.close()


def test_a_path_with_signs_that_mean_something_in_an_address_opens(tmp_path):
    path = tmp_path / "Hôtel #1 100%? ü.hotel"
    desk = Desk(create(path))
    desk.write(FloorPlaced("1", 1))
    desk.journal.close()
    assert [p.name for p in tmp_path.iterdir()] == [path.name]
    assert verify(path).entries == 1
