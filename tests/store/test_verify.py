from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from hashlib import sha256

import pytest

from hotelwatch.core.case_facts import PhotoKept
from hotelwatch.core.facts import (
    BedChecked,
    BedNo,
    CheckKind,
    FloorPlaced,
    RoomNo,
    StaysImported,
    WingPlaced,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Stay
from hotelwatch.core.treatment_facts import PaperKept, PaperKind, ProbeLogKept
from hotelwatch.store.chain import digest_of
from hotelwatch.store.hotel_file import open_file
from hotelwatch.store.kept_files import keep_file, kept_file
from hotelwatch.store.photos import folder_of
from hotelwatch.store.schema import objects
from hotelwatch.store.verify import verify
from tests.build import day, moment

LOOK = BedChecked(
    BedNo("0101/A"),
    RoomNo("0101"),
    day(1),
    CheckKind.DEEP,
    ("Åsa", "Борис"),
    14,
    ("bedding", "base_underside"),
    noted='said: "tab\there"\nnext line \\ é € 𝄞',
)


@pytest.fixture
def path(desk):
    desk.write(FloorPlaced("1", 1), WingPlaced("A", -0.0, 12, 1e-7), LOOK, FloorPlaced("2", 2))
    desk.write(FloorPlaced("3", 3), at=moment(1))
    desk.write(FloorPlaced("3", 4), at=moment(2), corrects=2, note="a cellar was forgotten")
    desk.write(LOOK, at=moment(3))
    desk.journal.close()
    return desk.journal.path


def tampered(path, *statements, guards_back=True):
    """Change a file as somebody would who takes the guards off and puts them back."""
    with closing(sqlite3.connect(path, isolation_level=None)) as plain:
        plain.execute("PRAGMA synchronous = OFF")
        plain.execute("BEGIN")
        guards = plain.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
        guards = guards.fetchall()
        for name, _ in guards:
            plain.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            plain.execute(statement)
        for _, sql in guards if guards_back else ():
            plain.execute(sql)
        plain.execute("COMMIT")


def codes(found):
    return {(fault.code, fault.entry) for fault in found.problems}


def strangers_chain(path):
    """The chain as the docstring of store.chain tells it, with nothing of the store's."""

    def text(value):
        short = {8: "\\b", 9: "\\t", 10: "\\n", 12: "\\f", 13: "\\r", 34: '\\"', 92: "\\\\"}
        out = (short.get(ord(c), c if ord(c) > 31 else f"\\u{ord(c):04x}") for c in value)
        return '"' + "".join(out) + '"'

    def written(value):
        if value is None:
            return "null"
        if isinstance(value, str):
            return text(value)
        if isinstance(value, dict):
            members = (f"{text(key)}:{written(value[key])}" for key in sorted(value))
            return "{" + ",".join(members) + "}"
        if isinstance(value, list):
            return "[" + ",".join(map(written, value)) + "]"
        return repr(value)

    with closing(sqlite3.connect(path)) as plain:
        plain.row_factory = sqlite3.Row
        tables = "SELECT name FROM sqlite_schema WHERE type = 'table'"
        names = [row[0] for row in plain.execute(tables)]
        names = [name for name in names if name not in ("entry", "stay", "word_kept")]
        digest, digests = "", []
        for row in plain.execute("SELECT * FROM entry ORDER BY id").fetchall():
            entry = dict(row)
            del entry["digest"]
            facts = []
            for name in names:
                for found in plain.execute(f"SELECT * FROM {name} WHERE entry = ?", (row["id"],)):
                    cells = dict(found)
                    del cells["entry"]
                    facts.append((cells.pop("line"), [name, cells]))
            facts = [fact for _, fact in sorted(facts, key=lambda pair: pair[0])]
            whole = written({"before": digest, "entry": entry, "facts": facts})
            digest = sha256(whole.encode("utf-8")).hexdigest()
            digests.append((digest, row["digest"]))
    return digests


def test_a_stranger_computes_the_same_chain(path):
    digests = strangers_chain(path)
    assert len(digests) == 4
    assert all(computed == kept for computed, kept in digests)
    found = verify(path)
    assert found.is_sound
    assert (found.entries, found.last_digest) == (4, digests[-1][0])
    assert found.problems == found.remarks == ()


def test_text_is_written_as_the_json_canonicalization_scheme_has_it():
    # RFC 8785, section 3.2.2 and 3.2.3: the sample's string, by its code points.
    sample = "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/"
    expected = '"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"'
    assert json.loads(expected) == sample
    whole = '{"before":"","entry":{"note":' + expected + '},"facts":[]}'
    assert digest_of({"note": sample}, [], "") == sha256(whole.encode()).hexdigest()


@pytest.mark.parametrize(
    ("statement", "code", "entry"),
    [
        ("UPDATE bed_checked SET minutes = 15 WHERE entry = 4", "digest_differs", 4),
        ("UPDATE floor_placed SET level = 9 WHERE entry = 1", "digest_differs", 1),
        ("UPDATE entry SET note = 'another' WHERE id = 3", "digest_differs", 3),
        ("UPDATE entry SET \"by\" = 'berta' WHERE id = 2", "digest_differs", 2),
        ("UPDATE entry SET recorded_at = '2026-01-05T09:00:01Z' WHERE id = 1", "digest_differs", 1),
        ("DELETE FROM bed_checked WHERE entry = 1", "digest_differs", 1),
        ("UPDATE floor_placed SET line = 9 WHERE entry = 1 AND line = 1", "digest_differs", 1),
        ("INSERT INTO floor_placed VALUES (2, 2, '9', 9)", "digest_differs", 2),
        ("DELETE FROM entry WHERE id = 4", "fact_without_entry", 4),
        ("DELETE FROM entry WHERE id = 2", "number_missing", 2),
        ("UPDATE entry SET corrects = NULL WHERE id = 3", "digest_differs", 3),
    ],
)
def test_a_change_is_found_and_its_entry_named(path, statement, code, entry):
    tampered(path, statement)
    found = verify(path)
    assert (code, entry) in codes(found)
    assert found.first_failing == entry
    assert not any(fault.code == "schema_changed" for fault in found.problems)


def test_an_entry_with_its_digest_made_to_fit_breaks_the_next_one(path):
    tampered(path, "UPDATE floor_placed SET level = 9 WHERE entry = 2")
    fitting = strangers_chain(path)[1][0]
    tampered(path, f"UPDATE entry SET digest = '{fitting}' WHERE id = 2")
    assert codes(verify(path)) == {("digest_differs", 3)}


def test_a_whole_chain_made_anew_differs_from_what_was_printed(path):
    printed = {4: verify(path).last_digest}
    assert verify(path, printed=printed).is_sound
    tampered(path, "UPDATE bed_checked SET minutes = 99 WHERE entry = 1")
    for number, (digest, _) in enumerate(strangers_chain(path), 1):
        tampered(path, f"UPDATE entry SET digest = '{digest}' WHERE id = {number}")
    assert verify(path).is_sound
    assert codes(verify(path, printed=printed)) == {("not_as_printed", 4)}


def test_entries_cut_off_the_end_are_missed_by_what_was_printed(path):
    printed = {4: verify(path).last_digest}
    gone = (("bed_checked", "entry"), ("word_noted", "entry"), ("entry", "id"))
    words = "DELETE FROM word_kept WHERE number IN (SELECT number FROM word_noted WHERE entry = 4)"
    tampered(path, words, *(f"DELETE FROM {table} WHERE {key} = 4" for table, key in gone))
    assert verify(path).is_sound
    assert codes(verify(path, printed=printed)) == {("not_as_printed", 4)}


def test_guards_and_tables_that_changed_are_named(path):
    tampered(path, "CREATE TABLE more (x)", "DROP VIEW floor_placed_now", guards_back=False)
    found = verify(path)
    wrong = {fault.detail for fault in found.problems if fault.code == "schema_changed"}
    assert "floor_placed_now" in wrong
    assert {name for name in objects() if name.endswith("_no_delete")} <= wrong
    assert [f.detail for f in found.problems if f.code == "schema_extra"] == ["more"]


def test_a_table_that_is_gone_is_told_and_not_a_crash(path):
    tampered(path, "DROP VIEW bed_checked_now", "DROP TABLE bed_checked", guards_back=False)
    found = verify(path)
    assert not found.is_sound


def test_an_index_that_disagrees_with_its_table_is_damage(path):
    with closing(sqlite3.connect(path)) as plain:
        page = plain.execute(
            "SELECT rootpage FROM sqlite_schema WHERE name = 'bed_checked_by_bed'"
        ).fetchone()[0]
        size = plain.execute("PRAGMA page_size").fetchone()[0]
    content = bytearray(path.read_bytes())
    at = content.index(b"0101/A", (page - 1) * size)
    content[at : at + 6] = b"0999/Z"
    path.write_bytes(content)
    assert any(fault.code == "damaged" for fault in verify(path).problems)


def test_verifying_changes_nothing_and_refuses_what_is_no_hotel_file(path):
    before = path.read_bytes()
    verify(path)
    assert path.read_bytes() == before
    assert [p.name for p in path.parent.iterdir()] == [path.name]
    (path.parent / "list.csv").write_text("room\n")
    with pytest.raises(Refusal) as caught:
        verify(path.parent / "list.csv")
    assert caught.value.code == "not_a_hotel_file"


def test_a_clock_that_went_back_is_remarked(desk):
    desk.write(FloorPlaced("1", 1), at=moment(5))
    desk.write(FloorPlaced("2", 2), at=moment(4))
    found = verify(desk.journal.path)
    assert found.is_sound
    assert [(fault.code, fault.entry) for fault in found.remarks] == [("clock_went_back", 2)]


def test_a_photo_that_was_changed_is_a_fault_and_one_that_is_gone_is_remarked(desk):
    folder = folder_of(desk.journal.path)
    folder.mkdir()
    kept, changed, gone = (sha256(name).hexdigest() for name in (b"kept", b"changed", b"gone"))
    (folder / f"{kept}.jpg").write_bytes(b"kept")
    (folder / f"{changed}.png").write_bytes(b"painted over")
    desk.write(*(PhotoKept("2026-001", digest, 4) for digest in (kept, changed, gone)))
    found = verify(desk.journal.path)
    assert [(fault.code, fault.detail) for fault in found.remarks] == [("photo_missing", gone)]
    assert [(fault.code, fault.detail) for fault in found.problems] == [("photo_changed", changed)]


def test_a_log_that_was_changed_is_a_fault_and_one_that_is_gone_is_remarked(desk, tmp_path):
    log = tmp_path / "log.csv"
    digests = []
    for text in ("kept", "changed", "gone"):
        log.write_text(text, "utf-8")
        digests.append(keep_file(desk.journal.path, log))
    _kept, changed, gone = digests
    kept_file(desk.journal.path, changed).write_text("warmer", "utf-8")
    kept_file(desk.journal.path, gone).unlink()
    rest = (day(1), "heat", "log.csv")
    desk.write(
        *(
            ProbeLogKept("2026-001", RoomNo("0101"), str(n), *rest, digest, "anna")
            for n, digest in enumerate(digests)
        )
    )
    found = verify(desk.journal.path)
    assert [(fault.code, fault.detail) for fault in found.remarks] == [("log_missing", gone)]
    assert [(fault.code, fault.detail) for fault in found.problems] == [("log_changed", changed)]


def test_a_paper_that_was_changed_is_a_fault_and_one_that_is_gone_is_remarked(desk, tmp_path):
    paper = tmp_path / "report.pdf"
    digests = []
    for text in ("kept", "changed", "gone"):
        paper.write_text(text, "utf-8")
        digests.append(keep_file(desk.journal.path, paper))
    _kept, changed, gone = digests
    kept_file(desk.journal.path, changed).write_text("other sum", "utf-8")
    kept_file(desk.journal.path, gone).unlink()
    rest = ("report.pdf", PaperKind.REPORT, "anna")
    desk.write(*(PaperKept("2026-001", digest, *rest) for digest in digests))
    found = verify(desk.journal.path)
    assert [(fault.code, fault.detail) for fault in found.remarks] == [("paper_missing", gone)]
    assert [(fault.code, fault.detail) for fault in found.problems] == [("paper_changed", changed)]


def test_a_copy_that_was_cut_short_is_not_taken_for_the_paper(desk, tmp_path):
    paper = tmp_path / "report.pdf"
    paper.write_text("whole", "utf-8")
    digest = keep_file(desk.journal.path, paper)
    desk.write(PaperKept("2026-001", digest, "report.pdf", PaperKind.REPORT, "anna"))
    kept = kept_file(desk.journal.path, digest)
    kept.rename(kept.with_name(f"{kept.name}.partial")).write_text("wh", "utf-8")
    assert kept_file(desk.journal.path, digest) is None
    assert [fault.code for fault in verify(desk.journal.path).remarks] == ["paper_missing"]
    assert keep_file(desk.journal.path, paper) == digest
    assert kept_file(desk.journal.path, digest) == kept
    assert verify(desk.journal.path).remarks == ()


# --- bookings ------------------------------------------------------------------------------


def read_in(desk, *spans, from_on=0):
    stays = [
        Stay(f"b{n}", room, "Double", day(arrives), day(leaves))
        for n, (room, arrives, leaves) in enumerate(spans)
    ]
    fact = StaysImported("list.csv", "0" * 64, day(from_on), len(stays), 0)
    desk.house = desk.journal.replace_stays(
        stays, fact, by="anna", at=moment(from_on), house=desk.house
    )


@pytest.fixture
def booked(desk):
    """A file with bookings read in twice: those that were over by then are kept."""
    read_in(desk, ("0101", 0, 2), ("0102", 1, 9))
    read_in(desk, ("0102", 1, 8), ("0103", 5, 6), from_on=4)
    desk.write(LOOK, at=moment(5))
    desk.journal.close()
    return desk.journal.path


def test_a_stranger_computes_the_digest_of_the_bookings(booked):
    with closing(sqlite3.connect(booked)) as plain:
        rows = plain.execute("SELECT * FROM stay ORDER BY line").fetchall()
        kept = plain.execute("SELECT stays_sha256 FROM stays_imported ORDER BY entry").fetchall()
    lines = "".join(
        json.dumps(row[1:], ensure_ascii=False, separators=(",", ":")) + "\n" for row in rows
    )
    assert len(rows) == 3
    assert kept[-1][0] == sha256(lines.encode()).hexdigest() != kept[0][0]
    assert verify(booked).is_sound


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE stay SET room = '0199' WHERE room = '0102'",
        "UPDATE stay SET status = 'no_show' WHERE room = '0101'",
        "DELETE FROM stay WHERE room = '0101'",
        "INSERT INTO stay SELECT 99, booking, '0104', room_type, arrives_on, leaves_on, status,"
        " booked_on FROM stay WHERE room = '0103'",
    ],
)
def test_a_booking_changed_past_the_program_is_found(booked, statement):
    with closing(sqlite3.connect(booked)) as plain, plain:
        assert plain.execute(statement).rowcount == 1
    assert codes(verify(booked)) == {("stays_differ", 2)}


