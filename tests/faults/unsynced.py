"""A disk that forgets: files in memory of which what was not synced may be gone, or torn.

Every write, cut and removal is noted in order. At any point of that record the power may
fail: of what was not synced by then any part may have reached the disk, in any order, a
write itself torn at any byte. Removals and new names are unsynced until the folder is.
Our journal and our schema run through it unchanged, on apsw's SQLite.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import apsw

SECTOR = 4096
TORN_AT_LEAST = 2


@dataclass(frozen=True)
class Write:
    name: str
    offset: int
    data: bytes


@dataclass(frozen=True)
class Cut:
    """A file cut, or grown with zeros, to a size."""

    name: str
    size: int


@dataclass(frozen=True)
class Gone:
    name: str
    is_synced: bool
    """Whether the folder was synced with it."""


@dataclass(frozen=True)
class Synced:
    name: str


@dataclass(frozen=True)
class Acknowledged:
    entry: int


Step = Write | Cut | Gone | Synced | Acknowledged
Files = dict[str, bytes]


@dataclass
class Disk:
    """Files as the running program sees them, and the record of what was done to them."""

    files: dict[str, bytearray] = field(default_factory=dict)
    steps: list[Step] = field(default_factory=list)

    def do(self, step: Write | Cut | Gone) -> None:
        self.steps.append(step)
        _apply(self.files, step)


def _apply(files: dict[str, bytearray], step: Write | Cut | Gone) -> None:
    if isinstance(step, Gone):
        files.pop(step.name, None)
        return
    held = files.setdefault(step.name, bytearray())
    if isinstance(step, Cut):
        del held[step.size :]
        held.extend(bytes(step.size - len(held)))
        return
    held.extend(bytes(max(0, step.offset - len(held))))
    held[step.offset : step.offset + len(step.data)] = step.data


class Forgetful(apsw.VFS):
    """The file layer: SQLite's own but for files, which are a Disk's."""

    def __init__(self, disk: Disk) -> None:
        self.disk = disk
        self.name = f"forgetful{id(disk)}"
        super().__init__(self.name, "")

    def xOpen(self, name, flags):
        named = name.filename() if isinstance(name, apsw.URIFilename) else name
        return File(self.disk, named or f"temporary{len(self.disk.steps)}", flags)

    def xDelete(self, name, syncdir):
        self.disk.do(Gone(name, bool(syncdir)))

    def xAccess(self, name, flags):
        return name in self.disk.files

    def xFullPathname(self, name):
        return name


class File:
    """One open file of a Disk; nobody else has it, so locks are always given."""

    def __init__(self, disk: Disk, name: str, flags: list[int]) -> None:
        self.disk, self.name = disk, name
        self._dies = bool(flags[0] & apsw.SQLITE_OPEN_DELETEONCLOSE)
        flags[1] = flags[0]
        disk.files.setdefault(name, bytearray())

    def xRead(self, amount, offset):
        return bytes(self.disk.files[self.name][offset : offset + amount])

    def xWrite(self, data, offset):
        self.disk.do(Write(self.name, offset, bytes(data)))

    def xTruncate(self, size):
        self.disk.do(Cut(self.name, size))

    def xSync(self, flags):
        self.disk.steps.append(Synced(self.name))

    def xFileSize(self):
        return len(self.disk.files.get(self.name, b""))

    def xClose(self):
        if self._dies:
            self.disk.do(Gone(self.name, False))

    def xLock(self, level):
        pass

    def xUnlock(self, level):
        pass

    def xCheckReservedLock(self):
        return False

    def xFileControl(self, op, pointer):
        return False

    def xSectorSize(self):
        return SECTOR

    def xDeviceCharacteristics(self):
        return 0  # nothing is promised: no write is whole, and a torn one may harm its sector


def crashes(
    before: Mapping[str, bytes], steps: list[Step], at: int, dice: random.Random
) -> Iterator[tuple[str, Files]]:
    """What may lie on the disk where the power fails after so many steps, by how it forgot."""
    durable, pending = _settled(before, steps[:at])
    yield "all of it lost", _after(durable, [])
    yield "all of it there", _after(durable, pending)
    if pending:
        yield "the first part there", _after(durable, pending[: dice.randrange(len(pending))])
        yield "any part there, in any order", _after(durable, _some(pending, dice))
        yield "any part there, writes torn", _after(durable, _torn(_some(pending, dice), dice))


def _settled(
    before: Mapping[str, bytes], steps: list[Step]
) -> tuple[dict[str, bytearray], list[Write | Cut | Gone]]:
    """What is surely on the disk, and what is not yet."""
    durable = {name: bytearray(content) for name, content in before.items()}
    pending: list[Write | Cut | Gone] = []
    for step in steps:
        if isinstance(step, Synced):
            pending = _without(durable, pending, step.name)
        elif isinstance(step, Gone) and step.is_synced:
            pending = _without(durable, pending, step.name)
            _apply(durable, step)
        elif not isinstance(step, Acknowledged):
            pending.append(step)
    return durable, pending


def _without(
    durable: dict[str, bytearray], pending: list[Write | Cut | Gone], name: str
) -> list[Write | Cut | Gone]:
    for step in pending:
        if step.name == name:
            _apply(durable, step)
    return [step for step in pending if step.name != name]


def _some(pending: list[Write | Cut | Gone], dice: random.Random) -> list[Write | Cut | Gone]:
    kept = [step for step in pending if dice.random() < dice.choice((0.2, 0.5, 0.9))]
    # Writes may reach the disk in any order, but those of one place in a file in theirs.
    whole = list(kept)
    for _ in range(len(whole)):
        if len(whole) < TORN_AT_LEAST:
            break
        n = dice.randrange(len(whole) - 1)
        if whole[n].name != whole[n + 1].name:
            whole[n], whole[n + 1] = whole[n + 1], whole[n]
    return whole


def _torn(pending: list[Write | Cut | Gone], dice: random.Random) -> list[Write | Cut | Gone]:
    return [_torn_one(step, dice) if isinstance(step, Write) else step for step in pending]


def _torn_one(step: Write, dice: random.Random) -> Write:
    cut = dice.randrange(len(step.data) + 1)
    if dice.random() < 0.5:
        return Write(step.name, step.offset, step.data[:cut])
    return Write(step.name, step.offset + cut, step.data[cut:])


def _after(durable: dict[str, bytearray], steps: list[Write | Cut | Gone]) -> Files:
    files = {name: bytearray(content) for name, content in durable.items()}
    for step in steps:
        _apply(files, step)
    return {name: bytes(content) for name, content in files.items()}


class Rows:
    """apsw's connection with the few words of sqlite3's that the journal says."""

    def __init__(self, bare: apsw.Connection) -> None:
        self._bare = bare

    @property
    def in_transaction(self) -> bool:
        return self._bare.in_transaction

    def execute(self, sql, values=()):
        return self._bare.execute(sql, values)

    def executemany(self, sql, rows):
        return self._bare.executemany(sql, rows)


class Forgetting:
    """Stands in for the store's Database, on a Disk that forgets."""

    def __init__(self, disk: Disk, name: str) -> None:
        self._layer = Forgetful(disk)
        flags = apsw.SQLITE_OPEN_READWRITE | apsw.SQLITE_OPEN_CREATE
        self._bare = apsw.Connection(name, flags=flags, vfs=self._layer.name)
        self.conn = Rows(self._bare)

    def execute(self, sql, values=()):
        return self.conn.execute(sql, values)

    def rollback(self) -> None:
        if self.conn.in_transaction:
            self._bare.execute("ROLLBACK")

    def close(self) -> None:
        self._bare.close()
