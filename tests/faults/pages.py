"""Which bytes of a SQLite file say something, by the description of its file format.

What lies between the cell pointers and the cells of a page, in its free blocks, or in
fragments between cells is unused: SQLite reads none of it. Source: sqlite.org,
Database File Format, sections 1.3 (header), 1.5 (freelist), 1.6 (b-tree pages, cells and
overflow pages), from memory.
"""

from __future__ import annotations

HEADER_BYTES = 100
INNER_INDEX, INNER_TABLE, LEAF_INDEX, LEAF_TABLE = 2, 5, 10, 13
HEADER_UNUSED = range(72, 92)
"""Reserved for expansion; SQLite reads none of it."""


def used_bytes(content: bytes) -> list[int]:
    """Offsets of all bytes that say something."""
    size = int.from_bytes(content[16:18], "big")
    size = 65_536 if size == 1 else size
    used = [number not in HEADER_UNUSED for number in range(HEADER_BYTES)]
    used += [False] * (len(content) - HEADER_BYTES)
    overflow: list[tuple[int, int]] = []
    for start in range(0, len(content), size):
        at = start + (HEADER_BYTES if start == 0 else 0)
        if content[at] in (INNER_INDEX, INNER_TABLE, LEAF_INDEX, LEAF_TABLE):
            overflow += _mark_tree_page(content, used, start, size)
    for page, left in overflow:
        _mark_overflow(content, used, page, left, size)
    return [number for number, is_used in enumerate(used) if is_used]


def _mark_tree_page(
    content: bytes, used: list[bool], start: int, size: int
) -> list[tuple[int, int]]:
    at = start + (HEADER_BYTES if start == 0 else 0)
    kind = content[at]
    head = 12 if kind in (INNER_INDEX, INNER_TABLE) else 8
    cells = int.from_bytes(content[at + 3 : at + 5], "big")
    _mark(used, at, head + 2 * cells)
    overflow = []
    for number in range(cells):
        pointer = at + head + 2 * number
        cell = start + int.from_bytes(content[pointer : pointer + 2], "big")
        length, more = _cell(content, cell, kind, size)
        _mark(used, cell, length)
        overflow += more
    return overflow


def _cell(content: bytes, at: int, kind: int, size: int) -> tuple[int, list[tuple[int, int]]]:
    """A cell's length on its page, and its first overflow page with the bytes left over."""
    begun = at
    at += 4 if kind in (INNER_INDEX, INNER_TABLE) else 0
    if kind == INNER_TABLE:
        _, at = _varint(content, at)
        return at - begun, []
    payload, at = _varint(content, at)
    if kind == LEAF_TABLE:
        _, at = _varint(content, at)
    most = size - 35 if kind == LEAF_TABLE else (size - 12) * 64 // 255 - 23
    least = (size - 12) * 32 // 255 - 23
    if payload <= most:
        return at + payload - begun, []
    here = least + (payload - least) % (size - 4)
    here = here if here <= most else least
    page = int.from_bytes(content[at + here : at + here + 4], "big")
    return at + here + 4 - begun, [(page, payload - here)]


def _mark_overflow(content: bytes, used: list[bool], page: int, left: int, size: int) -> None:
    while page and left > 0:
        start = (page - 1) * size
        _mark(used, start, 4 + min(left, size - 4))
        page = int.from_bytes(content[start : start + 4], "big")
        left -= size - 4


def _varint(content: bytes, at: int) -> tuple[int, int]:
    value = 0
    for number in range(9):
        byte = content[at + number]
        if number == 8:
            return value << 8 | byte, at + 9
        value = value << 7 | byte & 0x7F
        if not byte & 0x80:
            return value, at + number + 1
    raise AssertionError


def _mark(used: list[bool], at: int, length: int) -> None:
    used[at : at + length] = [True] * length