def test_a_day_of_booking_written_in_past_the_program_is_found(booked):
    with closing(sqlite3.connect(booked)) as plain, plain:
        plain.execute("UPDATE stay SET booked_on = '2026-01-01' WHERE room = '0102'")
    assert codes(verify(booked)) == {("stays_differ", 2)}


def test_a_digest_of_bookings_made_to_fit_breaks_its_entry(booked):
    with closing(sqlite3.connect(booked)) as plain, plain:
        plain.execute("DELETE FROM stay WHERE room = '0101'")
    fitting = next(f.detail for f in verify(booked).problems if f.code == "stays_differ")
    tampered(booked, f"UPDATE stays_imported SET stays_sha256 = '{fitting}' WHERE entry = 2")
    assert codes(verify(booked)) == {("digest_differs", 2)}


def test_bookings_that_no_import_brought_are_found(path):
    with closing(sqlite3.connect(path)) as plain, plain:
        plain.execute(
            "INSERT INTO stay VALUES (1, 'b', '0101', '', '2026-01-05', '2026-01-06', 'left', NULL)"
        )
    assert codes(verify(path)) == {("stays_differ", 0)}


# --- what hides behind a name ----------------------------------------------------------------

TRIGGER = "CREATE TRIGGER {name} AFTER INSERT ON entry BEGIN DELETE FROM stay; END"


