"""The month's book: one workbook that can be read without the program."""

from __future__ import annotations

from pathlib import Path
from zoneinfo import ZoneInfo

from hotelwatch.core.month.account import Account
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.progress import Progress, silent
from hotelwatch.papers import month_case_tables as cases
from hotelwatch.papers import month_evidence as proofs
from hotelwatch.papers import month_pages as pages
from hotelwatch.papers import month_record as record
from hotelwatch.papers import month_rules
from hotelwatch.papers import month_tables as tables
from hotelwatch.papers.book_claims import Claims, claims_listing
from hotelwatch.papers.listings import Book, Frame, Lines, Part, Sheet
from hotelwatch.papers.month_front import front_page
from hotelwatch.papers.month_odds import OddsOfMonth, odds_sheet
from hotelwatch.papers.month_policy import policy_lines
from hotelwatch.papers.month_record import WIDE, RecordProof
from hotelwatch.papers.month_summary import summary
from hotelwatch.papers.target import refuse_target, write_safely
from hotelwatch.wording.dates import day_text, month_text
from hotelwatch.wording.dogs import dog_rule, dog_trial_text
from hotelwatch.wording.language import _


def write_month_book(
    path: Path,
    figures: MonthFigures,
    *,
    claims: Claims,
    proof: RecordProof | None = None,
    odds: OddsOfMonth | None = None,
    progress: Progress = silent,
) -> None:
    """Write a month's book to ``path``; the old file stays until the new one is whole.

    ``proof`` is what a verification of the hotel's file found; None says in the
    book that it was not verified; without ``odds`` their page is left out.

    Raises Refusal as ``target.write_safely`` says.
    """
    refuse_target(path)
    write_safely(month_book(figures, claims=claims, proof=proof, odds=odds), path, progress)


def month_book(
    figures: MonthFigures,
    *,
    claims: Claims,
    proof: RecordProof | None = None,
    odds: OddsOfMonth | None = None,
) -> Book:
    """The month's book before it is written."""
    frame = frame_of(figures.account, month_text(figures.account.month), program=claims.program)
    beds = _about_beds(figures)
    if odds is not None:
        beds = (beds[0], odds_sheet(odds), *beds[1:])
    shown = (*beds, *_about_cases(figures), *_about_work(figures))
    tables_of = (*shown, *month_rules.sheets(figures, shown), *_about_rules(figures))
    sheets = (
        Sheet(_("First page"), (front_page(figures, proof),)),
        Sheet(
            _("Summary"),
            (summary(figures, tables_of),),
            (*record.digest_lines(figures), *_about_odds(odds)),
        ),
        *tables_of,
        Sheet(
            _("Record and limits"),
            (
                *record.record_parts(figures, frame, proof),
                claims_listing(claims),
            ),
        ),
    )
    return Book(frame, figures.account.made_at, sheets, is_protected=True)


def _about_odds(odds: OddsOfMonth | None) -> tuple[str, ...]:
    """Where the page of odds is to be had, in a book without it."""
    if odds is not None:
        return ()
    told = _(
        "How likely something was missed in each room is not in this book: have it written again"
        " with that, which takes longer (a tick beside its language; on a command line --odds)."
    )
    return (told,)


def frame_of(account: Account, subject: str, *, program: str) -> Frame:
    """What every sheet of the book bears."""
    return Frame(
        hotel=account.hotel,
        subject=subject,
        paper=account.paper,
        zone=ZoneInfo(account.zone),
        zone_name=account.zone,
        program=program,
    )


def _about_beds(figures: MonthFigures) -> tuple[Sheet, ...]:
    account = figures.account
    due = _("Undersides due until {day} or overdue on {first}. Those not looked at come first.")
    due = due.format(day=day_text(account.last_on), first=day_text(account.first_on))
    why = record.reasons_line(account)
    as_of = _("As of {day}.").format(day=day_text(account.until_on))
    lists = _("What “every place of its list” means: common practice, no source.")
    rooms = _("Each number is a formula over the tables of this file.")
    return (
        _sheet(_("Rooms"), pages.rooms(figures), as_of, rooms),
        _sheet(_("Due and done"), tables.due(figures), due, why),
        _sheet(_("Last looks"), tables.last_looks(figures), as_of),
        _sheet(_("Checks"), tables.checks(figures)),
        _sheet(_("Lists of places"), tables.place_lists(figures), lists),
    )


