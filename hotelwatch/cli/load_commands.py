"""Commands that load a roster or bookings: look first, then take all, the good rows, or none."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import click

from hotelwatch.actions import roster as roster_actions
from hotelwatch.cli.common import (
    EXISTING,
    by_option,
    hotel_argument,
    opened,
    said_plainly,
    say_problems,
)
from hotelwatch.core.problems import InputRefused
from hotelwatch.core.stays.kept_nights import sold_nights
from hotelwatch.intake.codes import StaysCode, TableCode
from hotelwatch.intake.roster_file import ROSTER_FIELDS, RosterReading
from hotelwatch.intake.stays_file import STAYS_FIELDS, StaysReading
from hotelwatch.wording.asked import sold_nights_sentence
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.problems import booking_text
from hotelwatch.wording.replaced import most_go_text, went_text, will_go_text
from hotelwatch.wording.roster import roster_change_sentence

MOST_SHOWN = 20
BOOKINGS_SHOWN = 3

keep_good_option = click.option(
    "--keep-good/--refuse-whole",
    default=False,
    help="Take good rows and leave bad ones, or take nothing (default).",
)
look_option = click.option("--look", is_flag=True, help="Say what would change; change nothing.")
day_first_option = click.option(
    "--day-first/--month-first", default=None, help="How 03/04/2026 is meant, where it is unclear."
)
roster_headings_option = click.option(
    "--heading",
    "headings",
    multiple=True,
    metavar="FIELD=HEADING",
    help="Which heading holds a field, as room=Zimmer; once for each field that was not "
    f"understood. Fields: {', '.join(ROSTER_FIELDS)}.",
)
stays_headings_option = click.option(
    "--heading",
    "headings",
    multiple=True,
    metavar="FIELD=HEADING",
    help="Which heading holds a field, as room=Zimmer; once for each field that was not "
    f"understood. Fields: {', '.join(STAYS_FIELDS)}.",
)


@click.group("load", short_help="Load a roster or bookings from xlsx, ods or csv.")
def load() -> None:
    """Load a roster or bookings from xlsx, ods or csv."""


@load.command("roster", short_help="Load rooms and beds.")
@hotel_argument
@click.argument("roster", type=EXISTING)
@roster_headings_option
@keep_good_option
@look_option
@by_option
def load_roster(
    hotel_file: Path,
    roster: Path,
    headings: tuple[str, ...],
    *,
    keep_good: bool,
    look: bool,
    by: str,
) -> None:
    """Load rooms and beds; the same file again changes nothing.

    Rooms that the file does not name any more are gone from the roster; what was
    recorded in them stays in the file. Rooms of rows that can't be read stay as they were.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:
        preview = roster_actions.preview_roster(hotel.house, roster)
        if named := _named(headings, ROSTER_FIELDS):
            mapping = _with_named(preview.reading.mapping, named)
            preview = roster_actions.preview_roster(hotel.house, roster, mapping)
        _say_reading(preview.reading)
        if not look:
            with _refused_by_its_rows(preview.reading, keep_good=keep_good):
                roster_actions.load_roster(hotel, preview, keep_good=keep_good)
        for change in preview.changes[:MOST_SHOWN]:
            click.echo(f"  {roster_change_sentence(change)}")
        if (more := len(preview.changes) - MOST_SHOWN) > 0:
            click.echo(ngettext("  and {n} more", "  and {n} more", more).format(n=more))
        if not preview.changes:
            click.echo(_("No room changes."))
        if look:
            click.echo(_("Nothing was written down."))
            return
        click.echo(_roster_holds(len(hotel.house.rooms), len(hotel.house.beds)))


def _roster_holds(rooms: int, beds: int) -> str:
    return _("The roster holds {rooms} and {beds}.").format(
        rooms=ngettext("{n} room", "{n} rooms", rooms).format(n=rooms),
        beds=ngettext("{n} bed", "{n} beds", beds).format(n=beds),
    )


