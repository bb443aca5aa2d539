from __future__ import annotations

import csv
import io
import json
import re
import shutil
import sqlite3
import subprocess
import tempfile
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hotelwatch.actions.exporting import export_everything, how_to_verify, take_in
from hotelwatch.core.case_facts import PhotoKept
from hotelwatch.core.facts import FloorPlaced, StaysImported, WingPlaced
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Stopped
from hotelwatch.core.records import Stay
from hotelwatch.store.chain import canonical
from hotelwatch.store.hotel_file import create, open_file
from hotelwatch.store.loading import load
from hotelwatch.store.photos import folder_of
from hotelwatch.store.verify import verify
from tests.build import day, moment, rules
from tests.store.conftest import Desk
from tests.store.histories import FACTS, MOMENTS, STAYS
from tests.store.test_expiring import LOOK, expire_share, expired
from tests.store.test_verify import tampered


def contents(folder):
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


@pytest.fixture
def path(desk):
    photo = b"a picture"
    digest = sha256(photo).hexdigest()
    folder_of(desk.journal.path).mkdir()
    (folder_of(desk.journal.path) / f"{digest}.jpg").write_bytes(photo)
    desk.write(FloorPlaced("1", 1), WingPlaced("A", -0.0, 12, 1e-7), LOOK)
    desk.write(PhotoKept("2026-001", digest, 9, 'said "so", and\nmore'), at=moment(1))
    stays = [
        Stay("b1", "101", "Double, large", day(1), day(3)),
        Stay("b2", "102", "", day(2), day(9)),
    ]
    fact = StaysImported("list.csv", "0" * 64, day(0), 2, 0)
    desk.house = desk.journal.replace_stays(stays, fact, by="anna", at=moment(2), house=desk.house)
    desk.write(FloorPlaced("1", 2), at=moment(3), corrects=1, note="wrong")
    expired(desk, 2)
    desk.journal.close()
    return desk.journal.path


def whole(path):
    with closing(open_file(path)) as journal:
        return load(journal, rules())


def test_an_export_taken_in_is_the_same_record_and_exports_to_the_same_bytes(path, tmp_path):
    first, second, other = tmp_path / "first", tmp_path / "second", tmp_path / "new" / "other.hotel"
    other.parent.mkdir()
    out = export_everything(path, first)
    assert (out.entries, out.last_digest) == (5, verify(path).last_digest)
    assert take_in(first, other).last_digest == out.last_digest
    assert whole(other) == whole(path)
    found = verify(other)
    assert found.is_sound
    assert [fault.code for fault in found.remarks] == ["expired_name"]
    export_everything(other, second)
    assert contents(second) == contents(first)


def test_the_sqlite_files_are_the_same_after_vacuum_into(path, tmp_path):
    """Byte for byte, but for the numbers of rows of bookings that imports left gaps in."""
    export_everything(path, tmp_path / "out")
    take_in(tmp_path / "out", tmp_path / "other.hotel")
    packed = []
    for number, file in enumerate((path, tmp_path / "other.hotel")):
        to = tmp_path / f"{number}.db"
        with closing(sqlite3.connect(file)) as plain:
            plain.execute("VACUUM INTO ?", (str(to),))
        packed.append(to.read_bytes())
    # SQLite file format: bytes 24-27 and 92-95 count changes, 40-43 changes of the schema.
    same = [packed[0][:24], packed[0][28:40], packed[0][44:92], packed[0][96:]]
    assert same == [packed[1][:24], packed[1][28:40], packed[1][44:92], packed[1][96:]]


def test_a_zip_is_the_same_whenever_it_is_made_and_is_taken_in(path, tmp_path):
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        export_everything(path, tmp_path / name / "out.zip", zipped=True)
    one, two = tmp_path / "one" / "out.zip", tmp_path / "two" / "out.zip"
    assert one.read_bytes() == two.read_bytes()
    assert [file.name for file in one.parent.iterdir()] == ["out.zip"]
    assert take_in(one, tmp_path / "other.hotel").last_digest == verify(path).last_digest


