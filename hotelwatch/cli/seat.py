"""Who gives a command: a name and a PIN, where the hotel has people, and what each one shows.

A PIN is asked for without showing it, or read from a file; it is never a word of a command,
since those stand in lists of processes and in shells' histories.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import click

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.people import sit_down
from hotelwatch.core.roles import Sight
from hotelwatch.wording.language import _

AS, PIN_FILE, PIN = "hotelwatch.as", "hotelwatch.pin_file", "hotelwatch.pin"

SHOWS: Mapping[str, Sight | None] = {
    "answer-night": Sight.DESK,
    "arrange-visit": Sight.DESK,
    "ask-night": Sight.ROUNDS,
    "back-up": Sight.RECORD,
    "calendar": Sight.ROUNDS,
    "care": Sight.CASES,
    "cart": Sight.RULES,
    "case-paper": Sight.CASES,
    "case-sheet": Sight.CASES,
    "check-book": Sight.RECORD,
    "check-file": Sight.RECORD,
    "choose": Sight.RULES,
    "choose-rules": Sight.RULES,
    "close-case": Sight.CASES,
    "compare-rules": Sight.RULES,
    "closed-days": Sight.ROUNDS,
    "cycle": Sight.ROUNDS,
    "cycle-worth": Sight.ODDS,
    "decline-visit": Sight.DESK,
    "desk-calendar": Sight.DESK,
    "discard": Sight.CASES,
    "dog-visit": Sight.CASES,
    "draw-room": Sight.HOUSE,
    "expire": Sight.RECORD,
    "explain-let": Sight.DESK,
    "export": Sight.RECORD,
    "figure": Sight.RULES,
    "firm": Sight.CASES,
    "forbid-day": Sight.ROUNDS,
    "front-desk": Sight.DESK,
    "furniture-moved": Sight.HOUSE,
    "guest-moved": Sight.DESK,
    "holiday": Sight.RULES,
    "hotel": Sight.RULES,
    "join-cases": Sight.CASES,
    "judge": Sight.CASES,
    "keep-paper": Sight.CASES,
    "lift": Sight.CASES,
    "list backlog": Sight.ROUNDS,
    "list backups": Sight.RECORD,
    "list by-hand": Sight.ROUNDS,
    "list calendar": Sight.ROUNDS,
    "list cases": Sight.CASES,
    "list dog-visits": Sight.CASES,
    "list due": Sight.ROUNDS,
    "list entries": Sight.RECORD,
    "list front-desk": Sight.DESK,
    "list monitors": Sight.HOUSE,
    "list neighbours": Sight.HOUSE,
    "list places": None,
    "list quarantine": Sight.CASES,
    "list sooner": Sight.ROUNDS,
    "list stairs": Sight.HOUSE,
    "list teams": Sight.ROUNDS,
    "list to-arrange": Sight.ROUNDS,
    "load bookings": Sight.DESK,
    "load columns": Sight.HOUSE,
    "load roster": Sight.HOUSE,
    "load-rules": Sight.RULES,
    "looking-back": Sight.ODDS,
    "monitor": Sight.HOUSE,
    "month": Sight.MONTH,
    "move-guest": Sight.DESK,
    "next": Sight.CASES,
    "notice-text": Sight.CASES,
    "odds": Sight.ODDS,
    "order-treatment": Sight.CASES,
    "owner": Sight.CASES,
    "people": Sight.PEOPLE,
    "person": None,
    "pin": Sight.ROUNDS,
    "plan": Sight.ROUNDS,
    "probe-log": Sight.CASES,
    "rank-types": Sight.DESK,
    "read-monitor": Sight.HOUSE,
    "record": Sight.CHECKS,
    "release": Sight.CASES,
    "release-word": Sight.CASES,
    "restore": Sight.RECORD,
    "ring": Sight.CASES,
    "risk": Sight.ROUNDS,
    "round-page": Sight.ROUNDS,
    "rules": Sight.RULES,
    "season": Sight.ROUNDS,
    "sheet": Sight.ROUNDS,
    "sighting": None,
    "simulate": Sight.ODDS,
    "since": Sight.CASES,
    "specimen": Sight.CASES,
    "specimen-label": Sight.CASES,
    "split-case": Sight.CASES,
    "stair": Sight.HOUSE,
    "stairs": Sight.HOUSE,
    "stop-expiry": Sight.RECORD,
    "survey plan": Sight.ODDS,
    "survey shown": Sight.ODDS,
    "swap": Sight.ROUNDS,
    "take-back": None,
    "team": Sight.ROUNDS,
    "team-days": Sight.ROUNDS,
    "teams": Sight.ROUNDS,
    "told": Sight.CASES,
    "training": None,
    "trainings": Sight.PEOPLE,
    "treatment": Sight.CASES,
    "trial end": Sight.TRIALS,
    "trial hide": Sight.TRIALS,
    "trial learned": Sight.TRIALS,
    "trial list": Sight.TRIALS,
    "trial pair": Sight.TRIALS,
    "what-if": Sight.ROUNDS,
    "why-not": Sight.ROUNDS,
    "wings": Sight.HOUSE,
}
"""What one must be allowed to see to give a command; None: nothing, the gate sees to it."""
WITHOUT_HOTEL = frozenset({"new", "open", "demo", "take-in", "rules-template"})
"""Commands that make a file or open the window, which asks by itself."""


def let_people_say_who(group: click.Group) -> None:
    """Give each command on a hotel's file ``--as`` and ``--pin-file``."""
    for name, command in each_command(group):
        if name not in WITHOUT_HOTEL:
            command.params += [_as_option(), _pin_option()]


