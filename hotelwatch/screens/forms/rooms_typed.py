"""Rooms that somebody typed or pasted into one line."""

from __future__ import annotations

import re
from collections.abc import Collection


def rooms_named(text: str, known: Collection[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Rooms in a text, each once, and what in it names none.

    Commas part them; blanks do too, where what lies between commas is no room by itself.
    """
    named: dict[str, None] = {}
    strange: list[str] = []
    for part in re.split(r"[,;\n]", text):
        whole = " ".join(part.split())
        for word in (whole,) if whole in known else whole.split():
            if word in known:
                named[word] = None
            else:
                strange.append(word)
    return tuple(named), tuple(strange)