def test_csv_is_as_rfc_4180_has_it_with_words_in_place(path, tmp_path):
    export_everything(path, tmp_path / "out")
    raw = (tmp_path / "out" / "csv" / "photo_kept.csv").read_bytes()
    # RFC 4180, section 2: lines end in CRLF (1), a heading line (3), fields with commas, quotes
    # or line breaks in double quotes (6), a quote doubled (7).
    assert raw.startswith(b"entry,line,case,sha256,size_bytes,caption\r\n")
    assert raw.endswith(b'"said ""so"", and\nmore"\r\n')
    checked = (tmp_path / "out" / "csv" / "bed_checked.csv").read_text("utf-8")
    (row,) = csv.DictReader(io.StringIO(checked, newline=""))
    assert row["by"] == "‹expired 2029-04 #2›\nБорис"
    assert row["noted"] == LOOK.noted


def test_stopping_an_export_or_taking_in_leaves_nothing(path, tmp_path):
    def stop(share, step):
        if share > 0.4:
            raise Stopped

    with pytest.raises(Stopped):
        export_everything(path, tmp_path / "out", progress=stop)
    export_everything(path, tmp_path / "whole")
    with pytest.raises(Stopped):
        take_in(tmp_path / "whole", tmp_path / "other.hotel", progress=stop)
    left = {file.name for file in tmp_path.iterdir()}
    assert left == {"test.hotel", "test.photos", "whole"}


def test_nothing_is_written_over(path, tmp_path):
    export_everything(path, tmp_path / "out")
    with pytest.raises(Refusal) as caught:
        export_everything(path, tmp_path / "out")
    assert caught.value.code == "export_not_empty"
    with pytest.raises(Refusal) as caught:
        take_in(tmp_path / "out", path)
    assert caught.value.code == "file_exists"


def swapped(lines):
    return [lines[1], lines[0], *lines[2:]]


