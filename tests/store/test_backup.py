from __future__ import annotations

import sqlite3
from contextlib import closing

import pytest

from hotelwatch.core.facts import FloorPlaced
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import PaperKept, PaperKind
from hotelwatch.store.hotel_file import open_file
from hotelwatch.store.kept_files import keep_file, kept_file
from hotelwatch.store.loading import load
from hotelwatch.store.photos import folder_of
from hotelwatch.store.verify import verify
from tests.build import moment, rules


def test_a_backup_is_the_file_as_it_was(desk, tmp_path):
    desk.write(FloorPlaced("1", 1))
    to = tmp_path / "kept" / "backup.hotel"
    to.parent.mkdir()
    desk.journal.backup(to)
    at_backup = desk.house
    desk.write(FloorPlaced("2", 2))
    assert verify(to).is_sound
    copy = open_file(to)
    assert load(copy, rules()) == at_backup
    copy.close()
    assert [path.name for path in to.parent.iterdir()] == ["backup.hotel"]


def test_an_older_backup_is_replaced(desk, tmp_path):
    to = tmp_path / "backup.hotel"
    for number in (1, 2):
        desk.write(FloorPlaced(str(number), number))
        desk.journal.backup(to)
    assert verify(to).entries == 2


def test_a_backup_overwrites_no_other_hotels_file_nor_one_that_went_another_way(desk, tmp_path):
    desk.write(FloorPlaced("1", 1))
    to = tmp_path / "backup.hotel"
    desk.journal.backup(to)
    with closing(open_file(to)) as other:
        other.append(
            lambda _: [FloorPlaced("9", 9)], by="x", action="y", at=moment(1), house=desk.house
        )
    before = to.read_bytes()
    desk.write(FloorPlaced("2", 2))
    with pytest.raises(Refusal) as caught:
        desk.journal.backup(to)
    assert caught.value.code == "file_exists"
    assert to.read_bytes() == before


def test_a_backup_into_a_folder_that_is_not_there_says_so(desk, tmp_path):
    with pytest.raises(Refusal) as caught:
        desk.journal.backup(tmp_path / "nowhere" / "backup.hotel")
    assert caught.value.code == "no_such_folder"


@pytest.mark.parametrize("name", ["letter.txt", "test.hotel"])
def test_a_backup_overwrites_neither_a_strange_file_nor_itself(desk, tmp_path, name):
    (tmp_path / "letter.txt").write_text("Dear guest")
    before = (tmp_path / name).read_bytes()
    with pytest.raises(Refusal) as caught:
        desk.journal.backup(tmp_path / name)
    assert caught.value.code == "file_exists"
    assert (tmp_path / name).read_bytes() == before


def test_a_damaged_file_makes_no_backup(desk, tmp_path):
    desk.write(*(FloorPlaced(str(number), number) for number in range(900)))
    to = tmp_path / "backup.hotel"
    desk.journal.backup(to)
    desk.journal.close()
    good = to.read_bytes()
    with closing(sqlite3.connect(desk.journal.path)) as plain:
        root = plain.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'floor_placed'")
        page = root.fetchone()[0]
    with desk.journal.path.open("rb+") as file:
        file.seek((page - 1) * 4096)
        file.write(b"\xa5" * 4096)
    journal = open_file(desk.journal.path)
    with pytest.raises(Refusal) as caught:
        journal.backup(to)
    journal.close()
    assert caught.value.code == "damaged_file"
    assert to.read_bytes() == good
    assert not list(tmp_path.glob("*.partial"))


def test_photos_go_with_the_backup(desk, tmp_path):
    folder = folder_of(desk.journal.path)
    folder.mkdir()
    (folder / "abc.jpg").write_bytes(b"picture")
    desk.journal.backup(tmp_path / "backup.hotel")
    assert (tmp_path / "backup.photos" / "abc.jpg").read_bytes() == b"picture"


def test_logs_go_with_the_backup(desk, tmp_path):
    log = tmp_path / "log.csv"
    log.write_text("Time,Core\n", "utf-8")
    digest = keep_file(desk.journal.path, log)
    desk.journal.backup(tmp_path / "backup.hotel")
    assert kept_file(tmp_path / "backup.hotel", digest).read_bytes() == log.read_bytes()


def test_papers_go_with_the_backup_which_verifies_whole(desk, tmp_path):
    paper = tmp_path / "report.pdf"
    paper.write_bytes(b"report")
    digest = keep_file(desk.journal.path, paper)
    desk.write(PaperKept("2026-001", digest, "report.pdf", PaperKind.REPORT, "anna"))
    to = tmp_path / "backup.hotel"
    desk.journal.backup(to)
    assert kept_file(to, digest).read_bytes() == b"report"
    assert (verify(to).problems, verify(to).remarks) == ((), ())
    kept_file(to, digest).unlink()
    assert [fault.code for fault in verify(to).remarks] == ["paper_missing"]
    assert verify(desk.journal.path).remarks == ()
