"""The book's tables about rooms, deadlines, lifting, training, trials, policy and cost."""

from __future__ import annotations

from hotelwatch.core.month.due_rows import DueState
from hotelwatch.core.month.page_rows import CareRow, ClockRow, LiftRow, RoomRow
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.odds.learning.trials import TrialState
from hotelwatch.papers import month_tables as tables
from hotelwatch.papers import month_words as words
from hotelwatch.papers.listings import (
    ROW,
    Attention,
    Formula,
    Listing,
    Value,
    column_of,
    criterion,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import bed_label, label, place_label
from hotelwatch.wording.people import refused_what, refused_who, refused_why
from hotelwatch.wording.profiles import DUTIES

WILD = frozenset("*?~")
TRIALS = {
    TrialState.FOUND: m("found by the first look at its place"),
    TrialState.MISSED: m("missed by a look at its place"),
    TrialState.NOBODY_LOOKED: m("nobody looked while it lay there"),
    TrialState.NOT_LOOKED_AT: m("its place was left out"),
    TrialState.NOT_BLIND: m("not blind: who hid it looked"),
    TrialState.LOST: m("lost"),
    TrialState.HIDDEN: m("still hidden"),
}
PRICES = {
    "price_work_hour": m("Hours of work, each person's"),
    "price_room_night": m("Room-nights in quarantine, whether they would have been sold or not"),
    "price_treatment": m("Treatments recorded, room by room"),
}


def rooms(figures: MonthFigures) -> Listing:
    """Every room, with what the file's other tables say of it, each as a formula over them."""
    headings = (
        _("Room"),
        _("Floor"),
        _("Wing"),
        _("Type"),
        _("Beds"),
        _("Beds overdue at the end"),
        _("Whole undersides looked at"),
        _("Late or not looked at"),
        _("Sightings"),
        _("Quarantines"),
        _("Nights in quarantine"),
    )
    formulas = _of_room(figures)
    rows = tuple(_room_row(row, formulas) for row in figures.pages.rooms)
    return Listing("rooms", headings, rows)


def _of_room(figures: MonthFigures) -> tuple[tuple[str, str], ...]:
    """Formulas for a room whose label stands in column A: quick, and exact for any label.

    COUNTIF takes "0101" for the number 101, so rooms are known by their beds' labels.
    """
    overdue = tables.look_states()[2]
    late = [words.due_state(state) for state in (DueState.LATE, DueState.NOT_DONE)]
    room = _("Room")
    looks = _beds_of("looks", ())
    over = _beds_of("looks", ((_("State"), overdue),))
    seen = _beds_of("checks", ((_("Underside looked at"), words.yes_no(True)),))
    behind = [_beds_of("due", ((_("State"), state),)) for state in late]
    nights = column_of("quarantines", _("Nights this month"))
    return (
        looks,
        over,
        seen,
        (f"{behind[0][0]}+{behind[1][0]}", f"{behind[0][1]}+{behind[1][1]}"),
        _same(f"--({column_of('sightings', room)}=$A{ROW})"),
        _same(f"--({column_of('quarantines', room)}=$A{ROW})"),
        _same(f"({column_of('quarantines', room)}=$A{ROW})*{nights}"),
    )


def _same(inner: str) -> tuple[str, str]:
    return f"SUMPRODUCT({inner})", f"SUMPRODUCT({inner})"


def _beds_of(table: str, wanted: tuple[tuple[str, str], ...]) -> tuple[str, str]:
    """Rows of a room's beds: by wildcard, and for labels that hold wildcards themselves."""
    beds = column_of(table, _("Bed"))
    pairs = "".join(f",{column_of(table, of)},{criterion(text)}" for of, text in wanted)
    quick = f'COUNTIFS({beds},$A{ROW}&"/*"{pairs})'
    begins = f'(LEFT({beds},LEN($A{ROW})+1)=$A{ROW}&"/")'
    same = "".join(f"*({column_of(table, of)}={_quoted(text)})" for of, text in wanted)
    return quick, f"SUMPRODUCT(--({begins}{same or '*1'}>0))"


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def _room_row(row: RoomRow, formulas: tuple[tuple[str, str], ...]) -> tuple[Value, ...]:
    exact = bool(WILD & set(row.room))
    counts = (
        row.beds,
        row.overdue,
        row.looks,
        row.late,
        row.signs,
        row.quarantines,
        row.nights,
    )
    return (
        row.room,
        row.floor,
        row.wing,
        row.room_type,
        *(Formula(pair[exact], count) for pair, count in zip(formulas, counts, strict=True)),
    )


# --- deadlines --------------------------------------------------------------------------------


def late_words() -> tuple[str, str, str, str]:
    """How a deadline can stand: in time, late, to come, no longer waited for."""
    return _("in time"), _("late"), _("still to come"), _("no longer waited for")


def clocks(figures: MonthFigures) -> Listing:
    """The deadlines that cases set going, and how each was met."""
    headings = (
        _("Duty"),
        _("Case"),
        _("Room"),
        _("Began"),
        _("Due"),
        _("Counted in"),
        _("Set by"),
        _("Done"),
        _("By"),
        _("State"),
    )
    return Listing("clocks", headings, tuple(_clock_row(row) for row in figures.pages.clocks))


def _clock_row(row: ClockRow) -> tuple[Value, ...]:
    return (
        _(DUTIES.get(row.duty, row.duty)),
        row.case,
        row.room,
        row.started_at,
        row.due_at,
        label(row.unit),
        _("local rules") if row.is_local else _("the hotel"),
        row.done_at,
        row.by,
        _clock_state(row),
    )


def _clock_state(row: ClockRow) -> Value:
    in_time, late, to_come, dropped = late_words()
    if not row.is_wanted:
        return dropped
    if row.is_late:
        return Attention(late)
    return to_come if row.done_at is None else in_time


# --- work -------------------------------------------------------------------------------------


def lifts(figures: MonthFigures) -> Listing:
    """What was lifted, day by day."""
    headings = (
        _("Day"),
        _("Kind of bed"),
        _("Encased"),
        _("What was moved"),
        _("Times"),
        _("Weight in kg (assumed)"),
        _("Takes two people"),
        _("Checks that name fewer than two"),
        _("Aids used"),
        _("Lifting index of each of two"),
    )
    return Listing("lifts", headings, tuple(_lift_row(row) for row in figures.pages.lifts))


def _lift_row(row: LiftRow) -> tuple[Value, ...]:
    alone = row.takes_two and row.by_one
    return (
        row.on,
        bed_label(row.kind),
        row.encased,
        label(row.move),
        row.times,
        float(row.weight_kg) if row.weight_kg else None,
        Attention(words.yes_no(True)) if alone else row.takes_two,
        row.by_one,
        words.aids(row.aids),
        row.index,
    )


def care(figures: MonthFigures) -> Listing:
    """What was done with linen, luggage, tools and things thrown away."""
    headings = (
        _("Case"),
        _("Room"),
        _("When"),
        _("What"),
        _("Thrown away"),
        _("By"),
        _("Degrees Celsius"),
        _("Minutes"),
        _("Made unusable"),
        _("Labelled"),
        _("Note"),
    )
    return Listing("care", headings, tuple(_care_row(row) for row in figures.pages.care))


def _care_row(row: CareRow) -> tuple[Value, ...]:
    return (
        row.case,
        row.room,
        row.done_at,
        row.what if row.is_discarded else label(row.what),
        row.is_discarded,
        row.by,
        row.celsius or None,
        row.minutes or None,
        row.is_unusable,
        row.is_labelled,
        row.noted,
    )


def costs(figures: MonthFigures) -> Listing:
    """Hours, nights and treatments with their prices; each sum is a formula over the file."""
    headings = (
        _("What"),
        _("How many"),
        _("Price of one"),
        _("Comes to"),
        _("Price at least"),
        _("Price at most"),
        _("How well it is known"),
    )
    named = {
        "price_work_hour": ("people_hours", figures.counts.people_minutes / tables.HOUR),
        "price_room_night": (
            "nights_in_quarantine",
            sum(row.nights for row in figures.rows.quarantines),
        ),
        "price_treatment": ("treatments_done", len(figures.rows.treatments)),
    }
    rows: list[tuple[Value, ...]] = []
    for price in figures.pages.prices:
        name, many = named[price.what]
        total = Formula(f"B{ROW}*C{ROW}", many * price.value, is_decimal=True)
        assumed = Attention(_("Assumption, nobody measured it"))
        standing = _("the hotel's own") if price.is_own else assumed
        rows.append(
            (
                _(PRICES[price.what]),
                Formula(name, many, is_decimal=isinstance(many, float)),
                float(price.value),
                total,
                float(price.low),
                float(price.high),
                standing,
            )
        )
    return Listing("costs", headings, tuple(rows))


# --- people -----------------------------------------------------------------------------------


def trainings(figures: MonthFigures) -> Listing:
    """The trainings of the month."""
    headings = (
        _("Day"),
        _("Person"),
        _("In what"),
        _("In which language"),
        _("Trained by"),
        _("Entry"),
    )
    rows = tuple(
        (row.on, row.person, label(row.subject), row.language, row.by, row.entry)
        for row in figures.pages.trainings
    )
    return Listing("trainings", headings, rows)


def training_states(figures: MonthFigures) -> Listing:
    """How each person stands with each topic."""
    headings = (_("Person"), _("In what"), _("Last on"), _("Again by"), _("State"))
    rows = tuple(
        (
            row.person,
            label(row.subject),
            row.last.on if row.last else None,
            row.due_on,
            Attention(training_words()[1]) if row.is_overdue else training_words()[0],
        )
        for row in figures.pages.training_states
    )
    return Listing("training_states", headings, rows)


def training_words() -> tuple[str, str]:
    """How somebody stands with a topic: not due, or overdue."""
    return _("not due"), _("overdue")


def trial_state(state: TrialState) -> str:
    """How a blind trial ended."""
    return _(TRIALS[state])


def trials(figures: MonthFigures) -> Listing:
    """The blind trials that ended; who looked is left out."""
    headings = (
        _("Ended on"),
        _("Hidden on"),
        _("Room"),
        _("Place"),
        _("How it ended"),
        _("Checks meanwhile"),
        _("Written down after its month was closed"),
        _("Entry"),
    )
    rows = tuple(
        (
            row.ended_on,
            row.hidden_on,
            row.room,
            place_label(row.place),
            trial_state(row.state),
            row.checks,
            row.is_late,
            row.entry,
        )
        for row in figures.pages.trials
    )
    return Listing("trials", headings, rows)


# --- policy -----------------------------------------------------------------------------------


def policy(figures: MonthFigures) -> Listing:
    """What was set or changed of the policy in the month: who, when, old and new."""
    headings = (
        _("Entry"),
        _("Written down"),
        _("By"),
        _("Kind"),
        _("Old"),
        _("New"),
        _("Reason given"),
    )
    rows = tuple(
        (
            row.entry,
            row.at,
            row.by,
            words.fact_kind(row.kind),
            words.told(row, is_new=False),
            words.told(row, is_new=True),
            row.reason,
        )
        for row in figures.pages.policy
    )
    return Listing("policy", headings, rows)


def refusals(figures: MonthFigures) -> Listing:
    """What was refused in the month, to whom and why."""
    headings = (_("Entry"), _("When"), _("Who"), _("What"), _("Why"))
    rows = tuple(
        (row.entry, row.at, refused_who(row), refused_what(row), refused_why(row))
        for row in figures.pages.refusals
    )
    return Listing("refusals", headings, rows)
