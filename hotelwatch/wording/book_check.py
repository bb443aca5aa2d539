"""What a comparison of a book with the hotel's file found, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from enum import StrEnum
from typing import Protocol

from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.language import marked as m

BOOKS: dict[str, tuple[str, str]] = {
    "not_a_book": (
        m("{file} is no workbook that can be read."),
        m("Choose a workbook (.xlsx) that this program wrote for a month, a quarter or a year."),
    ),
    "no_claims_in_book": (
        m("{file} does not say of which entries it was made, so it can't be compared."),
        m(
            "Choose a workbook that this program wrote. If it did write this one, its last page"
            " was changed or taken out."
        ),
    ),
    "book_of_another_hotel": (
        m("{file} was made from another hotel's file: the first entries are not the same."),
        m("Open the file of the hotel that the workbook names, and compare again."),
    ),
    "book_knows_more": (
        m("{file} knows of entry {entry}; this hotel file ends at entry {last}."),
        m(
            "This file is an older copy, or entries were cut off its end. Compare with the file"
            " that is in use, or with the one that was set aside."
        ),
    ),
}
"""Why a book can't be compared, and what would mend it."""


class Difference(Protocol):
    """Where a book and the record do not say the same."""

    @property
    def why(self) -> str:
        """A code of actions.book_check."""

    @property
    def sheet(self) -> str:
        """The sheet's name."""

    @property
    def cell(self) -> str:
        """As "C7"."""

    @property
    def book(self) -> str:
        """What the book says."""

    @property
    def record(self) -> str:
        """What the record says."""


WHYS = {
    "cell": m("{sheet} {cell}: the book says “{book}”, the record says “{record}”."),
    "formula": m(
        "{sheet} {cell}: the book computes “{book}”, the record's book computes “{record}”."
    ),
    "name": m("The name {cell} stands for {book}; in the record's book for {record}."),
    "sheet_missing": m("{sheet}: this page is missing from the book."),
    "sheet_added": m("{sheet}: the record's book has no such page."),
    "expired_since": m(
        "{sheet} {cell}: the book says “{book}”; the record let it go by its own policy ({record})."
    ),
    "filled_in": m("{sheet} {cell}: on a line to sign on stands “{book}”."),
    "bookings_since": m(
        "{sheet} {cell}: the book says “{book}”; with the bookings read in since it would be"
        " “{record}”."
    ),
}
KINDS = {
    "cell": m("says something else"),
    "formula": m("computes otherwise"),
    "name": m("name of other cells"),
    "sheet_missing": m("page missing"),
    "sheet_added": m("page added"),
    "expired_since": m("expired in the record since"),
    "filled_in": m("filled in to sign"),
    "bookings_since": m("rests on bookings read in since"),
}


class ReasonLine(Protocol):
    """Why an underside was late, by a book and by the record."""

    @property
    def month(self) -> str:
        """As "2026-03"."""

    @property
    def bed(self) -> str:
        """The bed's label."""

    @property
    def due_on(self) -> date:
        """When it was due."""

    @property
    def book(self) -> str:
        """What the book says."""

    @property
    def record(self) -> str:
        """What the record says."""

    @property
    def rests_on(self) -> StrEnum:
        """On what the record's word rests."""

    @property
    def agrees(self) -> bool:
        """Whether both say the same."""


LATER = "reason_later_bookings"
RESTS_ON = {
    "reason_kept": m("kept when the month was closed"),
    "reason_bookings": m("bookings known when the book was made"),
    "reason_later_bookings": m("bookings read in since; those of then are not at hand"),
}


def rests_on_text(found: ReasonLine) -> str:
    """On what the record's word on a late bed rests."""
    return _(RESTS_ON[found.rests_on])


def reason_sentence(found: ReasonLine) -> str:
    """A late bed's reason by book and record, in a sentence."""
    said = (
        _("{bed}, due {day}: both say “{book}” ({rests_on}).")
        if found.agrees
        else _("{bed}, due {day}: the book says “{book}”, the record says “{record}” ({rests_on}).")
    )
    return said.format(
        bed=found.bed,
        day=found.due_on.isoformat(),
        book=found.book or _("nothing"),
        record=found.record,
        rests_on=rests_on_text(found),
    )


def reasons_told(lines: Sequence[ReasonLine]) -> Iterator[str]:
    """How many reasons for lateness agree, and what those that do not mean."""
    if not lines:
        return
    same = sum(line.agrees for line in lines)
    yield ngettext(
        "Why beds were late: book and record say the same in {same} of {n} line.",
        "Why beds were late: book and record say the same in {same} of {n} lines.",
        len(lines),
    ).format(same=same, n=len(lines))
    unsettled = sum(not line.agrees and line.rests_on == LATER for line in lines)
    if unsettled:
        yield ngettext(
            "{n} of them can't be settled: the month was not closed when the book was made, and"
            " bookings were read in since. Closing a month keeps its reasons.",
            "{n} of them can't be settled: the month was not closed when the book was made, and"
            " bookings were read in since. Closing a month keeps its reasons.",
            unsettled,
        ).format(n=unsettled)


def difference_sentence(found: Difference) -> str:
    """A difference in a sentence."""
    return _(WHYS[found.why]).format(
        sheet=found.sheet,
        cell=found.cell,
        book=found.book or _("nothing"),
        record=found.record or _("nothing"),
    )


def difference_kind(found: Difference) -> str:
    """What kind of difference it is, in a few words."""
    return _(KINDS[found.why])


def verdict(*, count: int, cells: int, is_same_file: bool, has_faults: bool) -> str:
    """Whether book and record agree, in a sentence or two."""
    if has_faults:
        return _("The hotel's file itself does not hold: see what is said of it.")
    if is_same_file:
        return _("The book is the very file that the record makes, byte for byte.")
    if count == 0:
        return ngettext(
            "Book and record say the same in {n} cell.",
            "Book and record say the same in all {n} cells.",
            cells,
        ).format(n=cells)
    return ngettext(
        "Book and record differ in {n} place. The record was cut to what the book knew, so later"
        " corrections do not explain it: the book was changed after it was written, or made by"
        " a version of the program that counted otherwise.",
        "Book and record differ in {n} places. The record was cut to what the book knew, so later"
        " corrections do not explain them: the book was changed after it was written, or made by"
        " a version of the program that counted otherwise.",
        count,
    ).format(n=count)


def remark_lines(*, later: int, bookings: bool, program: str, differs: bool) -> Iterator[str]:
    """What else to know of a comparison."""
    if program:
        yield _("The book was made by another version of the program: {program}.").format(
            program=program
        )
    if bookings and differs:
        yield _(
            "Bookings were read in since. Which rooms were let in quarantine, in a month that was"
            " not closed, is told by the bookings known now and not by those of then: differences"
            " there may come from that. Closing a month keeps it."
        )
    if later:
        yield ngettext(
            "Since the book was made, {n} fact was written down that concerns its months; it"
            " stands in a later book.",
            "Since the book was made, {n} facts were written down that concern its months; they"
            " stand in a later book.",
            later,
        ).format(n=later)
