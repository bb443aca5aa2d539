"""The month's first page: the month in a minute, what needs a decision, who signs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from hotelwatch.core.month.due_rows import DueRow, DueState
from hotelwatch.core.month.rows import MonthFigures, QuarantineRow
from hotelwatch.core.trainings import overdue
from hotelwatch.papers import month_rules
from hotelwatch.papers import month_words as words
from hotelwatch.papers.listings import BigNumber, Chart, Formula, FrontPage
from hotelwatch.papers.month_evidence import DIGITS_SHOWN
from hotelwatch.papers.month_formulas import Line
from hotelwatch.papers.month_record import RecordProof
from hotelwatch.papers.month_summary import lines_of, opening_lines
from hotelwatch.wording.language import SOURCE, _, current, has_books, listed, ngettext

MOST_NAMED = 5
"""Beds and rooms named one by one; more are counted."""


def front_page(figures: MonthFigures, proof: RecordProof | None) -> FrontPage:
    """The first page of a month's book."""
    lines = lines_of(figures)
    return FrontPage(
        sentences=(*opening_lines(figures), record_sentence(proof), *language_lines()),
        numbers=tuple(_numbers(figures)),
        asks_title=_("What needs a decision"),
        asks=tuple(_asks(figures, proof)) or (_("The tables of this book ask for none."),),
        charts=tuple(_charts(lines)),
        signatures=signatures(),
    )


def record_sentence(proof: RecordProof | None) -> str:
    """Whether the record was touched, in a sentence; the last page says how one knows."""
    if proof is None:
        return _("Whether the record was touched: not verified for this book.")
    if not proof.is_sound:
        return _("Whether the record was touched: IT IS NOT IN ORDER, see the last page.")
    return ngettext(
        "Whether the record was touched: no, the digest of its entry agrees. Digest {digest}…,"
        " see “Record and limits”.",
        "Whether the record was touched: no, the digests of all {n} entries agree. Digest"
        " {digest}…, see “Record and limits”.",
        proof.entries,
    ).format(n=proof.entries, digest=(proof.last_digest or _("none"))[:DIGITS_SHOWN])


def language_lines() -> tuple[str, ...]:
    """What of a book in another language is not in that language."""
    if current() == SOURCE:
        return ()
    if not has_books():
        return (_("Most of this book is not translated: it stands in English."),)
    return (_("Sources, texts of local rules, and what people wrote stand as they were written."),)


def signatures() -> tuple[str, ...]:
    """Whose lines stand at the foot of a first page."""
    return (
        _("Prepared by, on:"),
        _("Read by the general manager, on:"),
    )


def _numbers(figures: MonthFigures) -> Iterator[BigNumber]:
    counts = figures.counts
    nights = sum(row.nights for row in figures.rows.quarantines)
    for label, formula, result in (
        (_("undersides due"), "undersides_due", counts.due),
        (_("looked at in time"), "due_in_time", counts.in_time),
        (_("late or not looked at"), "due_late+due_not_done", counts.late + counts.not_done),
        (_("beds overdue at the end"), "beds_overdue", counts.beds_overdue),
        (_("cases open at the end"), "cases_open_at_end", counts.cases_open_at_end),
        (_("nights in quarantine"), "nights_in_quarantine", nights),
    ):
        yield BigNumber(label, Formula(formula, result))


def _charts(lines: list[Line]) -> Iterator[Chart]:
    keys = [line.key for line in lines]

    def bars(title: str, first: str, last: str) -> Chart:
        rows = keys.index(first), keys.index(last)
        return Chart(title, "summary", rows, names=4, series=(2,))

    yield bars(_("What became of undersides due"), "due_in_time", "due_no_longer_due")
    yield bars(_("Why late or not looked at"), "late_places_left_out", "late_guest_declined")
    yield bars(_("Days since the last look, beds"), "age_to_30", "age_never")


def _asks(figures: MonthFigures, proof: RecordProof | None) -> Iterator[str]:
    if proof is not None and not proof.is_sound:
        yield _("The hotel's file is NOT in order: see the last page before relying on this book.")
    yield from _about_closing(figures)
    yield from late_lines(figures)
    yield from _about_rooms(figures)
    yield from _about_after(figures)
    yield from month_rules.asks(figures.local_rules)
    yield from _about_people(figures)


def _about_closing(figures: MonthFigures) -> Iterator[str]:
    account = figures.account
    if account.is_complete and account.closed_at is None:
        yield _("The month is over and not closed: until it is, this book may still change.")
    for let in figures.rows.lets:
        if not let.explained:
            yield _(
                "{room} was let while in quarantine, and nobody has said how that came."
            ).format(room=let.room)