@pytest.mark.parametrize("name", ["bed_checked", "entry", "entry_no_update_"])
def test_a_trigger_that_bears_a_tables_name_is_named(path, name):
    tampered(path, TRIGGER.format(name=name))
    assert name in {fault.detail for fault in verify(path).problems if "schema" in fault.code}


def test_a_trigger_that_passes_for_one_of_sqlites_own_is_named(path):
    tampered(path, TRIGGER.format(name="plain_name"))
    with closing(sqlite3.connect(path)) as plain, plain:
        plain.execute("PRAGMA writable_schema = ON")
        plain.execute(
            "UPDATE sqlite_schema SET name = 'sqlite_stat9',"
            " sql = replace(sql, 'plain_name', 'sqlite_stat9') WHERE name = 'plain_name'"
        )
    assert ("schema_extra", 0) in codes(verify(path))


def test_what_sqlite_keeps_of_its_own_is_no_fault(path):
    with closing(sqlite3.connect(path)) as plain, plain:
        plain.execute("ANALYZE")
    assert verify(path).is_sound


def test_an_empty_file_is_sound(desk):
    found = verify(desk.journal.path)
    assert (found.entries, found.last_digest, found.is_sound) == (0, "", True)
    assert found.first_failing is None


def flipped(path, at, bit):
    content = bytearray(path.read_bytes())
    content[at] ^= bit
    path.write_bytes(content)


