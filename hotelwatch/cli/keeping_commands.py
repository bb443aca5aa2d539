"""Commands for what is kept how long, and for taking everything out and in."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch.actions import exporting, retention
from hotelwatch.cli.common import (
    also_to_option,
    by_option,
    desk_at_hand,
    hotel_argument,
    opened,
    said_plainly,
    say_table,
)
from hotelwatch.core.record_facts import ContentExpired
from hotelwatch.wording.copies import behind_lines, reached_lines
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.retention import expired_lines, found_rows, stopped_lines

ANY = click.Path(path_type=Path)


@click.command("expire", short_help="Let photos, papers, names and notes go whose time is over.")
@hotel_argument
@click.option("--look", is_flag=True, help="Say what would go, and why the rest stays; no more.")
@click.option("--yes", is_flag=True, help="Do it without asking.")
@also_to_option
@by_option
def expire(hotel_file: Path, *, look: bool, yes: bool, also_to: Path | None, by: str) -> None:
    """Say what is due to go and why the rest stays, ask, and let it go.

    The digests stay, and the record says what went. It goes from the backups too, and
    from those on another disk where --also-to names their folder. How long each is kept says
    “choose HOTEL_FILE keeps_photos 5” (keeps_papers, keeps_names, keeps_notes); without
    such a choice it is as long as the local rules say.
    """
    desk = desk_at_hand()
    with said_plainly(), opened(hotel_file, by) as hotel:
        if not look:
            hotel.require(ContentExpired, action=retention.EXPIRE)
        looked = retention.look(hotel_file, desk.rules(), now=hotel.now(), copied_to=also_to)
        say_table(
            (_("What"), _("Kept"), _("Due"), _("Why the rest stays")),
            found_rows(looked.found, looked.keepings),
            "",
        )
        for line in (*stopped_lines(looked.stopped), *behind_lines(looked.behind)):
            click.echo(line)
        if look:
            return
        due = sum(verdict.is_due for verdict in looked.found)
        asked = ngettext("Delete {n} for good?", "Delete {n} for good?", due).format(n=due)
        if due and not yes and not click.confirm(asked):
            raise click.ClickException(_("Nothing was changed."))
        done = retention.expire(hotel, also_to)
        reached = reached_lines(done.reached)
        for line in expired_lines(done.facts, is_tidy=done.is_tidy, from_copies=reached):
            click.echo(line)


@click.command("stop-expiry", short_help="Let nothing of a case, or nothing at all, expire.")
@hotel_argument
@click.option("--case", default="", help="Of this case only.")
@click.option("--reason", required=True, help="Why: a claim, a letter; it stands in the record.")
@click.option("--said-by", default="", help="Who said so. Default: you.")
@click.option("--end", is_flag=True, help="Things expire again.")
@by_option
def stop_expiry(
    hotel_file: Path, *, case: str, reason: str, said_by: str, end: bool, by: str
) -> None:
    """Let nothing of a case, or nothing at all, expire while a dispute lasts; --end ends it."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        retention.stop_expiry(hotel, case=case, by=said_by or by, reason=reason, holds=not end)
        click.echo(_("Written down."))


@click.command("export", short_help="Write everything out in open formats.")
@hotel_argument
@click.argument("to", type=ANY)
def export(hotel_file: Path, to: Path) -> None:
    """Write everything into the folder TO, or into one file where TO ends in .zip.

    One csv for each kind of fact, the chain as json lines, photos, papers, and how to
    verify it all without this program. “take-in” makes a hotel's file of it again.
    """
    with said_plainly(), opened(hotel_file):
        done = exporting.export_everything(hotel_file, to, zipped=to.suffix == ".zip")
    _say(done, _("Exported to {file}.").format(file=done.to))


@click.command("take-in", short_help="Make a hotel's file of an export.")
@click.argument("export", type=click.Path(path_type=Path, exists=True))
@click.argument("hotel_file", metavar="HOTEL_FILE", type=ANY)
def take_in(export: Path, hotel_file: Path) -> None:
    """Make HOTEL_FILE of EXPORT, a folder or a zip: the same entries, the same digests."""
    with said_plainly():
        done = exporting.take_in(export, hotel_file)
    _say(done, _("Taken in: {file}.").format(file=done.to))


def _say(done: exporting.Exported, said: str) -> None:
    click.echo(said)
    counted = ngettext("{n} entry.", "{n} entries.", done.entries).format(n=done.entries)
    click.echo(counted)
    click.echo(_("Last digest: {digest}").format(digest=done.last_digest))