def late_lines(figures: MonthFigures) -> Iterator[str]:
    """Which beds that were due were not looked at, the latest by name, and why."""
    behind = [row for row in figures.rows.due if row.state is DueState.NOT_DONE]
    if not behind:
        return
    behind.sort(key=lambda row: (-row.late_days, row.room, row.bed))
    named = listed([_late_bed(row) for row in behind[:MOST_NAMED]])
    yield ngettext(
        "{count} underside that was due was not looked at: see “Due and done”. The latest: {beds}.",
        "{count} undersides that were due were not looked at: see “Due and done”. The latest:"
        " {beds}.",
        len(behind),
    ).format(count=len(behind), beds=named)


def _late_bed(row: DueRow) -> str:
    days = ngettext("{bed} by {days} day", "{bed} by {days} days", row.late_days)
    said = days.format(bed=row.bed, days=row.late_days)
    if not row.why:
        return said
    return _("{bed_by_days} ({why})").format(bed_by_days=said, why=words.why_late(row.why[0].why))


def _about_rooms(figures: MonthFigures) -> Iterator[str]:
    yield from lifted_on_reasons(figures.rows.quarantines)
    yield from lifted_lines(figures.rows.quarantines)
    held = [row.room for row in figures.rows.quarantines if row.lifted_at is None]
    if held:
        more = len(held) - MOST_NAMED
        rooms = [*held[:MOST_NAMED], _("{n} more").format(n=more)] if more > 0 else held
        yield _("Still in quarantine: {rooms}.").format(rooms=listed([str(room) for room in rooms]))
    late = sum(row.is_late and row.is_wanted for row in figures.pages.clocks)
    if late:
        yield ngettext(
            "{n} deadline of a case was missed: see the page of deadlines.",
            "{n} deadlines of cases were missed: see the page of deadlines.",
            late,
        ).format(n=late)


def lifted_on_reasons(quarantines: Iterable[QuarantineRow]) -> Iterator[str]:
    """Who gave a room back on a reason of their own, each in a sentence."""
    for row in quarantines:
        if row.conditions_met is False:
            yield _("{room} was given back by {person} on a person's reason: {reason}").format(
                room=row.room, person=row.lifted_by, reason=row.lift_reason
            )


def lifted_lines(quarantines: Sequence[QuarantineRow]) -> Iterator[str]:
    """Who gave rooms back on their conditions, so that the first page answers it."""
    met = [row for row in quarantines if row.conditions_met]
    if met:
        named = [
            _("{room} by {person}").format(room=row.room, person=row.lifted_by)
            for row in met[:MOST_NAMED]
        ]
        more = len(met) - MOST_NAMED
        named += [_("{n} more").format(n=more)] if more > 0 else []
        yield _("Given back on the conditions: {rooms}. See “Quarantines”.").format(
            rooms=listed(named)
        )


def _about_after(figures: MonthFigures) -> Iterator[str]:
    missed = [row for row in figures.pages.visits if row.done_on is None]
    if missed:
        yield ngettext(
            "{n} follow-up visit after a treatment was not made: {rooms}.",
            "{n} follow-up visits after treatments were not made: {rooms}.",
            len(missed),
        ).format(n=len(missed), rooms=listed(list(dict.fromkeys(row.room for row in missed))))
    waiting = [row for row in figures.rows.sightings if row.waits_for_answer]
    if waiting:
        yield ngettext(
            "{n} guest who told something has no answer on record: {rooms}.",
            "{n} guests who told something have no answer on record: {rooms}.",
            len(waiting),
        ).format(n=len(waiting), rooms=listed(list(dict.fromkeys(row.room for row in waiting))))


def _about_people(figures: MonthFigures) -> Iterator[str]:
    late = overdue(figures.pages.training_states)
    if late:
        people = list(dict.fromkeys(state.person for state in late))
        more = len(people) - MOST_NAMED
        named = [*people[:MOST_NAMED], _("{n} more").format(n=more)] if more > 0 else people
        yield _("Training is overdue, or nothing of it is written down: {people}.").format(
            people=listed(named)
        )
    alone = sum(row.by_one for row in figures.pages.lifts if row.takes_two)
    if alone:
        yield ngettext(
            "{n} lift that takes two people stands in a check that names fewer.",
            "{n} lifts that take two people stand in checks that name fewer.",
            alone,
        ).format(n=alone)
