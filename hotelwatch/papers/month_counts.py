"""Lines of the summary about ages of looks, deadlines, lifting, training, trials and policy."""

from __future__ import annotations

from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.odds.learning.trials import TrialState
from hotelwatch.papers import month_case_tables as case_tables
from hotelwatch.papers import month_evidence as proofs
from hotelwatch.papers import month_pages as pages
from hotelwatch.papers import month_tables as tables
from hotelwatch.papers import month_words as words
from hotelwatch.papers.month_formulas import Line, Over
from hotelwatch.wording.language import _

AGES = ((0, 30), (31, 60), (61, 91), (92, 120), (121, None))
"""Days since a bed's last look, in steps; the third ends with the usual cycle."""


def age_lines(figures: MonthFigures, over: Over) -> list[Line]:
    """How many beds were last looked at how long before the end of the account."""
    looks = over(tables.last_looks)
    since = [row.days_since for row in figures.rows.looks if row.days_since is not None]
    lines = []
    for low, high in AGES:
        many = sum(low <= days and (high is None or days <= high) for days in since)
        shown = _("{low} to {high} days").format(low=low, high=high)
        age = shown if high is not None else _("more than {days} days").format(days=low - 1)
        key = f"age_to_{high}" if high is not None else "age_beyond"
        lines.append(
            Line(key, _aged(age), many, looks.between(_("Days since"), low, high), short=age)
        )
    never = sum(row.days_since is None for row in figures.rows.looks)
    formula = f"{looks.filled(_('Bed'))}-{looks.filled(_('Underside last looked at'))}"
    return [*lines, Line("age_never", _aged(_("never")), never, formula, short=_("never"))]


def _aged(age: str) -> str:
    return _("Beds, days since their last look: {age}").format(age=age)


def page_lines(figures: MonthFigures, over: Over) -> list[Line]:
    """The numbers of the further pages."""
    return [
        *_deadline_lines(figures, over),
        *_after_lines(figures, over),
        *_lifting_lines(figures, over),
        *_training_lines(figures, over),
        *_trial_lines(figures, over),
        *_record_lines(figures, over),
    ]


def _deadline_lines(figures: MonthFigures, over: Over) -> list[Line]:
    clocks, late = over(pages.clocks), pages.late_words()[1]
    rows = figures.pages.clocks
    treated = over(case_tables.treatments)
    missed = sum(row.is_late and row.is_wanted for row in rows)
    return [
        Line("deadlines", _("Deadlines of cases"), len(rows), clocks.filled(_("Case"))),
        Line("deadlines_late", _("Of these missed"), missed, clocks.equal(_("State"), late)),
        Line(
            "treatments_done",
            _("Treatments recorded"),
            len(figures.rows.treatments),
            treated.filled(_("Room")),
        ),
    ]


def _after_lines(figures: MonthFigures, over: Over) -> list[Line]:
    """Visits after treatments, watches ended, words given, what was kept."""
    visits, rows = over(proofs.visits), figures.pages.visits
    sightings, watches = over(case_tables.sightings), over(proofs.watches)
    notices, kept = over(proofs.notices), over(proofs.kept)
    return [
        Line("visits_due", _("Follow-up visits due"), len(rows), visits.filled(_("Case"))),
        Line(
            "visits_not_made",
            _("Of these not looked at"),
            sum(row.done_on is None for row in rows),
            visits.equal(_("Result"), proofs.visit_words()[2]),
        ),
        Line(
            "watches_ended",
            _("Watches ended"),
            sum(row.closed_at is not None for row in figures.pages.watches),
            watches.filled(_("Closed")),
        ),
        Line(
            "guests_not_answered",
            _("Guests' words not answered yet"),
            sum(row.waits_for_answer for row in figures.rows.sightings),
            sightings.equal(_("Guest was answered"), _("not yet")),
        ),
        Line(
            "words_given",
            _("Words given to guests, authorities, firms"),
            len(figures.pages.notices),
            notices.filled(_("Case")),
        ),
        Line(
            "proofs_kept",
            _("Photos, specimens' steps, papers and logs kept"),
            len(figures.pages.kept),
            kept.filled(_("Case")),
        ),
    ]


def _lifting_lines(figures: MonthFigures, over: Over) -> list[Line]:
    lifts, rows = over(pages.lifts), figures.pages.lifts
    yes, two = words.yes_no(True), _("Takes two people")
    alone = _("Checks that name fewer than two")
    return [
        Line("lifts_done", _("Lifts"), sum(r.times for r in rows), lifts.summed(_("Times"))),
        Line(
            "lifts_for_two_by_fewer",
            _("Lifts that take two, in checks that name fewer"),
            sum(row.by_one for row in rows if row.takes_two),
            lifts.summed_where(alone, two, yes),
        ),
        Line(
            "left_for_want_of_two",
            _("Places left out since nobody was there to lift as a second"),
            len(figures.pages.left_lifts),
            over(proofs.left_lifts).filled(_("Bed")),
        ),
    ]


def _training_lines(figures: MonthFigures, over: Over) -> list[Line]:
    held = over(pages.trainings)
    return [
        Line(
            "trainings_held",
            _("Trainings"),
            len(figures.pages.trainings),
            held.filled(_("Person")),
        ),
    ]


def _trial_lines(figures: MonthFigures, over: Over) -> list[Line]:
    table, rows = over(pages.trials), figures.pages.trials
    lines = [Line("trials_ended", _("Blind trials ended"), len(rows), table.filled(_("Room")))]
    for state in (TrialState.FOUND, TrialState.MISSED):
        name = pages.trial_state(state)
        many = sum(row.state is state for row in rows)
        said = _("Of these {state}").format(state=name)
        lines.append(
            Line(f"trials_{state.value}", said, many, table.equal(_("How it ended"), name))
        )
    return lines


def _record_lines(figures: MonthFigures, over: Over) -> list[Line]:
    policy, refused = over(pages.policy), over(pages.refusals)
    return [
        Line(
            "policy_changes",
            _("Changes of the policy"),
            len(figures.pages.policy),
            policy.filled(_("Entry")),
        ),
        Line(
            "deeds_refused",
            _("Refusals"),
            len(figures.pages.refusals),
            refused.filled(_("Entry")),
        ),
    ]


def state_lines(figures: MonthFigures, over: Over) -> list[Line]:
    """How things stand at the end of the account."""
    states = over(pages.training_states)
    return [
        Line(
            "trainings_overdue",
            _("Trainings overdue at the end"),
            sum(state.is_overdue for state in figures.pages.training_states),
            states.equal(_("State"), pages.training_words()[1]),
        ),
    ]
