from __future__ import annotations

import shutil
import sqlite3
import tempfile
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import PhotoKept
from hotelwatch.core.facts import BedChecked, BedNo, CheckKind, FloorPlaced, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.record_facts import ContentExpired, Expiring, is_gone
from hotelwatch.store.expiring import delete_files, tidy, words_there
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.loading import load
from hotelwatch.store.photos import folder_of
from hotelwatch.store.verify import verify
from hotelwatch.store.words import digest_of_words
from tests.build import day, moment, rules
from tests.store.conftest import Desk
from tests.store.histories import FACTS, MOMENTS
from tests.store.test_verify import tampered

LOOK = BedChecked(
    BedNo("0101/A"),
    RoomNo("0101"),
    day(1),
    CheckKind.DEEP,
    ("Åsa Lind", "Борис"),
    14,
    ("bedding",),
    noted="two lines\nof a note",
)


def expired(desk, *numbers, what=Expiring.NAME):
    fact = ContentExpired(what, tuple(map(str, numbers)), 3, "house")
    desk.write(fact, at=moment(1200))


def cells(path, sql):
    with closing(sqlite3.connect(path)) as plain:
        return plain.execute(sql).fetchall()


def test_sha256_is_that_of_fips_180_4():
    # FIPS 180-4's example: the message "abc"; here its first letter stands for the salt.
    known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert digest_of_words("a", "bc") == known


def test_words_stand_apart_and_a_stranger_can_check_them(desk):
    desk.write(LOOK)
    path = desk.journal.path
    assert cells(path, 'SELECT "by", noted FROM bed_checked') == [("~2\n~3", "~4")]
    assert cells(path, 'SELECT "by", note FROM entry') == [("~1", "")]
    rows = cells(path, "SELECT sha256, salt, words FROM word_noted JOIN word_kept USING (number)")
    for digest, salt, words in rows:
        assert sha256((salt + words).encode()).hexdigest() == digest
    assert {row[2] for row in rows} >= {"Åsa Lind", "Борис", "two lines\nof a note"}
    assert load(desk.journal, rules()) == desk.house
    assert len({row[1] for row in rows}) == len(rows), "each has a salt of its own"


def test_a_name_is_kept_once_for_each_month_and_case(desk):
    desk.write(LOOK, at=moment(1))
    desk.write(LOOK, at=moment(2))
    desk.write(LOOK, at=moment(40))
    desk.write(PhotoKept("2026-001", "f" * 64, 9), at=moment(41))
    sql = "SELECT concerns, count(*) FROM word_kept WHERE sort = 'name' GROUP BY concerns"
    assert cells(desk.journal.path, sql) == [("2026-001", 1), ("2026-01", 3), ("2026-02", 3)]


def test_what_expires_goes_and_every_digest_stays(desk):
    desk.write(LOOK)
    desk.write(LOOK, at=moment(40))
    before = verify(desk.journal.path)
    expired(desk, 1, 2, 3)
    assert tidy(desk.journal.db)
    found = verify(desk.journal.path)
    assert found.is_sound
    assert found.entries == before.entries + 1
    assert [(fault.code, fault.entry, fault.detail) for fault in found.remarks] == [
        ("expired_name", 3, "3")
    ]
    first, second = desk.house.all_of(BedChecked)
    assert load(desk.journal, rules()) == desk.house
    assert all(map(is_gone, (*first.by, desk.house.entries[1].by)))
    assert first.by[0] != first.by[1], "two people do not become one"
    assert first.noted == LOOK.noted
    assert second == LOOK


def test_nothing_of_an_expired_name_is_left_in_the_files_bytes(desk):
    desk.write(*[LOOK] * 50, *(FloorPlaced(str(n), n) for n in range(400)))
    raw = "Åsa Lind".encode()
    assert raw in desk.journal.path.read_bytes()
    (one,) = [c.which for c in words_there(desk.journal.db) if c.words == "Åsa Lind"]
    expired(desk, one)
    tidy(desk.journal.db)
    assert raw not in desk.journal.path.read_bytes()


def test_another_window_no_longer_shows_what_expired(desk):
    desk.write(LOOK)
    other = Desk(open_file(desk.journal.path), desk.house)
    expired(other, 2)
    newer, changes = desk.refresh()
    assert is_gone(newer.all_of(BedChecked)[0].by[0])
    assert newer == other.house == load(desk.journal, rules())
    assert len(changes.topics) > 1
    other.journal.close()


@pytest.mark.parametrize(
    "sql",
    [
        "DELETE FROM word_kept",
        "DELETE FROM word_kept WHERE number = 1",
        "UPDATE word_kept SET words = 'eve'",
        "REPLACE INTO word_kept SELECT number, sort, concerns, salt, 'eve' FROM word_kept",
        "INSERT INTO word_kept VALUES (99, 'name', '2026-01', printf('%032d', 0), 'eve')",
        "DELETE FROM word_noted",
    ],
)
def test_the_file_lets_no_words_go_or_come_without_an_entry(desk, sql):
    desk.write(LOOK)
    expired(desk, 2)
    with (
        closing(sqlite3.connect(desk.journal.path)) as plain,
        pytest.raises(sqlite3.IntegrityError),
    ):
        plain.execute(sql)


