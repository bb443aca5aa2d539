"""Whether a book from months ago and the hotel's file say the same, cell by cell.

The book names the last entry that it knew. The record is cut there, the book is made anew
from it, and both are read by another library than wrote them. What was written down later
explains nothing of a difference then: it stands beside.
"""

from __future__ import annotations

import hashlib
import tempfile
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from pathlib import Path

from hotelwatch.actions.book_reasons import ReasonLine, as_the_book_says, reason_lines
from hotelwatch.actions.books import book_from, months_in, months_told, proof_of
from hotelwatch.actions.open_hotel import whole_house
from hotelwatch.core.facts import StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.month.changes import later_rows
from hotelwatch.core.month.rows import ChangeRow
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.record_facts import holds_gone
from hotelwatch.intake.book_file import BookCell, BookFile, read_book
from hotelwatch.papers.book_claims import Claims, claims_in
from hotelwatch.papers.month_front import signatures
from hotelwatch.papers.month_odds import odds_title
from hotelwatch.store.journal import PROGRAM
from hotelwatch.store.verify import Fault, verify
from hotelwatch.wording.language import speaking

MOST_TOLD = 500
NEAR = 1e-9
"""Numbers that another program saved anew may differ by so much, of their size."""
SHEET_MISSING, SHEET_ADDED, CELL, FORMULA, NAME, EXPIRED_SINCE, FILLED_IN, BOOKINGS_SINCE = (
    "sheet_missing",
    "sheet_added",
    "cell",
    "formula",
    "name",
    "expired_since",
    "filled_in",
    "bookings_since",
)
HARMLESS = frozenset({EXPIRED_SINCE, FILLED_IN, BOOKINGS_SINCE})
"""Differences that speak against nobody: what expired by policy, lines to sign on, odds
reckoned anew where bookings were read in since."""


Rows = Sequence[Sequence[BookCell]]


@dataclass(frozen=True, slots=True)
class Difference:
    """Where a book and the record do not say the same."""

    why: str
    """"sheet_missing", "sheet_added", "cell", "formula" (it computes otherwise, or no more),
    "name" (formulas mean other cells by it), "expired_since", "filled_in" (a line to
    sign on), "bookings_since" (odds rest on them)."""
    sheet: str
    cell: str
    """As "C7"; empty for a whole sheet."""
    book: str
    record: str


@dataclass(frozen=True, slots=True)
class BookCheck:
    """What a comparison of a book with the hotel's file found."""

    claims: Claims
    is_same_file: bool
    """The book made anew is this very file, byte for byte."""
    cells: int
    """How many cells were compared."""
    differences: tuple[Difference, ...]
    """The first of them; ``count`` says how many there are."""
    count: int
    """Of those that are not harmless."""
    faults: tuple[Fault, ...]
    """What speaks against the record itself."""
    later: tuple[ChangeRow, ...]
    """What was written down since and concerns the book's months."""
    has_later_bookings: bool
    """Bookings were read in since: reasons and lets rest on those known now."""
    reasons: tuple[ReasonLine, ...]
    """Each late underside of its months: why, by the book and by the record."""
    other_program: str
    """The version that made the book, where it is not this one; else empty."""

    @property
    def agrees(self) -> bool:
        """Whether book and record say the same and nothing speaks against the record."""
        return self.count == 0 and not self.faults


def check_book(
    hotel_file: Path, rules: Rules, book: Path, progress: Progress = silent
) -> BookCheck:
    """Compare a book with the hotel's file; nothing is written but a file that goes again.

    Raises Refusal: "not_a_book", "no_claims_in_book", "book_of_another_hotel",
    "book_knows_more" where the record ends before the book does, and what reading says.
    """
    # What writes workbooks takes its time to load.
    from hotelwatch.papers.sheets import sheet_title
    from hotelwatch.papers.workbook import save_book

    progress(0.0, "reading_book")
    given = read_book(book)
    claims = _claims(given, book)
    progress(0.2, "reading_record")
    house = whole_house(hotel_file, rules)
    _refuse_other(house, claims, book)
    progress(0.3, "checking_record")
    found = verify(hotel_file, printed={claims.last_entry: claims.last_digest})
    cut = house.until_entry(claims.last_entry)
    is_later = any(row.entry > claims.last_entry for row in house.kept_of(StaysImported))
    with tempfile.TemporaryDirectory() as folder, speaking(claims.language):
        months = months_told(cut, claims, _told(progress))
        reasons = reason_lines(given, months, has_later_bookings=is_later)
        if is_later:
            months = as_the_book_says(given, months)
        anew = Path(folder) / "anew.xlsx"
        save_book(book_from(cut, months, claims, proof_of(found, claims)), anew)
        progress(0.85, "comparing_book")
        is_same_file = _digest(anew) == _digest(book)
        made = read_book(anew)
        lines = frozenset(signatures())
        unsettled = frozenset({sheet_title(odds_title())} if is_later else ())
    differences = list(_differences(given, made, lines, unsettled))
    against = [one for one in differences if one.why not in HARMLESS]
    return BookCheck(
        claims=claims,
        is_same_file=is_same_file,
        cells=sum(len(row) for rows in made.sheets.values() for row in rows),
        differences=tuple((against + [d for d in differences if d.why in HARMLESS])[:MOST_TOLD]),
        count=len(against),
        faults=found.problems,
        later=later_rows(house, claims.last_entry, months_in(claims)),
        has_later_bookings=is_later,
        reasons=reasons,
        other_program=claims.program if claims.program != PROGRAM else "",
    )


