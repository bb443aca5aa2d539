"""The tables of the month's book about cases: signs, stages, asked checks, quarantines."""

from __future__ import annotations

from hotelwatch.core.checks.dogs import AlertFate
from hotelwatch.core.month.page_rows import DogRow
from hotelwatch.core.month.rows import (
    CaseRow,
    LetRow,
    MonthFigures,
    QuarantineRow,
    SightingRow,
    TreatmentRow,
)
from hotelwatch.papers import month_words as words
from hotelwatch.papers.listings import Attention, Listing, Value
from hotelwatch.papers.month_evidence import DIGITS_SHOWN
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label, place_label
from hotelwatch.wording.problems import booking_text
from hotelwatch.wording.release import condition_sentence
from hotelwatch.wording.treatment import BEDDING, PREPARATION

WIDEST_CONDITION = 60
"""Characters: conditions of a release are sentences, several in a cell."""


def sightings(figures: MonthFigures) -> Listing:
    """What was seen or reported."""
    headings = (
        _("Case"),
        _("Room"),
        _("Bed"),
        _("Place"),
        _("Sign"),
        _("How many"),
        _("Seen by"),
        _("Seen at"),
        _("Written down"),
        _("Note"),
        _("How it became known"),
        _("Guest was answered"),
        _("Class"),
        _("Identified by"),
        _("Competent through"),
        _("Identified on"),
        _("Specimens"),
        _("Photos of the case"),
        _("Entry"),
    )
    rows = tuple(
        (
            row.case,
            row.room,
            row.bed,
            place_label(row.place) if row.place else "",
            label(row.sign),
            row.count or None,
            row.seen_by,
            row.seen_at,
            row.recorded_at,
            row.noted,
            words.how_known(row.how),
            _answered(row),
            words.case_class(row.case_class),
            row.judged_by,
            row.competence,
            row.judged_on,
            ", ".join(row.specimens),
            row.photos or None,
            row.entry,
        )
        for row in figures.rows.sightings
    )
    return Listing("sightings", headings, rows)


def _answered(row: SightingRow) -> Value:
    """When the guest who told it was answered; nothing where no guest told it."""
    return Attention(_("not yet")) if row.waits_for_answer else row.answered_at


def cases(figures: MonthFigures) -> Listing:
    """The cases of the month as they stood at its end."""
    headings = (
        _("Case"),
        _("Room"),
        _("Opened"),
        _("Stage"),
        _("Weight of the signs"),
        _("Judgement"),
        _("Judged by"),
        _("Competent through"),
        _("Judged on"),
        _("Class"),
        _("Open at start"),
        _("New"),
        _("Open at end"),
        _("Watch ended"),
        _("Ended by"),
    )
    return Listing("cases", headings, tuple(_case_row(row) for row in figures.rows.cases))


def _case_row(row: CaseRow) -> tuple[Value, ...]:
    stage = label(row.stage)
    return (
        row.case,
        row.room,
        row.opened_at,
        Attention(stage) if row.is_open else stage,
        label(row.evidence),
        label(row.outcome) if row.outcome else _("not judged"),
        row.judged_by,
        row.competence,
        row.judged_on,
        words.case_class(row.case_class),
        row.was_open_at_start,
        row.is_new,
        row.is_open,
        row.closed_at,
        row.closed_by,
    )


def asked(figures: MonthFigures) -> Listing:
    """The rooms that cases wanted looked at, by when, and when it was done."""
    headings = (
        _("Case"),
        _("Room"),
        _("Why this room"),
        _("Because of room"),
        _("Asked for"),
        _("Wanted by"),
        _("All beds looked at on"),
        _("Looked by"),
        _("State"),
        _("Late"),
        _("Sign found"),
        _("Its own neighbours asked for"),
    )
    rows: list[tuple[Value, ...]] = []
    for row in figures.rows.asked:
        open_word = _("still to do") if row.is_wanted else _("no longer wanted")
        state = _("done") if row.done_on else open_word
        reasons = ", ".join(label(reason) for reason in row.reasons)
        late = Attention(words.yes_no(True)) if row.is_late else words.yes_no(False)
        found = Attention(words.yes_no(True)) if row.has_found else words.yes_no(False)
        rows.append(
            (
                *(row.case, row.room, reasons, row.centre, row.asked_at, row.by_at),
                *(row.done_on, row.looked_by, state, late),
                found if row.has_found or row.done_on else None,
                row.is_centre,
            )
        )
    return Listing("asked", headings, tuple(rows))


