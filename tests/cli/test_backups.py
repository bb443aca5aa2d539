from __future__ import annotations

from datetime import timedelta


def backups_of(hotel):
    return sorted((hotel.folder / "inn.backups").glob("*.hotelwatch"))


def test_backups_are_made_listed_and_pruned_by_the_hotels_own_figures(hotel):
    said = hotel("back-up", hotel.file)
    assert "Backed up to 20260309T073000Z-2-" in said
    assert "Nothing was written down since" in hotel("back-up", hotel.file)
    hotel.now += timedelta(hours=1)
    hotel("cycle", hotel.file, 80)
    hotel("back-up", hotel.file)
    assert len(backups_of(hotel)) == 2
    hotel.now += timedelta(days=3)
    hotel("cycle", hotel.file, 70)
    said = hotel("back-up", hotel.file)
    assert "1 older backup had its time and was deleted." in said
    listed = hotel("list", "backups", hotel.file, "--check")
    assert listed.count("holds") == 2
    hotel("figure", hotel.file, "backup_daily_days", 7, "--reason", "small disk")
    hotel.now += timedelta(days=8)
    hotel("back-up", hotel.file)
    assert len(backups_of(hotel)) == 1, "the last of the month"


def test_a_copy_elsewhere_that_fails_is_told_and_the_backup_stands(hotel, tmp_path):
    said = hotel("back-up", hotel.file, "--also-to", tmp_path / "gone", exit_code=1)
    assert "could not be copied" in said
    assert len(backups_of(hotel)) == 1
    (tmp_path / "stick").mkdir()
    hotel("back-up", hotel.file, "--also-to", tmp_path / "stick")
    assert len(list((tmp_path / "stick" / "inn.backups").glob("*.hotelwatch"))) == 1


def test_a_backup_that_rotted_is_told(hotel):
    hotel("back-up", hotel.file)
    backup = backups_of(hotel)[0]
    content = bytearray(backup.read_bytes())
    content[8000:8192] = b"\xa5" * 192
    backup.write_bytes(content)
    said = hotel("list", "backups", hotel.file, "--check", exit_code=1)
    assert "does not hold" in said
    said = hotel("restore", hotel.file, backup, "--reason", "x", "--yes", exit_code=1)
    assert "nothing was changed" in said


def test_a_restore_says_what_would_be_lost_before_it_does_it(hotel):
    hotel("back-up", hotel.file)
    hotel.now += timedelta(days=1)
    hotel("cycle", hotel.file, 80, "--by", "maria")
    hotel("cycle", hotel.file, 70, "--by", "maria")
    before = hotel.file.read_bytes()
    backup = backups_of(hotel)[0]
    said = hotel("restore", hotel.file, backup, "--reason", "wrong hotel", exit_code=1)
    assert "2 entries would be lost" in said
    assert "Tue 10 Mar 2026: 2 × Cycle chosen" in said
    assert "The last of them is entry 4, its digest" in said
    assert hotel.file.read_bytes() == before
    hotel("restore", hotel.file, backup, "--reason", "wrong hotel", "--yes", "--by", "maria")
    assert (hotel.folder / "inn-aside-20260310T073000Z.hotelwatch").read_bytes() == before
    said = hotel("check-file", hotel.file)
    assert "3 entries, unbroken." in said
    assert "entry 3 says that the record went back to a backup" in said
    said = hotel("list", "entries", hotel.file)
    assert "Record restored from a backup" in said


def test_a_damaged_file_is_restored_and_says_that_nobody_knows_what_it_held(hotel):
    hotel("back-up", hotel.file)
    hotel.file.write_bytes(b"no hotel")
    backup = backups_of(hotel)[0]
    said = hotel("restore", hotel.file, backup, "--reason", "disk broke", "--yes")
    assert "nobody can say what it holds" in said
    assert (hotel.folder / "inn-aside-20260309T073000Z.hotelwatch").read_bytes() == b"no hotel"
    assert "3 entries, unbroken." in hotel("check-file", hotel.file)


def test_what_expires_goes_from_the_backups_and_one_that_is_away_is_named(hotel, tmp_path):
    stick, away = tmp_path / "stick", tmp_path / "away"
    stick.mkdir()
    hotel("cycle", hotel.file, 80, "--by", "Berta Quill")
    hotel("back-up", hotel.file, "--also-to", stick)
    stick.rename(away)
    hotel.now += timedelta(days=1200)
    said = hotel("expire", hotel.file, "--yes", "--also-to", stick)
    assert "It went from 1 older copy as well" in said
    assert f"{stick} is not there now: backups that were copied there still hold" in said
    (here,), (there,) = backups_of(hotel), (away / "inn.backups").glob("*.hotelwatch")
    assert b"Berta Quill" not in here.read_bytes()
    assert b"Berta Quill" in there.read_bytes()
    away.rename(stick)
    there = stick / "inn.backups" / there.name
    said = hotel("restore", hotel.file, there, "--reason", "x", exit_code=1)
    assert "in the backup have expired since, and go from it again." in said
    said = hotel("expire", hotel.file, "--look", "--also-to", stick)
    assert "1 older copy still holds what has expired" in said
    assert "from 1 older copy" in hotel("back-up", hotel.file, "--also-to", stick)
    assert not there.exists()
    assert "does not hold" not in hotel("list", "backups", hotel.file, "--check")
