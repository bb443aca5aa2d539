"""What all commands share: the clock, the open hotel, and how wrong input is said."""

from __future__ import annotations

import getpass
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import click
from click.core import ParameterSource

from hotelwatch import paths
from hotelwatch.actions.open_hotel import OpenHotel, open_hotel
from hotelwatch.cli.seat import take_seat, writer
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import InputRefused, Problem, Refusal
from hotelwatch.intake.rules_file import read_rules
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.problems import place_in_file, refusal_sentence, sentence


def wall_clock() -> datetime:
    """The moment, in UTC. Commands read the clock here and nowhere else."""
    return datetime.now(UTC)  # noqa: TID251


@dataclass(frozen=True, slots=True)
class Desk:
    """What a command stands on: the clock, the shipped rules, and the window if there is one."""

    clock: Callable[[], datetime] = wall_clock
    open_window: Callable[[Path | None], int] | None = None

    def rules(self) -> Rules:
        """The shipped figures and kinds of bed."""
        return read_rules(paths.resources())


CANT_ASK = frozenset(
    {
        "damaged_file",
        "no_such_file",
        "not_a_hotel_file",
        "older_file",
        "newer_file",
        "read_only_file",
        "on_network_share",
    }
)
"""Refusals to open a file, because of which nobody can be asked for a PIN."""
FILE = click.Path(path_type=Path, dir_okay=False)
EXISTING = click.Path(path_type=Path, exists=True, dir_okay=False, readable=True)

hotel_argument = click.argument("hotel_file", metavar="HOTEL_FILE", type=FILE)
by_option = click.option(
    "--by",
    default=getpass.getuser,
    show_default="your user name",
    callback=lambda _context, _option, value: writer(value),
    help="Who writes this down; with --as it is you.",
)
also_to_option = click.option(
    "--also-to",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="A folder on another disk or share that gets a copy of each backup.",
)


class Day(click.ParamType[date | None]):
    """An ISO 8601 day, or "today"."""

    name = "day"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> date | None:
        """Read the day; None stands for today."""
        if value is None or isinstance(value, date):
            return value
        if value == "today":
            return None
        try:
            return date.fromisoformat(str(value))
        except ValueError:
            self.fail(_("{value} is no day; write it as 2026-03-09.").format(value=value))


DAY = Day()


def is_given(name: str) -> bool:
    """Whether the running command was given this parameter: "today" is kept as None."""
    source = click.get_current_context().get_parameter_source(name)
    return source is ParameterSource.COMMANDLINE


def span_of(hotel: OpenHotel, from_on: date | None, until_on: date | None) -> tuple[date, date]:
    """The days from..until of the running command; without ``until_on`` the first one alone."""
    first = from_on or hotel.today()
    return first, until_on or (hotel.today() if is_given("until_on") else first)


def desk_at_hand() -> Desk:
    """What the running command stands on."""
    return click.get_current_context().find_object(Desk) or Desk()


@contextmanager
def opened(hotel_file: Path, by: str = "") -> Iterator[OpenHotel]:
    """The hotel's file, open while the command runs."""
    desk = desk_at_hand()
    hotel = open_hotel(hotel_file, desk.rules(), clock=desk.clock, by=by or getpass.getuser())
    try:
        take_seat(hotel)
        yield hotel
    finally:
        hotel.close()


def admit(hotel_file: Path) -> None:
    """Let somebody give a command that reads the file by itself; a damaged one asks nobody."""
    try:
        with opened(hotel_file):
            pass
    except Refusal as refusal:
        if refusal.code not in CANT_ASK:
            raise


@contextmanager
def said_plainly() -> Iterator[None]:
    """Turn a refusal into its sentence and exit status 1."""
    try:
        yield
    except Refusal as refusal:
        what, mend = refusal_sentence(refusal)
        raise click.ClickException(f"{what} {mend}".strip()) from refusal
    except InputRefused as refused:
        say_problems(refused.problems)
        raise click.ClickException(_("Nothing was written down.")) from refused


def say_problems(problems: Sequence[Problem]) -> None:
    """Print each problem with its place and its mend; apart, what was taken all the same."""
    blocking = [problem for problem in problems if problem.blocking]
    _say_each(blocking)
    if blocking:
        counted = ngettext("{n} thing to mend.", "{n} things to mend.", len(blocking))
        click.echo(counted.format(n=len(blocking)), err=True)
    if remarks := [problem for problem in problems if not problem.blocking]:
        click.echo(_("No hindrance, but look whether it is right:"), err=True)
        _say_each(remarks)


def _say_each(problems: Sequence[Problem]) -> None:
    for problem in problems:
        what, mend = sentence(problem)
        click.echo(f"  {place_in_file(problem)}: {what} {mend}".rstrip(), err=True)


def say_table(headings: Sequence[str], rows: Iterable[Sequence[str]], empty: str) -> None:
    """Print rows in columns, or say that there are none."""
    lines = [tuple(row) for row in rows]
    if not lines:
        click.echo(empty)
        return
    widths = [max(len(line[n]) for line in (tuple(headings), *lines)) for n in range(len(headings))]
    for line in (tuple(headings), *lines):
        cells = (cell.ljust(width) for cell, width in zip(line, widths, strict=True))
        click.echo("  ".join(cells).rstrip())
