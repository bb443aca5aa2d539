from __future__ import annotations

import errno
import os
import shutil
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path
from types import SimpleNamespace

import pytest

from hotelwatch.core.facts import FloorPlaced
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Stopped
from hotelwatch.store.backup_folder import (
    copy_elsewhere,
    first_digest_of,
    folder_beside,
    keep_backup,
    list_backups,
    prune,
)
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.kept_files import keep_file
from hotelwatch.store.loading import load
from hotelwatch.store.restoring import apart, put_back
from hotelwatch.store.verify import verify
from tests.build import moment, rules
from tests.store.conftest import Desk


def keep(desk, days=0, **more):
    path = desk.journal.path
    return keep_backup(path, folder=folder_beside(path), at=moment(days), **more)


def where(desk, backup):
    return folder_beside(desk.journal.path) / backup.name


def codes(call, *values, **more):
    with pytest.raises(Refusal) as caught:
        call(*values, **more)
    return caught.value.code


def test_a_backup_is_whole_and_named_by_moment_entry_and_digest(desk):
    desk.write(FloorPlaced("1", 1))
    backup, is_new = keep(desk)
    digest = desk.house.entries[1].digest
    assert is_new
    assert backup.name == f"20260105T090000Z-1-{digest[:12]}.hotel"
    assert verify(where(desk, backup)).last_digest == digest
    assert list_backups(folder_beside(desk.journal.path)) == (backup,)


def test_nothing_new_makes_no_second_backup_unless_the_first_was_damaged(desk):
    desk.write(FloorPlaced("1", 1))
    first, _ = keep(desk)
    assert keep(desk, 1) == (first, False)
    content = bytearray(where(desk, first).read_bytes())
    content[8000:8192] = b"\xa5" * 192
    where(desk, first).write_bytes(content)
    second, is_new = keep(desk, 2)
    assert is_new
    assert second.name != first.name


def test_an_empty_file_is_backed_up_too(desk):
    backup, _ = keep(desk)
    assert (backup.last_entry, backup.digest) == (0, "")


def test_a_backup_cut_short_is_seen_from_outside(desk):
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    assert backup.is_sound
    content = where(desk, backup).read_bytes()
    where(desk, backup).write_bytes(content[:-4096])
    assert not list_backups(folder_beside(desk.journal.path))[0].is_sound


def test_all_backups_share_one_folder_of_papers(desk, tmp_path):
    log = tmp_path / "log.csv"
    log.write_text("Time,Core\n", "utf-8")
    digest = keep_file(desk.journal.path, log)
    desk.write(FloorPlaced("1", 1))
    keep(desk)
    desk.write(FloorPlaced("2", 2))
    keep(desk, 1)
    folder = folder_beside(desk.journal.path)
    assert [p.name for p in (folder / "test.papers").iterdir()] == [f"{digest}.csv"]
    assert len(list(folder.iterdir())) == 3


def test_one_can_stop_and_nothing_is_left(desk):
    desk.write(*(FloorPlaced(str(number) * 40, number) for number in range(3000)))

    def stop(share, step):
        raise Stopped

    with pytest.raises(Stopped):
        keep(desk, progress=stop)
    assert list(folder_beside(desk.journal.path).iterdir()) == []


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_is_named(desk):
    desk.write(FloorPlaced("1", 1))
    folder_beside(desk.journal.path).mkdir(mode=0o500)
    assert codes(keep, desk) == "backup_failed"


def test_a_folder_that_is_a_file_is_named(desk):
    desk.write(FloorPlaced("1", 1))
    folder_beside(desk.journal.path).write_text("no folder")
    assert codes(keep, desk) == "backup_failed"


def test_a_copy_elsewhere_is_read_back(desk, tmp_path):
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    place = tmp_path / "stick"
    given = {"hotel_file": desk.journal.path, "place": place}
    assert codes(copy_elsewhere, where(desk, backup), **given) == "backup_copy_failed"
    place.mkdir()
    copy = copy_elsewhere(where(desk, backup), **given)
    assert copy.read_bytes() == where(desk, backup).read_bytes()
    copy.write_bytes(b"rotten")
    assert copy_elsewhere(where(desk, backup), **given) == copy
    assert verify(copy).is_sound


def test_only_our_own_backups_of_this_hotel_are_pruned(desk, tmp_path):
    desk.write(FloorPlaced("1", 1))
    ours, _ = keep(desk)
    folder = folder_beside(desk.journal.path)
    other = Desk(create(tmp_path / "other.hotel"))
    other.write(FloorPlaced("1", 1), at=moment(3))
    theirs, _ = keep_backup(other.journal.path, folder=folder, at=moment(3))
    other.journal.close()
    letter = folder / "20260105T090000Z-1-000000000000.txt"
    letter.write_text("Dear guest")
    by_hand = folder / "before-the-renovation.hotel"
    by_hand.write_bytes(where(desk, ours).read_bytes())
    first = first_digest_of(desk.journal.path)
    gone = prune(folder, list_backups(folder), first_digest=first)
    assert gone == (ours.name,)
    assert {p.name for p in folder.iterdir()} == {theirs.name, letter.name, by_hand.name}


