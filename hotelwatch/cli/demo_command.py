"""The command that builds the invented demo hotel and opens its window."""

from __future__ import annotations

from pathlib import Path

import click

from hotelwatch import paths
from hotelwatch.actions.books import write_book
from hotelwatch.actions.demo.build import build_demo, set_aside
from hotelwatch.cli.common import Desk, desk_at_hand, opened, said_plainly
from hotelwatch.cli.sheet_commands import print_sheets
from hotelwatch.core.days import month_of
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.language import _

FILE_NAME = "demo.hotelwatch"


@click.command("demo", short_help="Build the invented demo hotel and open it.")
@click.option("--no-window", is_flag=True, help="Do the job and print where the papers lie.")
@click.option("--anew", is_flag=True, help="Build it afresh; an earlier demo hotel is deleted.")
@click.option(
    "--folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="Where it goes. Default: your own data folder.",
)
def demo(*, no_window: bool, anew: bool, folder: Path | None) -> None:
    """Build the invented demo hotel with months of record, and open its window."""
    desk = desk_at_hand()
    folder = folder or paths.data_folder() / "demo"
    hotel_file = folder / FILE_NAME
    folder.mkdir(parents=True, exist_ok=True)
    if anew:
        hotel_file.unlink(missing_ok=True)
    with said_plainly():
        _set_aside_if_older(hotel_file)
        if hotel_file.exists():
            click.echo(_("Opening the demo hotel built earlier; --anew builds a fresh one."))
        else:
            _build(desk, hotel_file)
        _print_papers(desk, hotel_file)
    if no_window:
        return
    # Qt is loaded only where something is printed or shown.
    from hotelwatch.printing.application import has_screen

    if desk.open_window is None or not has_screen():
        click.echo(_("There is no screen here, so no window opens."))
        return
    raise SystemExit(desk.open_window(hotel_file))


def _set_aside_if_older(hotel_file: Path) -> None:
    """Make way for a fresh demo hotel where the one there can't be opened any more."""
    try:
        if hotel_file.exists():
            with opened(hotel_file):
                pass
    except Refusal as refused:
        if refused.code != "older_file":
            raise
        aside = set_aside(hotel_file)
        click.echo(
            _("The demo hotel there is of an earlier trial: set aside as {file}.").format(
                file=aside
            )
        )


def _build(desk: Desk, hotel_file: Path) -> None:
    with click.progressbar(length=100, label=_("Building the demo hotel")) as bar:

        def progress(share: float, step: str) -> None:
            bar.update(int(share * 100) - bar.pos)

        build_demo(hotel_file, desk.rules(), now=desk.clock(), progress=progress)


def _print_papers(desk: Desk, hotel_file: Path) -> None:
    with opened(hotel_file) as hotel:
        month = month_of(hotel.today())
        coming = [day for day in hotel.house.slots if day >= hotel.today()]
    book = hotel_file.with_name(f"month-{month}.xlsx")
    write_book(hotel_file, desk.rules(), month, book, desk.clock(), with_odds=True)
    click.echo(_("Hotel file: {file}").format(file=hotel_file))
    click.echo(_("This month's workbook: {file}").format(file=book))
    if coming:
        for target, _pages in print_sheets(hotel_file, hotel_file.parent / "sheets", day=coming[0]):
            click.echo(_("Sheet: {file}").format(file=target))