def _claims(given: BookFile, book: Path) -> Claims:
    for rows in reversed(tuple(given.sheets.values())):
        claims = claims_in(rows)
        if claims is not None:
            return claims
    raise Refusal("no_claims_in_book", file=book.name)


def _refuse_other(house: House, claims: Claims, book: Path) -> None:
    first = house.entries.get(min(house.entries, default=0))
    if first is None or first.digest != claims.first_digest:
        raise Refusal("book_of_another_hotel", file=book.name)
    if claims.last_entry not in house.entries:
        last = max(house.entries)
        raise Refusal(
            "book_knows_more", file=book.name, entry=str(claims.last_entry), last=str(last)
        )


def _told(progress: Progress) -> Progress:
    """Progress of counting within the whole."""

    def told(share: float, step: str) -> None:
        progress(0.4 + 0.3 * share, step)

    return told


# --- comparing --------------------------------------------------------------------------------


def _differences(
    given: BookFile, made: BookFile, lines: Set[str], unsettled: Set[str]
) -> Iterator[Difference]:
    """``lines`` are to sign on; what differs on sheets ``unsettled`` speaks against nobody."""
    for name in given.sheets:
        if name not in made.sheets:
            yield Difference(SHEET_ADDED, name, "", "", "")
    for name, rows in made.sheets.items():
        if name not in given.sheets:
            yield Difference(SHEET_MISSING, name, "", "", "")
            continue
        computed = given.formulas.get(name, {})
        for one in _of_sheet(name, given.sheets[name], rows, lines):
            # Some programs save formulas without what they come to.
            if one.book or one.cell not in computed:
                yield replace(one, why=BOOKINGS_SINCE) if name in unsettled else one
        for cell, formula in made.formulas.get(name, {}).items():
            if computed.get(cell) != formula:
                yield Difference(FORMULA, name, cell, computed.get(cell, ""), formula)
    yield from _of_names(given.names, made.names)


def _of_names(given: Mapping[str, str], made: Mapping[str, str]) -> Iterator[Difference]:
    for name, cells in made.items():
        if given.get(name) != cells:
            yield Difference(NAME, "", name, given.get(name, ""), cells)


def _of_sheet(name: str, given: Rows, made: Rows, lines: Set[str]) -> Iterator[Difference]:
    for row in range(max(len(given), len(made))):
        here = given[row] if row < len(given) else ()
        there = made[row] if row < len(made) else ()
        to_sign = bool(there) and there[0] in lines
        for column in range(max(len(here), len(there))):
            book = here[column] if column < len(here) else ""
            record = there[column] if column < len(there) else ""
            if not _same(book, record):
                why = FILLED_IN if to_sign and column else _why(record)
                yield Difference(why, name, _cell(row, column), _text(book), _text(record))


def _why(record: BookCell) -> str:
    """A cell whose words the record has let go by its own policy speaks against nobody."""
    return EXPIRED_SINCE if isinstance(record, str) and holds_gone(record) else CELL


def _same(book: BookCell, record: BookCell) -> bool:
    if isinstance(book, int | float) and isinstance(record, int | float):
        return abs(book - record) <= NEAR * max(1.0, abs(book), abs(record))
    return type(book) is type(record) and book == record


def _cell(row: int, column: int) -> str:
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}{row + 1}"


def _text(value: BookCell) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
