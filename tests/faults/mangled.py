"""Thousands of mangled rosters, bookings and probe logs, in bounded time and memory.

Each is read in a child: with its problems named, or refused in words. Rows that the
mangling did not touch come out as from the sound file, or something is said of them.
"""

from __future__ import annotations

import random
import time
import zipfile
from collections import Counter
from collections.abc import Iterator
from functools import cache, partial
from pathlib import Path

from hotelwatch.core.problems import InputRefused, Refusal
from hotelwatch.wording.problems import refusal_sentence, sentence
from tests.faults.campaign import (
    READ,
    REFUSED,
    WRONG,
    Size,
    Tally,
    peak_mib,
    reset_peak,
    watched,
)
from tests.faults.mangles import HEAVY, MANGLES
from tests.faults.tables_made import MAKERS, WRITERS, Came, Made, came_out
from tests.faults.writing import folder

MOST_SECONDS = 30
MOST_MIB = 1500
MOST_ROWS = 1_048_576
"""Of a sheet. Source: ECMA-376's usual applications; a limit of theirs, from memory."""
NOT_SAID = "not possible"
SOUND_TABLES = 40
"""Of each kind and form, made once: each is mangled many times, never twice alike."""
Told = tuple[str, str, float, float]
"""Outcome, about what, seconds, MiB."""


def mangled(dice: random.Random, size: Size) -> Iterator[Tally]:
    """Many small files, some that unfold to much, and sheets as long as a sheet may be."""
    with folder() as place:
        for kind in MAKERS:
            given = [(kind, m.__name__, dice.randrange(2**32)) for m in MANGLES] * size.of(2, 250)
            given = [(kind, name, seed + n) for n, (kind, name, seed) in enumerate(given)]
            yield _read(place, f"mangled {kind}", given)
        heavy = [
            (dice.choice(list(MAKERS)), dice.choice(HEAVY).__name__, dice.randrange(2**32))
            for _ in range(size.of(3, 250))
        ]
        yield _read(place, "zip bombs, repeated rows, cells far off", heavy)
        if not size.quick:
            yield _long_sheets(place)


def _read(place: Path, what: str, given: list[tuple[str, str, int]]) -> Tally:
    tally = Tally(what)
    worst = (0.0, "")
    refused: Counter[str] = Counter()
    work = partial(_once, place)
    for item, failed, told in watched(given, work, seconds=MOST_SECONDS, mib=MOST_MIB):
        if failed:
            tally.count(failed, f"{item}: {told}")
            continue
        outcome, about, seconds, mib = told
        tally.count(outcome, f"{item}: {about}")
        refused[about] += outcome == REFUSED
        tally.peak_mib = max(tally.peak_mib, mib)
        worst = max(worst, (seconds, str(item[1])))
    tally.notes.append(f"slowest {worst[0]:.1f} s ({worst[1].replace('_', ' ')})")
    return tally


def _once(place: Path, item: tuple[str, str, int]) -> Told:
    kind, name, seed = item
    dice = random.Random(seed)
    form = dice.choice(list(WRITERS))
    path = place / f"f.{form}"
    mangle = {m.__name__: m for m in (*MANGLES, *HEAVY)}[name]
    made, sound = _sound(kind, dice.randrange(SOUND_TABLES), form)
    touched = mangle(made, form, path, dice)
    reset_peak()
    before, begun = peak_mib(), time.monotonic()
    outcome, about = _outcome(kind, path, made, touched, sound)
    return outcome, about, time.monotonic() - begun, peak_mib() - before


@cache
def _sound(kind: str, number: int, form: str) -> tuple[Made, Came]:
    """One of the tables that are mangled, and what is read of it as it is."""
    made = MAKERS[kind](random.Random(number))
    with folder() as place:
        came, _ = came_out(kind, WRITERS[form](place / f"sound.{form}", made.cells))
    assert len(came) == len(made.cells) - 1, "the sound file is read whole"
    return made, came


