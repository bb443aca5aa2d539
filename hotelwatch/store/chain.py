r"""The chain of digests over the entries of a hotel's file.

Each entry bears a SHA-256 over itself, its facts and the digest of the entry
before it; so a change of any of them shows in every digest from there on. Anyone
can compute it anew from the file's tables, with no part of this program:

1. Take one JSON object with three members.
   ``before``: the digest of the entry numbered one less, as 64 lower-case
   hexadecimal digits; an empty string for entry 1.
   ``entry``: an object of the entry's row in table ``entry``, column by column,
   without ``digest``; an empty ``corrects`` is ``null``.
   ``facts``: an array of the rows of all fact tables whose ``entry`` is this
   one's ``id``, in the order of ``line``. Each is an array of two: the table's
   name, and an object of the row, column by column, without ``entry`` and ``line``.
2. Values stand as SQLite has them: TEXT as string, INTEGER as whole number, and
   REAL as the shortest decimal that reads back as the same double, always with
   ``.0`` where it is whole (as Python's ``repr`` and ``json`` write it).
3. Write it as JSON with the members of every object in the order of their names,
   no space between tokens, and in strings nothing escaped but the quotation mark,
   the reverse solidus and the control characters below U+0020 (these as \b, \t,
   \n, \f, \r where JSON has such a short form, else as \u00xx in lower case).
4. The digest is the SHA-256 of that text in UTF-8, in lower-case hexadecimal.

Table ``stay`` is replaced in part by each import of bookings, so it is not under the
chain itself. But the last row of ``stays_imported`` (by ``entry``, then ``line``) bears
two digests that are: ``file_sha256`` of the file that was read in, and
``stays_sha256`` of table ``stay`` as that import left it. The latter is the SHA-256 of
one line for each row of the table, in the order of its ``line``: an array of the other
columns in the table's order, written as in 3 and ended by a line feed.

Names and notes stand apart, so that they can expire: their columns hold references as
``~12``, and a row of ``word_noted`` with the ``number`` 12 is a line of the entry that
first used them. Its ``sha256`` is that of the ``salt`` followed by the ``words`` of the row
of ``word_kept`` with that number, in UTF-8. Where that row is gone, a later row of
``content_expired`` names the number in ``which``.

Step 3 is how RFC 8785 (JSON Canonicalization Scheme) writes strings and orders members. Of
numbers it says otherwise: there 1.0 is written as 1. Digests here keep the ``.0``, since
SQLite tells whole numbers and others apart.

The chain tells a change of an entry by whoever does not compute it anew. Who does, or
cuts entries off its end, is found by comparing with a digest kept elsewhere, as a
month's book prints it; and photos by their digests in ``photo_kept``.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256

from hotelwatch.store.columns import Cell

_CANONICAL = json.JSONEncoder(
    ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":")
)

Line = tuple[str, Mapping[str, Cell]]
"""A fact as the chain sees it: its table and its own columns."""


def digest_of(entry: Mapping[str, Cell], facts: Iterable[Line], before: str) -> str:
    """The digest of an entry's row (without ``digest``) and its facts in order."""
    whole = {"before": before, "entry": dict(entry), "facts": list(facts)}
    return sha256(canonical(whole).encode("utf-8")).hexdigest()


def canonical(value: object) -> str:
    """A value as JSON, in the one way in which digests are taken."""
    return _CANONICAL.encode(value)


def digest_of_stays(rows: Iterable[Sequence[Cell]]) -> str:
    """The digest of the rows of ``stay`` (without ``line``), in the order of ``line``."""
    found = sha256()
    for row in rows:
        found.update(canonical(row).encode("utf-8") + b"\n")
    return found.hexdigest()