def test_a_backup_renamed_to_look_otherwise_is_left_alone(desk):
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    renamed = where(desk, backup).with_name(backup.name.replace("-1-", "-7-"))
    where(desk, backup).rename(renamed)
    folder = renamed.parent
    assert (
        prune(folder, list_backups(folder), first_digest=first_digest_of(desk.journal.path)) == ()
    )


def test_a_backup_does_not_wait_without_end(desk, monkeypatch):
    desk.write(FloorPlaced("1", 1))
    monkeypatch.setattr("hotelwatch.store.connection.BUSY_MS", 20)
    monkeypatch.setattr("hotelwatch.store.backup.BUSY_MS", 300)
    path = desk.journal.path
    with closing(open_file(path, read_only=True)) as reader, closing(sqlite3.connect(path)) as held:
        reader.db.execute("SELECT count(*) FROM entry").fetchone()
        held.execute("BEGIN EXCLUSIVE")
        assert codes(reader.backup, path.with_name("copy.hotel")) == "file_busy"
    assert not path.with_name("copy.hotel").exists()


TWO_WINDOWS = """
import sys
from pathlib import Path
from hotelwatch.store.backup_folder import folder_beside, keep_backup
from tests.build import moment
path, begins = Path(sys.argv[1]), int(sys.argv[2])
for number in range(8):
    keep_backup(path, folder=folder_beside(path), at=moment(begins + number))
"""


def test_two_windows_that_back_up_at_once_leave_whole_backups_only(desk):
    path = desk.journal.path
    desk.write(*(FloorPlaced(str(number) * 40, number) for number in range(2000)))
    root = Path(__file__).parents[2]
    command = [sys.executable, "-c", TWO_WINDOWS, str(path)]
    windows = [subprocess.Popen([*command, first], cwd=root) for first in ("0", "100", "200")]
    number = 0
    while any(window.poll() is None for window in windows):
        number += 1
        desk.write(FloorPlaced("again", number))
        time.sleep(0.05)
    assert [window.returncode for window in windows] == [0, 0, 0]
    found = list_backups(folder_beside(path))
    assert found
    for backup in found:
        told = verify(where(desk, backup))
        assert (told.is_sound, told.entries) == (True, backup.last_entry)
    assert not list(folder_beside(path).glob("*.partial"))


def test_what_a_cut_short_backup_left_is_swept_a_day_later(desk):
    desk.write(FloorPlaced("1", 1))
    folder = folder_beside(desk.journal.path)
    folder.mkdir()
    left = folder / "test.hotel.0badf00d.partial"
    left.write_bytes(b"half")
    os.utime(left, (moment(0).timestamp(),) * 2)
    keep(desk, 0)
    assert left.exists(), "another window may be at it"
    desk.write(FloorPlaced("2", 2))
    keep(desk, 2)
    assert not left.exists()


# --- going back -----------------------------------------------------------------


def test_a_restore_says_what_is_lost_and_keeps_the_file_aside(desk):
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    desk.write(FloorPlaced("2", 2))
    desk.write(FloorPlaced("3", 3))
    told = apart(path, where(desk, backup))
    assert [entry.number for entry in told.lost] == [2, 3]
    assert (told.backup_last, told.gained, told.present_is_readable) == (1, 0, True)
    assert told.present_last == (3, desk.house.entries[3].digest)
    desk.journal.close()
    before = path.read_bytes()
    aside = put_back(
        path, where(desk, backup), beside=path, at=moment(9), expected_last=told.present_last
    )
    assert aside.name == "test-aside-20260114T090000Z.hotel"
    assert aside.read_bytes() == before
    assert verify(path).entries == 1
    assert verify(aside).entries == 3


def test_a_restore_is_refused_where_the_file_went_on(desk):
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    told = apart(path, where(desk, backup))
    desk.write(FloorPlaced("2", 2))
    given = {"beside": path, "at": moment(9), "expected_last": told.present_last}
    assert codes(put_back, path, where(desk, backup), **given) == "file_went_on"
    assert verify(path).entries == 2
    assert not list(path.parent.glob("*-aside-*"))


def test_a_restore_waits_for_nobody_who_writes(desk, monkeypatch):
    monkeypatch.setattr("hotelwatch.store.connection.BUSY_MS", 50)
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    told = apart(path, where(desk, backup))
    desk.journal.db.conn.execute("BEGIN IMMEDIATE")
    given = {"beside": path, "at": moment(9), "expected_last": told.present_last}
    assert codes(put_back, path, where(desk, backup), **given) == "file_busy"
    desk.journal.db.rollback()


def test_another_window_does_not_write_to_the_file_set_aside(desk):
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    told = apart(path, where(desk, backup))
    put_back(path, where(desk, backup), beside=path, at=moment(9), expected_last=told.present_last)
    assert codes(desk.write, FloorPlaced("2", 2)) == "file_replaced"


