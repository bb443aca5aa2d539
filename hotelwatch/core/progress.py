"""The one way to report progress and to be stopped."""

from __future__ import annotations

from typing import Protocol


class Stopped(Exception):
    """Raised by a Progress when the person asked to stop."""


class Progress(Protocol):
    """Told the share done (0 to 1) and a step's code; raises Stopped to stop."""

    def __call__(self, share: float, step: str) -> None:
        """Take note, or raise Stopped."""


def silent(share: float, step: str) -> None:
    """Progress that nobody watches."""
