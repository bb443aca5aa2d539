"""hotelwatch: the window without arguments, else the command line."""

from __future__ import annotations

import sys
from pathlib import Path

from hotelwatch.cli.common import Desk
from hotelwatch.cli.main import commands


def _open_window(hotel_file: Path | None) -> int:
    # Qt takes a while to load, and commands do without it.
    from hotelwatch.screens.app import run_window

    return run_window(hotel_file)


def main() -> None:
    """Entry point of both the command and the windowed program."""
    arguments = sys.argv[1:] or ["open"]
    commands(args=arguments, prog_name="hotelwatch", obj=Desk(open_window=_open_window))


if __name__ == "__main__":
    main()