@load.command("bookings", short_help="Load bookings; no names are kept.")
@hotel_argument
@click.argument("bookings", type=EXISTING)
@stays_headings_option
@day_first_option
@keep_good_option
@click.option(
    "--whole-list",
    is_flag=True,
    help="Say that the file is the whole list, where most bookings known are not in it.",
)
@look_option
@by_option
def load_bookings(
    hotel_file: Path,
    bookings: Path,
    headings: tuple[str, ...],
    *,
    day_first: bool | None,
    keep_good: bool,
    whole_list: bool,
    look: bool,
    by: str,
) -> None:
    """Load bookings; they replace what was known from today on. No names are kept.

    How many bookings known until now are not in the file, and so no longer count, is said.
    If it is most of them, nothing is loaded before --whole-list says that this is right.
    """
    with said_plainly(), opened(hotel_file, by) as hotel:

        def read(mapping: Mapping[str, str] | None = None) -> roster_actions.StaysPreview:
            return roster_actions.preview_stays(
                hotel.house, bookings, mapping, today=hotel.today(), day_first=day_first
            )

        preview = read()
        if named := _named(headings, STAYS_FIELDS):
            preview = read(_with_named(preview.reading.mapping, named))
        reading = preview.reading
        _say_reading(reading)
        _say_first_bookings(reading)
        taken = len(reading.stays)
        will_go = will_go_text(preview.replaced, bad_rows=reading.rows_bad)
        if look:
            if will_go:
                click.echo(will_go)
            counted = ngettext("{n} booking could be taken.", "{n} bookings could be taken.", taken)
            click.echo(counted.format(n=taken) + " " + _("Nothing was written down."))
            return
        is_taken = keep_good or not reading.is_bad
        if preview.replaced.is_most and is_taken and not whole_list:
            nothing = _("Nothing was written down.")
            how = _("Say --whole-list if it is.")
            raise click.ClickException(" ".join((will_go, most_go_text(), how, nothing)))
        with _refused_by_its_rows(reading, keep_good=keep_good):
            roster_actions.load_stays(hotel, preview, keep_good=keep_good)
        click.echo(ngettext("{n} booking taken.", "{n} bookings taken.", taken).format(n=taken))
        if went := went_text(preview.replaced):
            click.echo(went)
        if sold := sold_nights(hotel.house, hotel.occupancy(), hotel.today()):
            click.echo(sold_nights_sentence(sold))


def _say_first_bookings(reading: StaysReading) -> None:
    """Print the first bookings as they were read: a wrong order of day and month shows."""
    if reading.stays:
        click.echo(_("The first as read:"))
    for stay in reading.stays[:BOOKINGS_SHOWN]:
        click.echo(
            "  "
            + _("booking {booking}: {room}, {arrival} to {departure}, {status}").format(
                booking=booking_text(stay.booking),
                room=stay.room or stay.room_type,
                arrival=day_text(stay.arrives_on),
                departure=day_text(stay.leaves_on),
                status=label(stay.status).lower(),
            )
        )


# --- what both share ------------------------------------------------------------------------


def _named(pairs: Collection[str], fields: Collection[str]) -> dict[str, str]:
    """Headings that the person named, by field."""
    named: dict[str, str] = {}
    for pair in pairs:
        field, equals, heading = pair.partition("=")
        if not equals:
            raise click.BadParameter(
                _("Write {text} as field, =, heading: room=Zimmer.").format(text=pair)
            )
        if field not in fields:
            raise click.BadParameter(
                _("{field} is no field. Choose one of: {fields}.").format(
                    field=field, fields=", ".join(fields)
                )
            )
        named[field] = heading
    return named


def _with_named(found: Mapping[str, str], named: Mapping[str, str]) -> dict[str, str]:
    """The mapping found, with what a person said of it: a heading holds one field."""
    said = set(named.values())
    return {field: heading for field, heading in found.items() if heading not in said} | dict(named)


def _say_reading(reading: RosterReading | StaysReading) -> None:
    """Print how the columns were understood, and what is wrong with the rows."""
    if reading.mapping:
        click.echo(_("Columns as understood:"))
    for field, heading in reading.mapping.items():
        click.echo(f"  {field}: {heading}")
    used = set(reading.mapping.values())
    if unread := [heading for heading in reading.headings if heading and heading not in used]:
        click.echo(_("Not read: {headings}").format(headings=", ".join(unread)))
    say_problems(reading.problems)


@contextmanager
def _refused_by_its_rows(
    reading: RosterReading | StaysReading, *, keep_good: bool
) -> Iterator[None]:
    """Say what can be done about a file that was refused; its problems were printed before."""
    try:
        yield
    except InputRefused as refused:
        said = _("Nothing was written down.")
        good = reading.rows_read - reading.rows_bad
        codes = {problem.code for problem in refused.problems}
        if codes & {StaysCode.DAY_OR_MONTH_FIRST, StaysCode.DATES_MIXED}:
            said += " " + _("Say --day-first or --month-first.")
        if codes & {TableCode.FIELD_MISSING, TableCode.HEADING_UNKNOWN}:
            said += " " + _("Say --heading FIELD=HEADING for each field that was not found.")
        in_rows = all(problem.row > reading.heading_row for problem in refused.problems)
        if in_rows and good > 0 and not keep_good:
            said += " " + ngettext(
                "Mend the file, or take its {n} good row with --keep-good.",
                "Mend the file, or take its {n} good rows with --keep-good.",
                good,
            ).format(n=good)
        raise click.ClickException(said) from refused