def test_a_damaged_file_goes_aside_with_its_journal(desk, tmp_path):
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    desk.journal.close()
    path.write_bytes(b"SQLite format 3\0" + b"\xa5" * 5000)
    hot = Path(f"{path}-journal")
    hot.write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + b"\0" * 600)
    told = apart(path, where(desk, backup))
    assert (told.present_is_readable, told.lost, told.present_last) == (False, (), None)
    aside = put_back(path, where(desk, backup), beside=path, at=moment(9), expected_last=None)
    assert not hot.exists()
    assert Path(f"{aside}-journal").exists()
    assert verify(path).is_sound


def test_a_file_that_is_gone_comes_back(desk):
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    desk.journal.close()
    path.unlink()
    assert not apart(path, where(desk, backup)).present_is_readable
    given = {"beside": path, "at": moment(9), "expected_last": None}
    assert put_back(path, where(desk, backup), **given) is None
    assert verify(path).entries == 1


@pytest.mark.parametrize("fails_at", [1, 2])
def test_a_full_disk_changes_nothing_and_is_told_as_such(desk, monkeypatch, fails_at):
    """While the backup is copied, and while its photos are."""
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    photos = folder_beside(path) / "test.photos"
    photos.mkdir()
    (photos / "photo.jpg").write_bytes(b"photo")
    desk.write(FloorPlaced("2", 2))
    told = apart(path, where(desk, backup))
    desk.journal.close()
    before, copied = path.read_bytes(), []

    def full(source, target):
        copied.append(source)
        if len(copied) == fails_at:
            raise OSError(errno.ENOSPC, "No space left on device")
        return shutil.copyfile(source, target)

    monkeypatch.setattr("hotelwatch.store.backup.shutil", SimpleNamespace(copyfile=full))
    beside = folder_beside(path) / path.name
    given = {"beside": beside, "at": moment(9), "expected_last": told.present_last}
    assert codes(put_back, path, where(desk, backup), **given) == "restore_failed"
    assert path.read_bytes() == before
    left = {file.name for file in path.parent.iterdir() if file.is_file()}
    assert left == {path.name}


def test_a_disk_without_second_names_gets_a_copy(desk, monkeypatch):
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    desk.write(FloorPlaced("2", 2))
    told = apart(path, where(desk, backup))
    desk.journal.close()

    def refuse(*_values):
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    aside = put_back(
        path, where(desk, backup), beside=path, at=moment(9), expected_last=told.present_last
    )
    assert (verify(aside).entries, verify(path).entries) == (2, 1)


def test_a_backup_of_another_hotel_or_one_that_does_not_hold_is_refused(desk, tmp_path):
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    backup, _ = keep(desk)
    other = Desk(create(tmp_path / "other.hotel"))
    other.write(FloorPlaced("9", 9))
    assert codes(apart, other.journal.path, where(desk, backup)) == "backup_of_another_hotel"
    other.journal.close()
    with closing(sqlite3.connect(where(desk, backup))) as plain:
        plain.execute("DROP TRIGGER entry_no_update")
        plain.execute("UPDATE entry SET note = 'other'")
        plain.commit()
    assert codes(apart, path, where(desk, backup)) == "backup_not_sound"


def test_a_record_that_went_another_way_loses_only_what_the_backup_lacks(desk):
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    early, _ = keep(desk)
    desk.write(FloorPlaced("2", 2))
    late, _ = keep(desk, 1)
    told = apart(path, where(desk, early))
    desk.journal.close()
    put_back(path, where(desk, early), beside=path, at=moment(2), expected_last=told.present_last)
    journal = open_file(path)
    again = Desk(journal, load(journal, rules()))
    again.write(FloorPlaced("7", 7))
    told = apart(path, where(desk, late))
    journal.close()
    assert ([entry.number for entry in told.lost], told.gained) == ([2], 1)


# --- locks ------------------------------------------------------------------------

GRAB = """
import sqlite3, sys
db = sqlite3.connect(sys.argv[1], timeout=0, isolation_level=None)
try:
    db.execute("BEGIN IMMEDIATE")
    print("took it")
except sqlite3.OperationalError as error:
    print(error)
"""


@pytest.mark.skipif(os.name == "nt", reason="locks of POSIX")
def test_looking_at_the_file_lets_go_of_no_lock(desk):
    """SQLite, How To Corrupt An SQLite Database File, section 2.2: closing a file that this
    process has open elsewhere cancels its locks; then two write at once."""
    path = desk.journal.path
    desk.write(FloorPlaced("1", 1))
    desk.journal.db.conn.execute("BEGIN IMMEDIATE")
    verify(path)
    open_file(path, read_only=True).close()
    apart_of = keep(desk)[0]
    apart(path, where(desk, apart_of))
    grab = [sys.executable, "-c", GRAB, str(path)]
    said = subprocess.run(grab, capture_output=True, text=True, check=True).stdout
    desk.journal.db.rollback()
    assert said == "database is locked\n"
