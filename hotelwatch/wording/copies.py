"""Backups and files set aside, in words: from which of them what expired went as well."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Protocol

from hotelwatch.core.problems import Refusal
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.problems import refusal_sentence


class Unreached(Protocol):
    """A copy, or a folder of them, that could not be changed."""

    @property
    def path(self) -> Path:
        """Where it lies, or should."""

    @property
    def why(self) -> Refusal:
        """What stood in the way."""


class Reached(Protocol):
    """How expiry came to the copies."""

    @property
    def changed(self) -> Sequence[Path]:
        """Those that held something, and hold it no more."""

    @property
    def unreached(self) -> Sequence[Unreached]:
        """Those that hold what they held."""


def reached_lines(reached: Reached) -> Iterator[str]:
    """From how many copies it went as well, and which still hold it."""
    yield from changed_lines(reached)
    yield from unreached_lines(reached)


def changed_lines(reached: Reached) -> Iterator[str]:
    """From how many copies it went as well."""
    if reached.changed:
        yield ngettext(
            "It went from {n} older copy as well (backups, files set aside); the copy says so.",
            "It went from {n} older copies as well (backups, files set aside); each says so.",
            len(reached.changed),
        ).format(n=len(reached.changed))


def unreached_lines(reached: Reached) -> Iterator[str]:
    """Which copies could not be reached, and what that means."""
    for one in reached.unreached:
        if one.why.code == "no_such_folder":
            yield _(
                "{folder} is not there now: backups that were copied there still hold what has"
                " expired. Once it is there again, the next backup lets it go from them."
            ).format(folder=one.path)
        else:
            said = _("{file} could not be reached and may still hold what has expired. {why}")
            yield said.format(file=one.path, why=refusal_sentence(one.why)[0])


def behind_lines(behind: Reached) -> Iterator[str]:
    """Which copies still hold what has expired before."""
    if behind.changed:
        yield ngettext(
            "{n} older copy still holds what has expired; the next backup lets it go from it.",
            "{n} older copies still hold what has expired; the next backup lets it go from them.",
            len(behind.changed),
        ).format(n=len(behind.changed))
    yield from unreached_lines(behind)