def test_a_schema_that_is_no_text_any_more_is_damage(path):
    at = path.read_bytes().index(b"CREATE TRIGGER floor_placed_no_update") + 20
    flipped(path, at, 128)
    with pytest.raises(Refusal) as caught:
        open_file(path)
    assert caught.value.code == "damaged_file"
    assert [fault.code for fault in verify(path).problems] == ["damaged"]


def test_a_file_of_a_format_that_sqlite_does_not_know_is_damage(path):
    """Bytes 44 to 47 number the schema's format, 1 to 4. Source: Database File Format, 1.3."""
    flipped(path, 47, 64)
    with pytest.raises(Refusal) as caught:
        open_file(path)
    assert caught.value.code == "damaged_file"


def test_a_record_whose_key_was_flipped_to_nothing_is_damage(path):
    """A record's header says its columns' kinds: 1 is a whole number of one byte, 0 is NULL.
    Source: sqlite.org, Database File Format, section 2.1."""
    with closing(sqlite3.connect(path)) as plain:
        root = plain.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'floor_placed'")
        start = (root.fetchone()[0] - 1) * 4096
    content = path.read_bytes()
    cell = start + int.from_bytes(content[start + 8 : start + 10], "big")
    header = content[cell + 1 : cell + 1 + content[cell + 1]]
    assert header[1] in (1, 9), "the entry's number, of one byte or the number 1 itself"
    flipped(path, cell + 2, header[1])
    found = verify(path)
    assert not found.is_sound
