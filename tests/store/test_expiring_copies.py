"""What has expired goes from backups and files set aside as well, and comes back from none."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from dataclasses import replace
from hashlib import sha256

import pytest

from hotelwatch.core.case_facts import PhotoKept
from hotelwatch.core.facts import BedChecked, FloorPlaced
from hotelwatch.core.problems import Refusal
from hotelwatch.core.record_facts import ContentExpired, Expiring, is_gone
from hotelwatch.store.backup_folder import (
    copy_elsewhere,
    folder_beside,
    folder_in,
    keep_backup,
    list_backups,
)
from hotelwatch.store.expiring import words_there
from hotelwatch.store.expiring_copies import (
    EXPIRE_IN_COPY,
    Copies,
    Reached,
    behind,
    gone_of,
    reach,
)
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.loading import load
from hotelwatch.store.photos import folder_of
from hotelwatch.store.restoring import apart, put_back
from hotelwatch.store.verify import verify
from tests.build import moment, rules
from tests.store.conftest import Desk
from tests.store.test_expiring import LOOK

NAME = "Åsa Lind"


@pytest.fixture
def place(tmp_path):
    made = tmp_path / "stick"
    made.mkdir()
    return made


def back_up(desk, days, place=None):
    path = desk.journal.path
    backup, _ = keep_backup(path, folder=folder_beside(path), at=moment(days))
    kept = folder_beside(path) / backup.name
    if place is not None:
        copy_elsewhere(kept, hotel_file=path, place=place)
    return kept


def expire_names(desk, at=1200):
    going = [c.which for c in words_there(desk.journal.db) if c.words == NAME]
    desk.write(ContentExpired(Expiring.NAME, tuple(going), 3, "house"), at=moment(at))


def bring(desk, place=None):
    return reach(Copies(desk.journal.path, place), gone_of(desk.journal.path))


def names_in(path):
    journal = open_file(path, read_only=True)
    with closing(journal):
        return load(journal, rules()).all_of(BedChecked)[0].by


def restore(path, backup, beside=None):
    told = apart(path, backup, beside=beside)
    put_back(path, backup, beside=beside or path, at=moment(1300), expected_last=told.present_last)
    return told


def test_words_go_from_every_backup_here_and_elsewhere_and_each_chain_holds(desk, place):
    desk.write(LOOK)
    before = desk.house.entries[1].digest
    old = back_up(desk, 1, place)
    desk.write(FloorPlaced("1", 1))
    back_up(desk, 2, place)
    expire_names(desk)
    path = desk.journal.path
    copies = Copies(path, place)
    assert len(behind(copies, gone_of(path)).changed) == 4
    done = bring(desk, place)
    assert (len(done.changed), done.unreached) == (4, ())
    assert not old.exists(), "its name tells its last entry, which is another now"
    for folder in copies.folders():
        assert len(list_backups(folder)) == 2
        for backup in list_backups(folder):
            found = verify(folder / backup.name)
            assert found.is_sound
            assert (found.entries, found.last_digest[:12]) == (backup.last_entry, backup.digest)
            assert NAME.encode() not in (folder / backup.name).read_bytes()
            with closing(sqlite3.connect(folder / backup.name)) as plain:
                (digest,) = plain.execute("SELECT digest FROM entry WHERE id = 1").fetchone()
                last = plain.execute('SELECT "by", action FROM entry ORDER BY id DESC').fetchone()
            assert (digest, last) == (before, ("", EXPIRE_IN_COPY))
    here, there = ([backup.name for backup in list_backups(f)] for f in copies.folders())
    assert here == there, "the same copy in two places stays the same"
    assert bring(desk, place) == Reached(), "there is nothing left to do"


def test_a_place_that_is_not_there_is_named_and_reached_later(desk, place):
    desk.write(LOOK)
    back_up(desk, 1, place)
    expire_names(desk)
    shutil.move(place, place.with_name("away"))
    done = bring(desk, place)
    assert len(done.changed) == 1
    assert [(one.path, one.why.code) for one in done.unreached] == [(place, "no_such_folder")]
    shutil.move(place.with_name("away"), place)
    assert len(bring(desk, place).changed) == 1
    (backup,) = folder_in(place, desk.journal.path).glob("*.hotel")
    assert is_gone(names_in(backup)[0])


def test_a_backup_that_does_not_hold_is_left_as_it_is_and_named(desk):
    desk.write(LOOK, *(FloorPlaced(str(n), n) for n in range(900)))
    kept = back_up(desk, 1)
    content = bytearray(kept.read_bytes())
    content[-9000:-8000] = b"\xa5" * 1000
    kept.write_bytes(content)
    expire_names(desk)
    done = bring(desk)
    assert done.changed == ()
    assert [(one.path, one.why.code) for one in done.unreached] == [(kept, "damaged_file")]
    assert kept.read_bytes() == content
    assert list(folder_beside(desk.journal.path).iterdir()) == [kept], "no part is left behind"


def test_going_back_to_a_backup_that_was_not_reached_brings_no_words_back(desk, place):
    folder = folder_of(desk.journal.path)
    folder.mkdir()
    digest = sha256(b"picture").hexdigest()
    (folder / f"{digest}.jpg").write_bytes(b"picture")
    desk.write(LOOK, PhotoKept("2026-001", digest, 7))
    kept = back_up(desk, 1, place)
    path = desk.journal.path
    there = folder_in(place, path) / kept.name
    expire_names(desk)
    desk.write(ContentExpired(Expiring.PHOTO, (digest,), 3, "house"), at=moment(1200))
    (folder / f"{digest}.jpg").unlink()
    desk.journal.close()
    told = restore(path, there, beside=there.with_name(path.name))
    assert (told.expired_since, told.gained, len(told.lost)) == (2, 0, 2)
    assert is_gone(names_in(path)[0])
    assert not list(folder.iterdir()), "nor the photo"
    found = verify(path)
    assert found.is_sound
    assert {"expired_name", "expired_photo"} == {fault.code for fault in found.remarks}


def test_a_backup_reached_before_is_gone_back_to_and_says_what_went(desk):
    desk.write(LOOK)
    back_up(desk, 1)
    desk.write(FloorPlaced("1", 1))
    expire_names(desk)
    path = desk.journal.path
    (reached,) = bring(desk).changed
    desk.journal.close()
    told = restore(path, reached)
    assert (told.expired_since, told.gained) == (0, 0)
    assert [entry.number for entry in told.lost] == [2, 3]
    assert is_gone(names_in(path)[0])
    # The file set aside says itself what expired; the record goes on without it.
    journal = open_file(path)
    with closing(journal):
        again = Desk(journal, load(journal, rules()))
        again.write(replace(LOOK, by=("Eve",)))
    assert verify(path).is_sound


def test_a_file_set_aside_is_reached_though_its_numbers_mean_other_words(desk):
    path = desk.journal.path
    desk.write(LOOK)
    kept = back_up(desk, 1)
    desk.write(replace(LOOK, by=("Only here",)), at=moment(40))
    desk.journal.close()
    restore(path, kept)
    (aside,) = path.parent.glob("test-aside-*")
    journal = open_file(path)
    again = Desk(journal, load(journal, rules()))
    again.write(replace(LOOK, by=("Eve",)), at=moment(80))
    gone = [c.which for c in words_there(journal.db) if c.words in (NAME, "Eve")]
    again.write(ContentExpired(Expiring.NAME, tuple(gone), 3, "house"), at=moment(1200))
    done = bring(again)
    journal.close()
    assert aside in done.changed
    assert verify(aside).is_sound
    with closing(open_file(aside, read_only=True)) as there:
        assert {c.words for c in words_there(there.db)} >= {"Only here", "Борис"}
        assert NAME not in {c.words for c in words_there(there.db)}


def test_what_was_kept_again_after_it_expired_stays_in_all_copies(desk):
    folder = folder_of(desk.journal.path)
    folder.mkdir()
    digest = sha256(b"picture").hexdigest()
    photo = folder / f"{digest}.jpg"
    photo.write_bytes(b"picture")
    desk.write(PhotoKept("2026-001", digest, 7))
    kept = back_up(desk, 1)
    desk.write(ContentExpired(Expiring.PHOTO, (digest,), 3, "house"), at=moment(1200))
    desk.write(PhotoKept("2026-002", digest, 7), at=moment(1201))
    assert bring(desk) == Reached()
    assert kept.exists()


def test_copies_of_another_hotel_are_left_alone(desk, tmp_path):
    desk.write(LOOK)
    (tmp_path / "other").mkdir()
    other = Desk(create(tmp_path / "other" / "test.hotel"))
    other.write(LOOK, at=moment(3))
    folder = folder_beside(desk.journal.path)
    theirs, _ = keep_backup(other.journal.path, folder=folder, at=moment(3))
    other.journal.close()
    before = (folder / theirs.name).read_bytes()
    expire_names(desk)
    assert bring(desk) == Reached()
    assert (folder / theirs.name).read_bytes() == before


def test_a_full_disk_leaves_the_backup_whole_and_is_told(desk, monkeypatch):
    desk.write(LOOK)
    kept = back_up(desk, 1)
    before = kept.read_bytes()
    expire_names(desk)

    def full(*_values):
        raise Refusal("disk_full", file="there")

    monkeypatch.setattr("hotelwatch.store.expiring_copies.copy_whole", full)
    done = bring(desk)
    assert [one.why.code for one in done.unreached] == ["disk_full"]
    assert kept.read_bytes() == before
