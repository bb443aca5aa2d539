"""Commands for books that leave the hotel: write one, and check one from months ago."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions.books import write_book
from hotelwatch.actions.reports import close_month
from hotelwatch.cli.common import (
    EXISTING,
    FILE,
    admit,
    by_option,
    desk_at_hand,
    hotel_argument,
    opened,
    said_plainly,
)
from hotelwatch.core.month.periods import is_span
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.book_check import (
    difference_sentence,
    reason_sentence,
    reasons_told,
    remark_lines,
    verdict,
)
from hotelwatch.wording.dates import month_text
from hotelwatch.wording.language import _, available
from hotelwatch.wording.verification import fault_sentence


@click.command("month", short_help="Write the workbook of a month, a quarter or a year.")
@hotel_argument
@click.argument("period", metavar="YYYY-MM|YYYY-Qn|YYYY")
@click.option("--to", "target", type=FILE, default=None, help="Default: beside the hotel's file.")
@click.option("--close", is_flag=True, help="Make the month's book final.")
@click.option(
    "--odds",
    "with_odds",
    is_flag=True,
    help="With how likely something was missed, room by room (a month's book; takes longer).",
)
@click.option(
    "--language",
    type=click.Choice(available()),
    default=None,
    help="Of the workbook; whole in en and es, most of it English in others.",
)
@by_option
def month_book(
    hotel_file: Path,
    period: str,
    *,
    target: Path | None,
    close: bool,
    with_odds: bool,
    language: str | None,
    by: str,
) -> None:
    """Write the workbook of a month, or of a quarter or a year with its months side by side."""
    desk = desk_at_hand()
    target = target or hotel_file.with_name(f"{hotel_file.stem}-{period}.xlsx")
    with said_plainly():
        if close and is_span(period):
            raise Refusal("no_such_month", month=period)
        if close:
            with opened(hotel_file, by) as hotel:
                close_month(hotel, period)
        else:
            admit(hotel_file)
        rules = desk.rules()
        now, spoken = desk.clock(), language or ""
        write_book(hotel_file, rules, period, target, now, spoken, with_odds=with_odds)
        told = period if is_span(period) else month_text(period)
    click.echo(_("{month}: {file}").format(month=told, file=target))


@click.command("check-book", short_help="Do a book from months ago and the file say the same?")
@hotel_argument
@click.argument("book", metavar="BOOK", type=EXISTING)
@click.option(
    "--all",
    "every",
    is_flag=True,
    help="Say also why beds were late, and what came since.",
)
def check_book(hotel_file: Path, book: Path, *, every: bool) -> None:
    """Compare a workbook with the hotel's file, line by line; exit status 1 if they differ.

    The record is cut to the entries that the book names. Nothing is changed.
    """
    from hotelwatch.actions.book_check import check_book as compare
    from hotelwatch.papers.month_words import change_sentence

    with said_plainly():
        admit(hotel_file)
        found = compare(hotel_file, desk_at_hand().rules(), book)
    for fault in found.faults:
        click.echo("  " + fault_sentence(fault))
    for one in found.differences:
        click.echo("  " + difference_sentence(one))
    for reason in found.reasons if every else [one for one in found.reasons if not one.agrees]:
        click.echo("  " + reason_sentence(reason))
    if every:
        for row in found.later:
            click.echo("  " + change_sentence(row))
    for line in remark_lines(
        later=len(found.later),
        bookings=found.has_later_bookings,
        program=found.other_program,
        differs=bool(found.count),
    ):
        click.echo(line)
    for line in reasons_told(found.reasons):
        click.echo(line)
    said = verdict(
        count=found.count,
        cells=found.cells,
        is_same_file=found.is_same_file,
        has_faults=bool(found.faults),
    )
    if not found.agrees:
        raise click.ClickException(said)
    click.echo(said)