def quarantines(figures: MonthFigures) -> Listing:
    """The rooms closed to guests, from when to when, and on what they were given back."""
    headings = (
        _("Room"),
        _("Case"),
        _("From"),
        _("Why"),
        _("Placed by"),
        _("Until"),
        _("Lifted by"),
        _("Competence"),
        _("Lifted because of"),
        _("Reason given"),
        _("Nights this month"),
        _("Conditions of its release"),
    )
    zone = figures.account.zone
    rows = tuple(_quarantine_row(row, zone) for row in figures.rows.quarantines)
    return Listing("quarantines", headings, rows, widest=WIDEST_CONDITION)


def lift_words() -> tuple[str, str, str]:
    """On what a quarantine was lifted: its conditions, a person's reason, or not yet."""
    return _("its conditions"), _("a person's reason"), _("still in quarantine")


def _quarantine_row(row: QuarantineRow, zone: str) -> tuple[Value, ...]:
    conditions, reason, still = lift_words()
    lifted_on: Value = still
    if row.lifted_at is not None:
        lifted_on = conditions if row.conditions_met else Attention(reason)
    return (
        row.room,
        row.case,
        row.from_at,
        label(row.reason),
        row.placed_by,
        row.lifted_at,
        row.lifted_by,
        row.competence,
        lifted_on,
        row.lift_reason,
        row.nights,
        "\n".join(condition_sentence(one, zone) for one in row.conditions),
    )


def lets(figures: MonthFigures) -> Listing:
    """Rooms let while in quarantine; there should be none."""
    headings = (
        _("Room"),
        _("Booking"),
        _("Arrival"),
        _("Departure"),
        _("First night"),
        _("Nights"),
        _("How"),
        _("In quarantine from"),
        _("In quarantine until"),
        _("Explained"),
        _("By"),
    )
    rows = tuple(
        (
            row.room,
            Attention(booking_text(row.booking)),
            row.arrives_on,
            row.leaves_on,
            row.first_night,
            row.nights,
            _how(row),
            row.quarantined_from,
            row.quarantined_until,
            row.explained or Attention(_("not explained yet")),
            row.explained_by,
        )
        for row in figures.rows.lets
    )
    return Listing("lets", headings, rows)


def _how(row: LetRow) -> str:
    if not row.nights:
        return _("let for the day alone")
    if not row.was_let_blocked:
        return _("guest in house stayed on")
    return _("let anew") if row.was_known else _("let before the block was written down")


def treatments(figures: MonthFigures) -> Listing:
    """Licensed work, as the firms reported it."""
    headings = (
        _("Room"),
        _("Case"),
        _("Treated on"),
        _("Method"),
        _("Firm"),
        _("Licence"),
        _("Technician"),
        _("Product, as reported"),
        _("Its registration"),
        _("Amount, as reported"),
        _("Areas"),
        _("Preparation"),
        _("Bedding"),
        _("Entry allowed from"),
        _("Receipt number"),
        _("Log of heat or cold"),
        _("Firm's report kept"),
        _("Note"),
    )
    rows = tuple(_treatment_row(row) for row in figures.rows.treatments)
    return Listing("treatments", headings, rows)


def _treatment_row(row: TreatmentRow) -> tuple[Value, ...]:
    told = row.told
    return (
        told.room,
        told.case,
        told.treated_on,
        told.method,
        told.firm,
        told.licence,
        told.technician,
        told.product,
        told.registration_no,
        told.amount,
        ", ".join(told.areas),
        _(PREPARATION[told.preparation]) if told.preparation in PREPARATION else told.preparation,
        _(BEDDING[told.bedding]) if told.bedding in BEDDING else told.bedding,
        told.reenter_at,
        told.receipt_no,
        "\n".join(f"{named} ({digest[:DIGITS_SHOWN]})" for named, digest in row.logs),
        ", ".join(digest[:DIGITS_SHOWN] for digest in row.reports),
        told.noted,
    )


def dogs(figures: MonthFigures) -> Listing:
    """Dogs' alerts and what became of each; visits without any."""
    headings = (
        _("Day"),
        _("Firm"),
        _("Handler"),
        _("Certification, as told"),
        _("Rooms led through"),
        _("Alert in room"),
        _("What became of it"),
        _("On"),
        _("Case"),
        _("Was there"),
        _("Entry"),
    )
    return Listing("dogs", headings, tuple(_dog_row(row) for row in figures.pages.dogs))


def _dog_row(row: DogRow) -> tuple[Value, ...]:
    said = label(row.fate) if row.fate else _("no alert")
    return (
        row.on,
        row.firm,
        row.handler,
        row.certified,
        row.led_through,
        row.room,
        Attention(said) if row.fate is AlertFate.OPEN else said,
        row.fate_on,
        row.case,
        row.by,
        row.entry,
    )
