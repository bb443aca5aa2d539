"""The pages of the month's book that say on what it rests and what it can't say."""

from __future__ import annotations

from dataclasses import dataclass

from hotelwatch.core.month.account import Account
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.parameters import Figure
from hotelwatch.papers import month_words as words
from hotelwatch.papers.listings import WIDEST_COLUMN, Attention, Frame, Lines, Listing, Value
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, is_unchecked, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.rounds import season_sentence

WIDE = (WIDEST_COLUMN,) * 4


@dataclass(frozen=True, slots=True)
class RecordProof:
    """What a verification of the hotel's file found, for the book's last page."""

    entries: int
    last_digest: str
    problems: tuple[str, ...]
    """Sentences or codes; empty where every digest agrees."""

    @property
    def is_sound(self) -> bool:
        """Whether nothing was found wrong."""
        return not self.problems


def changes(figures: MonthFigures) -> Listing:
    """Late entries and corrections: who, when, old and new."""
    headings = (
        _("Entry"),
        _("Written down"),
        _("By"),
        _("Concerns month"),
        _("What happened"),
        _("About"),
        _("Kind"),
        _("Old"),
        _("New"),
        _("Reason given"),
        _("Corrects entry"),
    )
    rows = tuple(
        (
            row.entry,
            row.recorded_at,
            row.by,
            row.month,
            words.change_kind(row),
            row.subject,
            words.fact_kind(row.kind),
            words.old_values(row),
            words.new_values(row),
            row.reason,
            row.corrects,
        )
        for row in figures.rows.changes
    )
    return Listing("changes", headings, rows)


def figures_used(figures: MonthFigures) -> Listing:
    """Each figure used with its range, how well it is known and from where."""
    headings = (
        _("Figure"),
        _("Value"),
        _("Unit"),
        _("From"),
        _("To"),
        _("How well it is known"),
        _("Source"),
        _("What it is for"),
    )
    rows = tuple(_figure_row(figure) for figure in figures.used)
    return Listing("figures", headings, rows)


def _figure_row(figure: Figure) -> tuple[Value, ...]:
    standing = label(figure.standing)
    return (
        _(figure.key.replace("_", " ")),
        _number(figure.value),
        words.unit(figure.unit),
        _number(figure.low),
        _number(figure.high),
        Attention(standing) if figure.standing.value == "assumption" else standing,
        figure.source,
        _(figure.note),
    )


def _number(value: float) -> int | float:
    return int(value) if value == int(value) else value


def record_parts(
    figures: MonthFigures, frame: Frame, proof: RecordProof | None
) -> tuple[Lines, ...]:
    """On what the book rests, and what it can't say."""
    title = _("How it was looked and counted, and what that can't say")
    return (
        Lines(tuple(record_lines(figures, frame, proof)), WIDE),
        Lines(("", title, *limit_lines(figures), ""), WIDE),
    )


def record_lines(figures: MonthFigures, frame: Frame, proof: RecordProof | None) -> list[str]:
    """On which entries the book rests, and whether their digests agree."""
    account = figures.account
    lines = [
        _("Made with {program} on {moment}.").format(
            program=frame.program, moment=moment_text(account.made_at, frame.zone)
        ),
        _("It covers {first} to {last}.").format(
            first=day_text(account.first_on), last=day_text(account.until_on)
        ),
        _closing_line(figures, frame),
        reasons_line(account),
        _("It rests on entries {first} to {last} of the hotel's file.").format(
            first=account.first_entry, last=account.last_entry
        ),
        _("Digest of the last of these entries (SHA-256): {digest}").format(
            digest=account.last_digest or _("none")
        ),
        _("They were written by: {programs}.").format(
            programs=", ".join(account.programs) or _("nobody")
        ),
        *proof_lines(proof),
        _("All times are by the hotel's clock ({zone}). Days are written as in ISO 8601.").format(
            zone=frame.zone_name
        ),
    ]
    if is_unchecked():
        lines.append(_("This translation has not been checked by a native speaker."))
    return [line for line in lines if line]


def digest_lines(figures: MonthFigures) -> list[str]:
    """Up to which entry the numbers go, with its digest; and how they are checked."""
    account = figures.account
    return [
        _("Entries {first} to {last} of the hotel's file; digest of the last: {digest}").format(
            first=account.first_entry,
            last=account.last_entry,
            digest=account.last_digest or _("none"),
        ),
        _("The last lines count the rows of each table, so that a row taken out shows."),
    ]


