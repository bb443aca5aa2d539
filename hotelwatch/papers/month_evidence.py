"""The book's tables about proofs and what came after: photos, words given, visits, watches."""

from __future__ import annotations

from hotelwatch.core.checks.watching import SIGN
from hotelwatch.core.month.care import NO_SECOND
from hotelwatch.core.month.page_rows import KeptRow, VisitRow, WatchRow
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.treatment_facts import PaperKind
from hotelwatch.papers import month_words as words
from hotelwatch.papers.listings import Attention, Listing, Value
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label, place_label
from hotelwatch.wording.notices import NOTICE_NAMES

DIGITS_SHOWN = 12
"""Of a digest that refers to another table, where all of it stands."""
WIDEST_WORDS = 60
"""Characters: closing words are sentences."""
KEPT = {"photo": m("Photo"), "specimen": m("Specimen"), "log": m("Log of heat or cold")}
NOTICES = {**NOTICE_NAMES, "release_word": m("Word that rooms may be let again")}


def kept(figures: MonthFigures) -> Listing:
    """Photos, specimens, papers and logs of the month, each with its number."""
    headings = (
        _("Case"),
        _("Room"),
        _("What"),
        _("Number or name"),
        _("Step"),
        _("Where"),
        _("When"),
        _("By"),
        _("SHA-256 of the file"),
        _("Entry"),
    )
    return Listing("kept", headings, tuple(_kept_row(row) for row in figures.pages.kept))


def _kept_row(row: KeptRow) -> tuple[Value, ...]:
    return (
        row.case,
        row.room,
        _(KEPT[row.what]) if row.what in KEPT else label(PaperKind(row.what)),
        row.named or row.sha256[:DIGITS_SHOWN],
        label(row.step) if row.step else "",
        row.where,
        row.at,
        row.by,
        row.sha256,
        row.entry,
    )


def notices(figures: MonthFigures) -> Listing:
    """Who was told what and when; guests without a name."""
    headings = (
        _("Case"),
        _("Room"),
        _("What"),
        _("To whom"),
        _("When"),
        _("By"),
        _("Receipt"),
        _("Note"),
        _("Entry"),
    )
    rows = tuple(
        (
            row.case,
            row.room,
            _(NOTICES[row.notice]) if row.notice in NOTICES else label(row.notice),
            row.to or _("the guest"),
            row.given_at,
            row.by,
            row.receipt,
            row.noted,
            row.entry,
        )
        for row in figures.pages.notices
    )
    return Listing("notices", headings, rows)


def visits(figures: MonthFigures) -> Listing:
    """The usual visits after each treatment, and the look that met each."""
    headings = (
        _("Case"),
        _("Room"),
        _("Treated on"),
        _("Visit no."),
        _("Due on"),
        _("Looked at on"),
        _("Method"),
        _("Looked by"),
        _("Result"),
        _("Too early for the slowest eggs"),
    )
    return Listing("visits", headings, tuple(_visit_row(row) for row in figures.pages.visits))


def visit_words() -> tuple[str, str, str]:
    """How a visit went: nothing seen, a sign found, nobody looked."""
    return _("no sign seen, which is no proof"), _("a sign was found"), _("not looked at")


def _visit_row(row: VisitRow) -> tuple[Value, ...]:
    nothing, found, nobody = visit_words()
    result: Value = nothing
    if row.done_on is None:
        result = Attention(nobody)
    elif row.has_found:
        result = Attention(found)
    return (
        row.case,
        row.room,
        row.treated_on,
        row.number,
        row.due_on,
        row.done_on,
        _("by eye, every underside place") if row.done_on else "",
        row.by,
        result,
        row.is_before_hatch,
    )


def watches(figures: MonthFigures) -> Listing:
    """The watch over rooms given back: since when, until when, who ended it on what words."""
    headings = (
        _("Case"),
        _("Rooms"),
        _("Watch since"),
        _("Because of"),
        _("Days needed"),
        _("Clean covered days"),
        _("Over on, if all goes on so"),
        _("Closed"),
        _("Closed by"),
        _("Closed because of"),
        _("Closing words"),
    )
    rows = tuple(_watch_row(row) for row in figures.pages.watches)
    return Listing("watches", headings, rows, widest=WIDEST_WORDS)


def watch_words() -> tuple[str, str, str]:
    """On what a watch was ended: it was over, a person's reason, or it still runs."""
    return _("the watch was over"), _("a person's reason"), _("still watched")


def _watch_row(row: WatchRow) -> tuple[Value, ...]:
    over, reason, runs = watch_words()
    ended: Value = runs
    if row.is_over is not None:
        ended = over if row.is_over else Attention(reason)
    watch = row.watch
    because = _("the last sign") if watch.because == SIGN else _("the last treatment")
    return (
        row.case,
        ", ".join(watch.rooms),
        watch.since_on,
        because,
        watch.need,
        watch.counted,
        None if row.closed_at else watch.ends_on,
        row.closed_at,
        row.closed_by,
        ended,
        closing_words(row),
    )


def closing_words(row: WatchRow) -> str:
    """What was looked at how and when, who signed, and what that can't say."""
    watch = row.watch
    looks = ngettext(
        "{n} look by eye at undersides since {since}: {days}.",
        "{n} looks by eye at undersides since {since}, on: {days}.",
        len(row.looks),
    ).format(
        n=len(row.looks),
        since=day_text(watch.since_on),
        days=", ".join(map(day_text, row.looks)) or _("none"),
    )
    said = ngettext(
        "{n} of {need} days was covered by looks or traps without a sign.",
        "{n} of {need} days were covered by looks or traps without a sign.",
        watch.counted,
    ).format(n=watch.counted, need=watch.need)
    limit = _("No look and no trap proves that nothing is there.")
    parts = [looks, said, limit]
    if row.reason:
        parts.append(_("Reason given: {reason}").format(reason=row.reason))
    return " ".join(parts)


def left_lifts(figures: MonthFigures) -> Listing:
    """Places left out since nobody was there to lift as a second; who looked is left out."""
    headings = (_("Day"), _("Room"), _("Bed"), _("Place"), _("Why"), _("Entry"))
    why = words.unseen_why(NO_SECOND)
    rows = tuple(
        (row.on, row.room, row.bed, place_label(row.place), why, row.entry)
        for row in figures.pages.left_lifts
    )
    return Listing("left_lifts", headings, rows)