@pytest.mark.parametrize(
    ("statement", "code"),
    [
        ("DELETE FROM word_kept WHERE number = 1", "words_missing"),
        ("UPDATE word_kept SET words = 'eve' WHERE number = 1", "words_changed"),
        ("UPDATE word_kept SET salt = printf('%032d', 0) WHERE number = 1", "words_changed"),
        ("UPDATE word_kept SET concerns = '2020-01' WHERE number = 1", "words_changed"),
        (
            "INSERT INTO word_kept VALUES (99, 'name', '2026-01', printf('%032d', 0), 'eve')",
            "words_changed",
        ),
        ("UPDATE word_noted SET sha256 = printf('%064d', 0) WHERE number = 1", "digest_differs"),
    ],
)
def test_words_changed_past_the_program_are_found(desk, statement, code):
    desk.write(LOOK)
    desk.journal.close()
    tampered(desk.journal.path, statement)
    assert code in {fault.code for fault in verify(desk.journal.path).problems}


def test_a_file_without_some_words_is_opened_and_says_that_they_are_missing(desk):
    desk.write(LOOK)
    desk.journal.close()
    tampered(desk.journal.path, "DELETE FROM word_kept WHERE number = 2")
    with closing(open_file(desk.journal.path)) as journal:
        assert load(journal, rules()).all_of(BedChecked)[0].by == ("‹missing #2›", "Борис")


def test_a_reference_to_nothing_noted_in_a_cell_is_damage(desk):
    desk.write(LOOK)
    desk.journal.close()
    tampered(desk.journal.path, "UPDATE bed_checked SET noted = 'plain words'")
    with closing(open_file(desk.journal.path)) as journal, pytest.raises(Refusal) as caught:
        load(journal, rules())
    assert caught.value.code == "damaged_file"


def test_photos_that_expired_are_told_by_their_entry_and_others_as_missing(desk):
    folder = folder_of(desk.journal.path)
    folder.mkdir()
    digests = []
    for content in (b"one", b"two"):
        digests.append(sha256(content).hexdigest())
        (folder / f"{digests[-1]}.jpg").write_bytes(content)
    desk.write(*(PhotoKept("2026-001", digest, 3) for digest in digests))
    fact = ContentExpired(Expiring.PHOTO, (digests[0],), 3, "house")
    desk.write(fact)
    told = [fault.code for fault in verify(desk.journal.path).remarks]
    assert told == ["expired_photo", "expired_but_there"]
    assert delete_files(desk.journal.path, [fact]) == 1
    assert delete_files(desk.journal.path, [fact]) == 0
    assert [fault.code for fault in verify(desk.journal.path).remarks] == ["expired_photo"]
    (folder / f"{digests[1]}.jpg").unlink()
    told = [fault.code for fault in verify(desk.journal.path).remarks]
    assert told == ["expired_photo", "photo_missing"]


HISTORY = st.lists(
    st.one_of(
        st.tuples(st.just("write"), FACTS, MOMENTS),
        st.tuples(st.just("expire"), st.floats(0, 1), MOMENTS),
    ),
    min_size=1,
    max_size=8,
)


def expire_share(desk, share, at):
    """Let that share of the words expire, in one entry."""
    there = words_there(desk.journal.db)
    going = there[: int(len(there) * share)]
    facts = [
        ContentExpired(what, tuple(c.which for c in going if c.what is what), 3, "house")
        for what in (Expiring.NAME, Expiring.NOTE)
        if any(c.what is what for c in going)
    ]
    if facts:
        desk.write(*facts, at=at)
        event("some expired")


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(HISTORY, st.randoms(use_true_random=False))
def test_expiry_keeps_the_chain_and_any_other_loss_is_found(steps, chooser):
    folder = Path(tempfile.mkdtemp())
    try:
        desk = Desk(create(folder / "law.hotel"), House(shipped=rules()))
        digests = {}
        for what, first, at in steps:
            if what == "write":
                desk.write(*first, at=at)
            else:
                expire_share(desk, first, at)
            digests |= {n: e.digest for n, e in desk.house.entries.items() if n not in digests}
        assert {n: e.digest for n, e in load(desk.journal, rules()).entries.items()} == digests
        assert load(desk.journal, rules()) == desk.house
        there = words_there(desk.journal.db)
        desk.journal.close()
        assert verify(folder / "law.hotel").is_sound
        if there:
            gone = chooser.choice(there).which
            tampered(folder / "law.hotel", f"DELETE FROM word_kept WHERE number = {gone}")
            found = verify(folder / "law.hotel")
            assert [(f.code, f.detail) for f in found.problems] == [("words_missing", gone)]
    finally:
        shutil.rmtree(folder)