def reasons_line(account: Account) -> str:
    """Whether reasons for lateness stand as told at the closing, or may come out otherwise."""
    if account.closed_at is not None:
        return _("Why beds were late, and rooms let in quarantine: as kept at the closing.")
    return _(
        "Why beds were late, and rooms let in quarantine: as the bookings tell that were read in"
        " by now; only a closing keeps it."
    )


def _closing_line(figures: MonthFigures, frame: Frame) -> str:
    account = figures.account
    if account.closed_at is not None:
        return _(
            "The month was closed by {person} on {moment}. What was written down later "
            "stands in a later month's book."
        ).format(person=account.closed_by, moment=moment_text(account.closed_at, frame.zone))
    if account.is_complete:
        return _("The month is over but was not closed: a later book may say more.")
    return _("The month still runs: this is an account so far.")


def proof_lines(proof: RecordProof | None) -> list[str]:
    """Whether the hotel's file holds, as far as it was verified for a book."""
    if proof is None:
        return [_("The hotel's file was not verified for this book.")]
    if proof.is_sound:
        said = ngettext(
            "The hotel's file was verified: {count} entry, and its digest agrees. "
            "Digest of the file's last entry: {digest}",
            "The hotel's file was verified: {count} entries, and every digest agrees. "
            "Digest of the file's last entry: {digest}",
            proof.entries,
        )
        return [said.format(count=proof.entries, digest=proof.last_digest or _("none"))]
    first = _("The hotel's file was verified and is NOT in order. Do not rely on this book:")
    return [first, *proof.problems]


def limit_lines(figures: MonthFigures) -> list[str]:
    """How it was looked, how it was counted, and what no look can say."""
    return [*_method_lines(figures), *_counting_lines(figures), *_caution_lines()]


def _method_lines(figures: MonthFigures) -> list[str]:
    account = figures.account
    cycles = "; ".join(
        ngettext("{days} days for {count} bed", "{days} days for {count} beds", count).format(
            days=days, count=count
        )
        for days, count in account.cycles
    )
    lines = [
        _(
            "“Looked at” means that people looked with their eyes at the places that the book "
            "names. An underside counts as looked at only if every underside place of that bed "
            "was looked at."
        ),
        _("Cycles in force at the end: {cycles}.").format(cycles=cycles or _("none")),
        *map(season_sentence, account.seasons),
    ]
    spread = sum(row.is_spread for row in figures.rows.looks)
    if spread:
        lines.append(
            ngettext(
                "{count} bed was never looked at. Its first due date was spread over the cycle "
                "from the day the bed came on the roster, rooms with more beds not encased first "
                "(assumption: the greater risk).",
                "{count} beds were never looked at. Their first due dates were spread over the "
                "cycle from the day the beds came on the roster, so that not all are due at once, "
                "rooms with more beds that are not encased first (assumption: the greater risk).",
                spread,
            ).format(count=spread)
        )
    return lines


def _counting_lines(figures: MonthFigures) -> list[str]:
    account = figures.account
    lines = [
        _(
            "Due: undersides whose due date fell in the month or was overdue at its start. A bed "
            "on a short cycle can be due twice. In time: on the due date or before it. A due date "
            "is the last look plus the cycle; days of a season count more than one each."
        ),
        _(
            "The main reason for a late look is the one that the hotel could have done most "
            "about; the column beside it counts the days of every reason, from the due date on."
        ),
        _(
            "People-hours are minutes written down times the people named. Time is listed by "
            "person; what a person found is not."
        ),
    ]
    if account.stays_read_at is None:
        lines.append(_("No bookings were read in: every room counts as one that can be entered."))
    else:
        lines.append(
            _("Bookings were last read in on {moment}, from {file}.").format(
                moment=moment_text(account.stays_read_at, account.zone), file=account.stays_file
            )
        )
    return lines


def _caution_lines() -> list[str]:
    return [
        _(
            "A visual check misses infestations, small ones above all. In homes one brief visual "
            "check found 72 % of the infestations that several methods together found (Wang, "
            "Singh, Zha, Cooper 2016). What share a check finds in a hotel room is unknown; for "
            "a young infestation it is likely less."
        ),
        _(
            "So a look without a find is no proof that nothing was there. This book says what was "
            "looked at, what was not, and what was found; certainty can't be had."
        ),
        _(
            "“Suspected” is what was seen or reported and not yet judged. “Confirmed” names the "
            "person who judged, their competence and the day."
        ),
        _(
            "Guests are not in this record: no name, no room history of a person. Notes are as "
            "their writers left them; read them before you hand the book on."
        ),
    ]