@pytest.mark.parametrize(
    ("name", "change", "told"),
    [
        ("entries.jsonl", lambda lines: [lines[0].replace(b'"level":1', b'"level":2'), *lines[1:]],
         ("entries.jsonl", "1", "digest")),
        ("entries.jsonl", lambda lines: [*lines[:2], lines[2][:-9] + b"\n", *lines[3:]],
         ("entries.jsonl", "3", "digest")),
        ("entries.jsonl", lambda lines: lines[:-1], ("entries.jsonl", "5", "not_there")),
        ("entries.jsonl", swapped, ("entries.jsonl", "1", "digest")),
        ("entries.jsonl", lambda lines: [*lines[:-1], lines[-1][:-1]],
         ("entries.jsonl", "5", "no_json")),
        ("digests.txt", swapped, ("entries.jsonl", "1", "digest")),
        ("words.jsonl", lambda lines: [lines[0].replace(b"anna", b"anne"), *lines[1:]],
         ("words.jsonl", "1", "words")),
        ("words.jsonl", lambda lines: lines[1:], ("entries.jsonl", "1", "words_missing")),
        ("words.jsonl", swapped, ("words.jsonl", "2", "words")),
        ("words.jsonl", lambda lines: [*lines, b'{"number":99,"salt":"","words":"x"}\n'],
         ("words.jsonl", str, "words")),
        ("stays.jsonl", lambda lines: lines[:1], ("stays.jsonl", "1", "stays")),
        ("stays.jsonl", lambda lines: [b"[1]\n", *lines], ("stays.jsonl", "1", "cell")),
        ("csv/entry.csv", lambda lines: lines[:-1], ("csv/entry.csv", "0", "digest")),
        ("manifest.json", lambda lines: [lines[0].replace(b'"entries":5', b'"entries":4')],
         ("manifest.json", "1", "digest")),
        ("SHA256SUMS", lambda lines: lines[1:], (str, "0", "more")),
    ],
)  # fmt: skip
def test_a_mangled_export_is_refused_with_its_line(path, tmp_path, name, change, told):
    out = tmp_path / "out"
    export_everything(path, out)
    lines = (out / name).read_bytes().splitlines(keepends=True)
    (out / name).write_bytes(b"".join(change(lines)))
    with pytest.raises(Refusal) as caught:
        take_in(out, tmp_path / "other.hotel")
    values = caught.value.values
    assert caught.value.code == ("export_mangled" if "line" in values else "export_file_mangled")
    found = (values["file"], values.get("line", "0"), values["mangled"])
    assert all(want in (str, is_) for want, is_ in zip(told, found, strict=True)), found
    assert not (tmp_path / "other.hotel").exists()
    assert not (tmp_path / "other.photos").exists()


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        (b'"minutes":14', b'"minutes":"x"', "cell"),
        (b'"kind":"deep"', b'"kind":"deeper"', "cell"),
        (b'"minutes":14', b'"minuten":14', "table"),
        (b'"bed_checked"', b'"entry"', "table"),
        (b'"noted":"~4"', b'"noted":"plain"', "words"),
        (b'"id":1,', b'"id":2,', "number"),
    ],
)
def test_an_export_made_to_fit_by_hand_is_held_against_our_tables(path, tmp_path, old, new, why):
    """Its digests computed anew, so that only what stands in it can be wrong."""
    out = tmp_path / "out"
    export_everything(path, out)
    lines = (out / "entries.jsonl").read_bytes().splitlines()
    assert old in lines[0]
    before, made, digests = "", [], []
    for number, line in enumerate(lines, 1):
        found = json.loads(line.replace(old, new) if number == 1 else line)
        found["before"] = before
        made.append(canonical(found).encode())
        before = sha256(made[-1]).hexdigest()
        digests.append(f"{before}  {number}\n")
    (out / "entries.jsonl").write_bytes(b"\n".join(made) + b"\n")
    (out / "digests.txt").write_text("".join(digests))
    with pytest.raises(Refusal) as caught:
        take_in(out, tmp_path / "other.hotel")
    values = caught.value.values
    assert (values["file"], values["line"], values["mangled"]) == ("entries.jsonl", "1", why)


def test_a_photo_that_is_not_its_digest_is_refused(path, tmp_path):
    (photo,) = folder_of(path).iterdir()
    photo.write_bytes(b"another picture")
    export_everything(path, tmp_path / "out")
    with pytest.raises(Refusal) as caught:
        take_in(tmp_path / "out", tmp_path / "other.hotel")
    assert caught.value.values["file"] == f"photos/{photo.name}"
    assert not (tmp_path / "other.photos").exists()


def test_an_export_of_another_shape_says_so(path, tmp_path):
    export_everything(path, tmp_path / "out")
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_bytes())
    (tmp_path / "out" / "manifest.json").write_text(json.dumps(manifest | {"format": 99}))
    with pytest.raises(Refusal) as caught:
        take_in(tmp_path / "out", tmp_path / "other.hotel")
    assert caught.value.code == "export_of_another_shape"


STEPS = st.one_of(
    st.tuples(st.just("write"), FACTS, MOMENTS),
    st.tuples(st.just("expire"), st.floats(0, 1), MOMENTS),
    st.tuples(st.just("stays"), st.lists(STAYS, max_size=3), MOMENTS),
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(STEPS, max_size=6))
def test_export_and_taking_in_change_nothing_of_any_history(steps):
    folder = Path(tempfile.mkdtemp())
    try:
        desk = Desk(create(folder / "law.hotel"), House(shipped=rules()))
        for what, first, at in steps:
            if what == "write":
                desk.write(*first, at=at)
            elif what == "expire":
                expire_share(desk, first, at)
            else:
                fact = StaysImported("list.csv", "0" * 64, day(9), len(first), 0)
                desk.house = desk.journal.replace_stays(
                    first, fact, by="anna", at=at, house=desk.house
                )
        desk.journal.close()
        export_everything(folder / "law.hotel", folder / "one")
        take_in(folder / "one", folder / "other.hotel")
        assert whole(folder / "other.hotel") == desk.house
        export_everything(folder / "other.hotel", folder / "two")
        assert contents(folder / "one") == contents(folder / "two")
    finally:
        shutil.rmtree(folder)