def _about_cases(figures: MonthFigures) -> tuple[Sheet, ...]:
    as_of = _("As they stood on {day}.").format(day=day_text(figures.account.until_on))
    suspected = _("What was seen or reported is suspected until a competent person has judged it.")
    visits = _("Usual visits after each treatment: an assumption, see the page of figures.")
    kept = _("Files lie beside the hotel's file, under these digests.")
    ring = _("A room looked at without a find is no room of which anything is known for certain.")
    return (
        _sheet(_("Sightings"), cases.sightings(figures), suspected),
        _sheet(_("Cases"), cases.cases(figures), as_of),
        _sheet(_("Deadlines"), pages.clocks(figures), as_of),
        _sheet(_("Checks asked for"), cases.asked(figures), ring),
        _sheet(_("Quarantines"), cases.quarantines(figures)),
        _sheet(_("Let in quarantine"), cases.lets(figures), _("There should be none.")),
        _sheet(_("Treatments"), cases.treatments(figures), _("As the licensed firms reported it.")),
        _sheet(_("Follow-up visits"), proofs.visits(figures), visits),
        _sheet(_("Watch and closing"), proofs.watches(figures), as_of),
        _sheet(_("Answers and notices"), proofs.notices(figures), _("Guests bear no name here.")),
        _sheet(_("Photos, specimens, papers"), proofs.kept(figures), kept),
        _sheet(_("Linen and things"), pages.care(figures)),
        _sheet(_("Dog visits"), cases.dogs(figures), dog_rule(), *_trial_of_dogs(figures)),
    )


def _trial_of_dogs(figures: MonthFigures) -> tuple[str, ...]:
    used = {figure.key: figure for figure in figures.used}
    return (dog_trial_text(used["dog_detection"], used["dog_false_positive"]),)


def _about_work(figures: MonthFigures) -> tuple[Sheet, ...]:
    lifting = _(
        "Lifts by checks written down; weights and two people's share are assumptions. Lifting a"
        " mattress or a base takes two people; local rules on lifting go before this table."
    )
    alone = _("Left out since no second person was there to lift. Who looked is left out.")
    prices = _("What prices come to is no more certain than the prices: put in your own.")
    trials = _(
        "Dummies of open trials stand nowhere in this book. Places that nobody looked at say"
        " nothing of how well one looks; finds are not ranked by person."
    )
    again = _("Which topics a role needs: common practice, no source.")
    return (
        _sheet(_("Staff hours"), tables.team_days(figures)),
        _sheet(_("Staff by name"), tables.people(figures), _("In the order of names.")),
        _sheet(_("Hours and cost"), pages.costs(figures), prices),
        _sheet(_("Lifting"), pages.lifts(figures), lifting),
        _sheet(_("Not lifted"), proofs.left_lifts(figures), alone),
        _sheet(_("Training"), pages.trainings(figures)),
        _sheet(_("Training due"), pages.training_states(figures), again),
        _sheet(_("Blind trials"), pages.trials(figures), trials),
    )


def _about_rules(figures: MonthFigures) -> tuple[Sheet, ...]:
    assumed = _("Figures marked as an assumption were measured by nobody; correct them to yours.")
    in_force = Lines(tuple(policy_lines(figures)), WIDE)
    return (
        Sheet(_("Policy in force"), (in_force,)),
        _sheet(_("Changes of policy"), pages.policy(figures)),
        _sheet(_("Refusals"), pages.refusals(figures)),
        _sheet(_("Late entries and corrections"), record.changes(figures)),
        _sheet(_("Figures and sources"), record.figures_used(figures), assumed),
    )


def _sheet(title: str, part: Part, *notes: str) -> Sheet:
    return Sheet(title, (part,), notes)
