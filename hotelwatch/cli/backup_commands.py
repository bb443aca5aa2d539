"""Commands for backups: make one, list them, go back to one."""

from __future__ import annotations

from contextlib import closing
from datetime import UTC, tzinfo
from pathlib import Path

import click

from hotelwatch.actions import backups as backup_actions
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.cli.common import (
    CANT_ASK,
    EXISTING,
    FILE,
    admit,
    also_to_option,
    by_option,
    desk_at_hand,
    hotel_argument,
    opened,
    said_plainly,
    say_table,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.record_facts import RecordRestored
from hotelwatch.wording.backups import (
    back_to_text,
    loss_heading,
    loss_lines,
    made_text,
    restored_text,
    size_text,
    state_text,
)
from hotelwatch.wording.copies import reached_lines
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _
from hotelwatch.wording.problems import refusal_sentence


@click.command("back-up", short_help="Copy the file while it is in use.")
@hotel_argument
@click.argument("copy", type=FILE, required=False)
@also_to_option
def back_up(hotel_file: Path, copy: Path | None, also_to: Path | None) -> None:
    """Copy the file, its photos and its logs while it is in use; the copy is checked.

    Without COPY the backup goes to the folder of backups beside the file, and those that
    have had their time are deleted there; none is ever replaced. With COPY, an older
    backup of the same hotel is replaced; no other file is.
    """
    with said_plainly(), opened(hotel_file) as hotel:
        if copy is not None:
            hotel.journal.backup(copy)
            click.echo(_("Backed up to {file}.").format(file=copy))
            return
        _say_made(backup_actions.back_up_now(backup_actions.wish_of(hotel, also_to)))


def _say_made(made: backup_actions.Made) -> None:
    name = made.backup.name
    click.echo(made_text(name, is_new=made.is_new, pruned=made.pruned))
    if made.copied_to is not None:
        click.echo(_("Copied to {file}.").format(file=made.copied_to))
    for line in reached_lines(made.reached):
        click.echo(line)
    if made.copy_refused is not None:
        what, mend = refusal_sentence(made.copy_refused)
        raise click.ClickException(f"{what} {mend}".strip())


@click.command("backups", short_help="The backups beside the file, and whether they hold.")
@hotel_argument
@click.option("--check", is_flag=True, help="Go through each one whole.")
@also_to_option
def list_backups(hotel_file: Path, *, check: bool, also_to: Path | None) -> None:
    """List backups, the latest first; exit status 1 if one that was checked does not hold."""
    with said_plainly():
        admit(hotel_file)
        listed = backup_actions.list_backups(hotel_file, also_to)
        faults = backup_actions.check_all(hotel_file, listed) if check else {}
    headings = (_("Made"), _("Last entry"), _("Size"), _("State"), _("File"))
    rows = (
        (
            moment_text(one.backup.made_at, "UTC"),
            str(one.backup.last_entry),
            size_text(one.backup.size),
            _state(one, faults),
            str(one.path),
        )
        for one in listed
    )
    say_table(headings, rows, _("There is no backup yet."))
    if any(faults.values()):
        raise click.ClickException(_("Not every backup holds."))


def _state(one: backup_actions.Listed, faults: dict[Path, int]) -> str:
    holds = one.backup.is_sound and not faults.get(one.path)
    return state_text(is_checked=one.path in faults, holds=holds)


@click.command("restore", short_help="Go back to a backup; the present file is kept aside.")
@hotel_argument
@click.argument("backup", type=EXISTING)
@click.option("--reason", required=True, help="Why; it stands in the record.")
@click.option("--yes", is_flag=True, help="Do it without asking.")
@by_option
def restore(hotel_file: Path, backup: Path, *, reason: str, yes: bool, by: str) -> None:
    """Say what would be lost by going back to a backup, ask, and do it.

    The present file is never deleted: it gets another name beside it.
    """
    desk = desk_at_hand()
    with said_plainly():
        zone = _zone_unless_refused(hotel_file, by)
        told = backup_actions.tell_restore(hotel_file, backup, zone)
        click.echo(back_to_text(None, told.back_to, zone))
        click.echo(loss_heading(told))
        for line in loss_lines(told.loss):
            click.echo(f"  {line}")
        if not yes and not click.confirm(_("Go back to this backup?")):
            raise click.ClickException(_("Nothing was changed."))
        done = backup_actions.restore(told, desk.clock())
        # Nobody is asked again: who went back may not be known yet in the record restored.
        hotel = open_hotel(hotel_file, desk.rules(), clock=desk.clock, by=by)
        with closing(hotel):
            backup_actions.note_restore(hotel, done, reason=reason)
    click.echo(restored_text(told.back_to, str(done.aside or "")))


def _zone_unless_refused(hotel_file: Path, by: str) -> tzinfo:
    """The hotel's zone. Refuses where roles do not let it; a damaged file asks nobody."""
    try:
        with opened(hotel_file, by) as hotel:
            hotel.require(RecordRestored, action=backup_actions.RESTORE)
            return hotel.zone
    except Refusal as refusal:
        if refusal.code not in CANT_ASK:
            raise
        return UTC