def each_command(group: click.Group, within: str = "") -> Iterator[tuple[str, click.Command]]:
    """Every command with its words, as "list due"."""
    for name, command in group.commands.items():
        if isinstance(command, click.Group):
            yield from each_command(command, f"{within}{name} ")
        else:
            yield f"{within}{name}", command


def writer(named: str) -> str:
    """Who writes: whoever gives the PIN, else the name given."""
    said: str | None = click.get_current_context().meta.get(AS)
    return said or named


def take_seat(hotel: OpenHotel) -> None:
    """Seat whoever gives the running command, and see that its role shows what it prints.

    Refusal as ``sit_down`` says; Denied where the role, or that nobody said who, forbids it.
    """
    context = click.get_current_context()
    name = context.meta.get(AS)
    if name:
        sit_down(hotel, name, _pin(context))
    sight = SHOWS.get(_words(context))
    if sight is not None:
        hotel.require_sight(sight)


def read_new_pin(path: str | None) -> str:
    """A new PIN: from a file, or typed twice without showing it."""
    if path is not None:
        return _first_line(path)
    said: str = click.prompt(
        _("New PIN"), hide_input=True, confirmation_prompt=_("New PIN again"), err=True
    )
    return said


def _pin(context: click.Context) -> str:
    if PIN not in context.meta:
        path = context.meta.get(PIN_FILE)
        context.meta[PIN] = (
            _first_line(path)
            if path is not None
            else click.prompt(_("PIN"), hide_input=True, err=True)
        )
    said: str = context.meta[PIN]
    return said


def _first_line(path: str) -> str:
    try:
        with click.open_file(path, encoding="utf-8") as opened:
            line: str = opened.readline()
    except (OSError, UnicodeDecodeError) as error:
        raise click.BadParameter(_("{file} can't be read.").format(file=path)) from error
    return line.strip()


def _words(context: click.Context) -> str:
    words: list[str] = []
    now: click.Context | None = context
    while now is not None and now.parent is not None:
        words.insert(0, now.info_name or "")
        now = now.parent
    return " ".join(words)


def _keep(key: str, context: click.Context, value: str | None) -> None:
    if value is not None:
        context.meta[key] = value


def _as_option() -> click.Option:
    return click.Option(
        ["--as"],
        metavar="NAME",
        is_eager=True,
        expose_value=False,
        callback=lambda context, _option, value: _keep(AS, context, value),
        help="Who you are, where the hotel has people; your PIN is asked for.",
    )


def _pin_option() -> click.Option:
    return click.Option(
        ["--pin-file"],
        metavar="FILE",
        is_eager=True,
        expose_value=False,
        callback=lambda context, _option, value: _keep(PIN_FILE, context, value),
        help="Its first line is your PIN; - for standard input, /dev/fd/3 for a descriptor.",
    )