def _outcome(kind, path, made, touched, sound) -> tuple[str, str]:
    try:
        came, problems = came_out(kind, path)
    except Refusal as refusal:
        what, _ = refusal_sentence(refusal)
        return (
            (WRONG, f"no words for {refusal.code}") if NOT_SAID in what else (REFUSED, refusal.code)
        )
    except InputRefused as refused:
        return REFUSED, refused.problems[0].code
    for problem in problems:
        if NOT_SAID in sentence(problem)[0]:
            return WRONG, f"no words for {problem.code}"
    if any(not problem.row for problem in problems):
        return READ, "with a word on the whole table"
    said = {problem.row for problem in problems}
    if 1 in touched:
        # A column that is called otherwise is another column: the person sees that.
        return READ, ""
    for row in range(2, len(made.cells) + 1):
        key = made.key(row)
        if row in touched or said & {row, *range(row, row + 4)}:
            continue
        if came.get(key) != sound[key]:
            return (
                WRONG,
                f"row {row} ({key}): {str(came.get(key))[:150]} for {str(sound[key])[:150]}",
            )
    return READ, ""


# --- as long as a sheet may be -----------------------------------------------------


def _long_sheets(place: Path) -> Tally:
    tally = Tally(f"sheets of {MOST_ROWS:,} rows")
    given = [(kind, form) for kind in MAKERS for form in ("csv", "xlsx", "ods")]
    for kind, form in given:
        path = place / f"long-{kind}.{form}"
        _long(path, kind, form)
        for item, failed, told in watched(
            [(kind, path)], _read_long, seconds=4 * MOST_SECONDS, mib=MOST_MIB
        ):
            if failed:
                tally.count(failed, f"{item}: {told}")
                continue
            outcome, about, seconds, mib = told
            tally.count(outcome, f"{item}: {about}")
            tally.peak_mib = max(tally.peak_mib, mib)
            tally.notes.append(f"{kind} {form} {seconds:.1f} s")
        path.unlink()
    return tally


def _read_long(item: tuple[str, Path]) -> Told:
    kind, path = item
    reset_peak()
    before, begun = peak_mib(), time.monotonic()
    try:
        came, _ = came_out(kind, path)
        outcome = (READ, "") if len(came) == MOST_ROWS - 1 else (WRONG, f"{len(came)} came out")
    except Refusal as refusal:
        outcome = (REFUSED, refusal.code)
    return *outcome, time.monotonic() - begun, peak_mib() - before


def _long(path: Path, kind: str, form: str) -> None:
    made = MAKERS[kind](random.Random(1))
    head, row = made.cells[0], [str(cell) for cell in made.cells[1]]
    with path.open("wb") as plain:
        if form == "csv":
            plain.write(",".join(map(str, head)).encode() + b"\n")
            for number in range(2, MOST_ROWS + 1):
                plain.write(",".join([f"{row[0]}{number}", *row[1:]]).encode() + b"\n")
            return
    WRITERS[form](path, made.cells)
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    name = "content.xml" if form == "ods" else "xl/worksheets/sheet1.xml"
    begin, end = _around(parts[name], form)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for other, content in parts.items():
            if other != name:
                archive.writestr(other, content)
        with archive.open(name, "w", force_zip64=True) as part:
            part.write(begin)
            for number in range(2, MOST_ROWS + 1):
                part.write(_xml_row([f"{row[0]}{number}", *row[1:]], number, form))
            part.write(end)


def _around(xml: bytes, form: str) -> tuple[bytes, bytes]:
    """What stands before the second row and behind the last one."""
    opens, closes = (
        (b"<table:table-row>", b"</table:table-row>") if form == "ods" else (b"<row ", b"</row>")
    )
    second = xml.index(opens, xml.index(opens) + 1)
    return xml[:second], xml[xml.rindex(closes) + len(closes) :]


def _xml_row(cells: list[str], number: int, form: str) -> bytes:
    if form == "ods":
        inner = "".join(
            f'<table:table-cell office:value-type="string"><text:p>{cell}</text:p>'
            "</table:table-cell>"
            for cell in cells
        )
        return f"<table:table-row>{inner}</table:table-row>".encode()
    inner = "".join(
        f'<c r="{chr(65 + n)}{number}" t="inlineStr"><is><t>{cell}</t></is></c>'
        for n, cell in enumerate(cells)
    )
    return f'<row r="{number}">{inner}</row>'.encode()