# --- a stranger's way ---------------------------------------------------------------------


def blocks(language):
    return re.findall(rf"```{language}\n(.*?)```", how_to_verify(), re.DOTALL)


def run(command, folder):
    done = subprocess.run(
        ["bash", "-c", command], cwd=folder, capture_output=True, text=True, timeout=60, check=False
    )
    return done.returncode, done.stdout.split("\n")[:-1], done.stderr


@pytest.fixture
def stranger(path, tmp_path):
    """A folder with a copy of the file, the script of the text, and the export."""
    folder = tmp_path / "stranger"
    folder.mkdir()
    shutil.copyfile(path, folder / "hotel.hotel")
    for name, script in zip(("chain", "export"), blocks("python"), strict=True):
        assert "hotelwatch" not in script
        (folder / f"verify_{name}.py").write_text(script, "utf-8")
    export_everything(path, folder / "out")
    return folder


def test_the_texts_commands_come_to_the_same_digest(path, stranger):
    digest = verify(path).last_digest
    look, chain, everything, listed, lines, words, stays, photos = blocks("sh")
    assert run(look, stranger) == (0, ["ok", f"5|{digest}"], "")
    assert run(chain, stranger) == (0, ["everything holds", digest], "")
    assert run(everything, stranger) == (0, ["everything holds", digest], "")
    assert run(listed, stranger / "out") == (0, [], "")
    assert run(lines, stranger / "out") == (0, [digest], "")
    code, said, errors = run(words, stranger / "out")
    assert (code, errors, len(said), len(set(said))) == (0, "", 2, 1)
    imported = (stranger / "out" / "csv" / "stays_imported.csv").read_text("utf-8")
    (kept,) = csv.DictReader(io.StringIO(imported))
    assert run(stays, stranger / "out") == (0, [kept["stays_sha256"]], "")
    assert run(photos, stranger / "out") == (0, [], "")
    (photo,) = (stranger / "out" / "photos").iterdir()
    photo.write_bytes(b"another picture")
    assert run(photos, stranger / "out") == (0, [f"photos/{photo.name} was changed"], "")


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE bed_checked SET minutes = 15",
        "UPDATE entry SET recorded_at = '2026-01-05T09:00:01Z' WHERE id = 1",
        "DELETE FROM word_kept WHERE number = 1",
        "UPDATE word_kept SET words = 'eve' WHERE number = 1",
        "UPDATE stay SET room = '199'",
        "INSERT INTO floor_placed VALUES (2, 9, '9', 9)",
    ],
)
def test_the_texts_script_finds_what_was_changed(stranger, statement):
    tampered(stranger / "hotel.hotel", statement)
    code, said, _ = run(blocks("sh")[1], stranger)
    assert code == 1
    assert said[0] != "everything holds"


def test_the_texts_commands_find_a_changed_line_of_an_export(path, stranger):
    entries = stranger / "out" / "entries.jsonl"
    entries.write_bytes(entries.read_bytes().replace(b'"minutes":14', b'"minutes":15'))
    _, _, everything, listed, lines, *_ = blocks("sh")
    assert "everything holds" not in run(everything, stranger)[1]
    assert run(listed, stranger / "out")[0] != 0
    code, said, _ = run(lines, stranger / "out")
    assert code != 0 or said != [verify(path).last_digest]
