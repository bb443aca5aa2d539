"""Why undersides were late, as a book says it: read from its page, held against the record.

The reasons rest on bookings. A closing keeps them; of a month that was open when its book was
made, bookings read in since may tell another story. So these lines are compared one by one,
and the rest of such a book is made anew with the reasons that it gives.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.facts import BedNo
from hotelwatch.core.month.due_rows import WhyDays, WhyLate
from hotelwatch.core.month.kept import with_reasons
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.intake.book_file import BookCell, BookFile
from hotelwatch.papers.month_words import BETWEEN_REASONS, why_days, why_sentence
from hotelwatch.wording.language import _

_NUMBER = re.compile(r"\d+")
Key = tuple[str, BedNo, date]
"""Month, bed, due date."""


class RestsOn(StrEnum):
    """What the record's word on a late bed rests on."""

    KEPT = "reason_kept"
    """Written down when the month was closed."""
    BOOKINGS = "reason_bookings"
    """The bookings that were known when the book was made: none were read in since."""
    LATER_BOOKINGS = "reason_later_bookings"
    """Bookings read in since: those of then are not at hand."""


@dataclass(frozen=True, slots=True)
class ReasonLine:
    """One late underside: why, by the book and by the record."""

    month: str
    bed: str
    due_on: date
    book: str
    record: str
    rests_on: RestsOn

    @property
    def agrees(self) -> bool:
        """Whether both say the same."""
        return self.book == self.record


def reason_lines(
    given: BookFile, months: Sequence[MonthFigures], *, has_later_bookings: bool
) -> tuple[ReasonLine, ...]:
    """Each late underside of a book's months, in the language that is spoken."""
    told = _texts(given, months)
    return tuple(
        ReasonLine(
            month=figures.account.month,
            bed=row.bed,
            due_on=row.due_on,
            book=told.get((figures.account.month, row.bed, row.due_on), ""),
            record=why_sentence(row),
            rests_on=_rests_on(figures, has_later_bookings=has_later_bookings),
        )
        for figures in months
        for row in figures.rows.due
        if row.why
    )


def as_the_book_says(given: BookFile, months: Sequence[MonthFigures]) -> tuple[MonthFigures, ...]:
    """The months, with the book's own reasons where no closing kept any."""
    told = _texts(given, months)
    return tuple(
        _retold(figures, told) if figures.account.closed_at is None else figures
        for figures in months
    )


def _rests_on(figures: MonthFigures, *, has_later_bookings: bool) -> RestsOn:
    if figures.account.closed_at is not None:
        return RestsOn.KEPT
    return RestsOn.LATER_BOOKINGS if has_later_bookings else RestsOn.BOOKINGS


def _retold(figures: MonthFigures, told: Mapping[Key, str]) -> MonthFigures:
    month = figures.account.month
    reasons = {
        (bed, due_on): why
        for (of, bed, due_on), text in told.items()
        if of == month and (why := _days_of(text))
    }
    due = with_reasons(figures.rows.due, reasons)
    return replace(figures, rows=replace(figures.rows, due=due))


# --- reading a book's page ------------------------------------------------------------------


def _texts(given: BookFile, months: Sequence[MonthFigures]) -> Mapping[Key, str]:
    """The reasons of a book's page by month, bed and due date, as they stand there."""
    # Beside it stands what writes workbooks, which takes its time to load.
    from hotelwatch.papers.sheets import sheet_title

    title = sheet_title(_("Due and done"))
    wanted = [_("Bed"), _("Due on"), _("Each day's reason")]
    rows = iter(given.sheets.get(title, ()))
    headings = next((list(row) for row in rows if set(wanted) <= set(row)), None)
    if headings is None:
        return {}
    places = [headings.index(heading) for heading in wanted]
    of = headings.index(_("Month")) if _("Month") in headings else None
    alone = months[0].account.month if len(months) == 1 else ""
    return dict(_read(rows, places, of, alone))


def _read(
    rows: Iterator[Sequence[BookCell]], places: Sequence[int], of: int | None, alone: str
) -> Iterator[tuple[Key, str]]:
    for row in rows:
        bed, due, text = (row[place] if place < len(row) else "" for place in places)
        first_on = _day(row[of]) if of is not None and of < len(row) else None
        due_on = _day(due)
        month = f"{first_on:%Y-%m}" if first_on else alone
        if isinstance(bed, str) and isinstance(text, str) and due_on is not None and text:
            yield (month, BedNo(bed), due_on), text


def _day(value: BookCell) -> date | None:
    if isinstance(value, datetime):
        return value.date()
    return value if isinstance(value, date) else None


def _days_of(text: str) -> tuple[WhyDays, ...]:
    """The reasons that a text stands for; none where somebody wrote other words."""
    parts = [_part(part) for part in text.split(BETWEEN_REASONS)]
    return tuple(part for part in parts if part is not None) if all(parts) else ()


def _part(text: str) -> WhyDays | None:
    for number in _NUMBER.findall(text):
        for why in WhyLate:
            one = WhyDays(why, int(number))
            if why_days(one) == text:
                return one
    return None
