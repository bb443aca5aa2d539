"""Ways to mangle a table's file. Each says which rows it touched: of these anything may come.

Rows count as a person counts them: 1 is the row of headings. EVERY: nothing is sure.
"""

from __future__ import annotations

import random
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl

from tests.faults.tables_made import WRITERS, Made

TWICE = 2
"""From this way on the headings stand as they were."""
EVERY = frozenset(range(1, 10_000))
Touched = frozenset[int]
Mangle = Callable[[Made, str, Path, random.Random], Touched]


def _row_of(content: bytes, at: int) -> int:
    return content.count(b"\n", 0, at) + 1


def _sound(made: Made, form: str, path: Path) -> bytes:
    return WRITERS[form](path, made.cells).read_bytes()


def _lines(form: str, content: bytes, first: int, last: int) -> Touched:
    """The lines of a csv from one byte to another; a packed file is touched as a whole."""
    if form != "csv":
        return EVERY
    return frozenset(range(_row_of(content, first), _row_of(content, last) + 2))


# --- bytes ----------------------------------------------------------------------


def cut_short(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    content = _sound(made, form, path)
    at = dice.randrange(len(content))
    path.write_bytes(content[:at])
    return frozenset(range(_row_of(content, max(0, at - 1)), 10_000)) if form == "csv" else EVERY


def bytes_flipped(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    content = bytearray(_sound(made, form, path))
    touched: set[int] = set()
    whole = bytes(content)
    for _ in range(dice.randint(1, 4)):
        at = dice.randrange(len(content))
        content[at] ^= 1 << dice.randrange(8)
        touched |= _lines(form, whole, at, at)
    path.write_bytes(content)
    return frozenset(touched)


def a_piece_zeroed(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    content = bytearray(_sound(made, form, path))
    at = dice.randrange(len(content))
    end = min(len(content), at + dice.randint(1, 40))
    touched = _lines(form, bytes(content), at, end - 1)
    content[at:end] = bytes(end - at)
    path.write_bytes(content)
    return touched


def rubbish_behind(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    content = _sound(made, form, path)
    path.write_bytes(content + dice.randbytes(dice.randint(1, 300)))
    return frozenset({_row_of(content, len(content)) + n for n in range(400)})


def another_encoding(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    text = _sound(made, "csv", path).decode()
    # The headings may bear a degree sign, which some encodings write otherwise.
    wanted = dice.choice(["utf-16", "utf-16-le", "utf-16-be", "utf-8-sig", "cp1252", "utf-32",
                          "cp037", "shift_jis", "utf-7", "cp437", "koi8-r"])  # fmt: skip
    path.write_bytes(text.encode(wanted, "replace"))
    return frozenset() if made.kind != "probes" else frozenset({1})


def nothing_but_bytes(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    start = dice.choice([b"", b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", b"Room,Floor\n"])
    path.write_bytes(start + dice.randbytes(dice.randint(0, 5000)))
    return EVERY


# --- cells ----------------------------------------------------------------------

ODD_CELLS: tuple[object, ...] = (
    "", " ", "\t", "x" * 32_000, "=1+1", "#REF!", "#N/A", "-1", "1e400", "nan", "٣", "²", "🛏",
    "\ufeff", "a\nb", 'a"b', "'0101", "00101", 45_000, 45_000.5, -3.25, True, 1e308,
    "31/02/2026", "2026-02-30", "03/04/26", "DROP TABLE entry", "../../etc/passwd", "\u202e101",
)  # fmt: skip


def cells_odd(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    cells = [list(row) for row in made.cells]
    touched = set()
    for _ in range(dice.randint(1, 3)):
        row = dice.randrange(1, len(cells))
        cells[row][dice.randrange(len(cells[row]))] = dice.choice(ODD_CELLS)
        touched.add(row + 1)
    # Two rows of one booking, room or time say different things: which one is not known.
    WRITERS[form](path, cells)
    return frozenset(touched)


def headings_odd(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    head, *rows = ([*row] for row in made.cells)
    way = dice.randrange(4)
    if way == 0:
        head[dice.randrange(len(head))] = head[dice.randrange(len(head))]
    elif way == 1:
        head[dice.randrange(len(head))] = dice.choice(ODD_CELLS)
    elif way == 2:
        head.append(head[dice.randrange(len(head))])
        rows = [[*row, "other"] for row in rows]
    else:
        rows.insert(dice.randrange(len(rows)), list(head))
    WRITERS[form](path, [head, *rows])
    # A column that is called otherwise is another column: the person sees that in the preview.
    return EVERY if way < TWICE else frozenset()


def rows_missing(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    cells = [list(row) for row in made.cells]
    for _ in range(dice.randint(1, 3)):
        cells.insert(dice.randrange(1, len(cells)), [""] * dice.randint(0, 30))
    WRITERS[form](path, cells)
    return frozenset()


def merged(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    book = openpyxl.Workbook()
    for row in made.cells:
        book.active.append(row)
    top, left = dice.randint(1, len(made.cells)), dice.randint(1, len(made.cells[0]))
    bottom, right = top + dice.randrange(3), left + dice.randrange(3)
    book.active.merge_cells(start_row=top, start_column=left, end_row=bottom, end_column=right)
    book.save(path)
    return frozenset(range(top, bottom + 1))


def formulas(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    book = openpyxl.Workbook()
    cells = [list(row) for row in made.cells]
    touched = set()
    for _ in range(dice.randint(1, 4)):
        row = dice.randrange(1, len(cells))
        cells[row][dice.randrange(len(cells[row]))] = dice.choice(
            ["=A1", "=1/0", "=NOW()", '=HYPERLINK("http://x","y")', "=A2&B2", "=INDIRECT(A1)"]
        )
        touched.add(row + 1)
    for row in cells:
        book.active.append(row)
    book.save(path)
    return frozenset(touched)


def far_cells(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    book = openpyxl.Workbook()
    for row in made.cells:
        book.active.append(row)
    row, column = dice.choice([(1_048_576, 1), (1, 16_384), (1_048_576, 16_384), (900_000, 300)])
    book.active.cell(row, column, "far")
    book.save(path)
    return frozenset({row, 1})


# --- parts of a packed file -------------------------------------------------------


def _parts(made: Made, form: str, path: Path) -> dict[str, bytes]:
    WRITERS[form](path, made.cells)
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def _packed(path: Path, parts: dict[str, bytes]) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)


def xml_broken(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    form = "ods" if form == "ods" else "xlsx"
    parts = _parts(made, form, path)
    name = dice.choice(sorted(parts))
    content = bytearray(parts[name])
    way = dice.randrange(3)
    if way == 0 and content:
        del content[dice.randrange(len(content)) :]
    elif way == 1:
        for _ in range(dice.randint(1, 3)):
            content[dice.randrange(len(content))] = dice.choice(b'<>"0123456789/ =azAZ&;')
    else:
        at = dice.randrange(len(content) + 1)
        content[at:at] = dice.choice(
            [
                b"<!DOCTYPE x [<!ENTITY a 'b'>]>",
                b"&a;",
                b"<x>" * 2000,
                b"\0",
                b"<![CDATA[",
                b"-" * 9999,
            ]
        )
    parts[name] = bytes(content)
    _packed(path, parts)
    return EVERY


def part_missing(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    form = "ods" if form == "ods" else "xlsx"
    parts = _parts(made, form, path)
    del parts[dice.choice(sorted(parts))]
    _packed(path, parts)
    return EVERY


def bomb(made: Made, form: str, path: Path, dice: random.Random) -> Touched:
    """Few bytes that unfold to many: a part of blanks, or of repeated rows and columns."""
    form = "ods" if form == "ods" else "xlsx"
    parts = _parts(made, form, path)
    many = dice.choice([1_000_000, 10_000_000, 60_000_000])
    if form == "ods":
        text = parts["content.xml"].decode()
        times = dice.choice([1_048_576, 10**9, 10**18, 300])
        parts["content.xml"] = dice.choice(
            [
                text.replace(
                    "<table:table-row>", f'<table:table-row table:number-rows-repeated="{times}">'
                ),
                text.replace(
                    "<table:table-cell",
                    f'<table:table-cell table:number-columns-repeated="{times}"',
                ),
                text.replace("<table:table-row>", " " * many + "<table:table-row>", 1),
            ]
        ).encode()
    else:
        name = dice.choice(sorted(n for n in parts if n.endswith(".xml")))
        parts[name] = parts[name].replace(b"?>", b"?>" + b" " * many, 1) + b" " * many
    _packed(path, parts)
    return EVERY


MANGLES: tuple[Mangle, ...] = (
    cut_short, bytes_flipped, a_piece_zeroed, rubbish_behind, another_encoding,
    nothing_but_bytes, cells_odd, headings_odd, rows_missing, merged, formulas, xml_broken,
    part_missing,
)  # fmt: skip
HEAVY: tuple[Mangle, ...] = (far_cells, bomb)
