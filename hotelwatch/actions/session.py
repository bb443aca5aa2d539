"""What was done at this desk since the hotel's file was opened, for undo and redo."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from hotelwatch.core.undoing import Deed


class Session:
    """Deeds in the order done, and those undone, each person's apart."""

    def __init__(self) -> None:
        """Nothing done yet."""
        self._done: list[Deed] = []
        self._undone: list[tuple[Deed, int]] = []
        self._now: dict[int, int] = {}
        self._ways: set[int] = set()
        self._is_aside = False

    def note(self, deed: Deed) -> None:
        """Take in a deed; what its person had undone can't be done again after it."""
        if not self._is_aside:
            self._done.append(deed)
            self._undone = [pair for pair in self._undone if pair[0].by != deed.by]

    def join_last(self, by: str, action: str) -> None:
        """Let what that person did since the last such action be part of it."""
        mine = [place for place, deed in enumerate(self._done) if deed.by == by]
        begins = [place for place in mine if self._done[place].action == action]
        if begins:
            parts = {place for place in mine if place > begins[-1]}
            self._done = [deed for place, deed in enumerate(self._done) if place not in parts]

    @contextmanager
    def aside(self) -> Iterator[None]:
        """Within it nothing is noted: undoing is no deed of its own."""
        self._is_aside = True
        try:
            yield
        finally:
            self._is_aside = False

    def last_done(self, by: str) -> Deed | None:
        """What that person did last and has not undone."""
        return next((deed for deed in reversed(self._done) if deed.by == by), None)

    def last_undone(self, by: str) -> tuple[Deed, int] | None:
        """What that person undid last, and the entry that did so."""
        return next((pair for pair in reversed(self._undone) if pair[0].by == by), None)

    def entry_now(self, entry: int) -> int:
        """The entry that holds what ``entry`` wrote down, after undoing and redoing."""
        while entry in self._now:
            entry = self._now[entry]
        return entry

    @property
    def ways(self) -> frozenset[int]:
        """Entries that undid or did again."""
        return frozenset(self._ways)

    def note_undone(self, deed: Deed, undoing: int) -> None:
        """Take in that an entry undid a deed; what the deed replaced stands in it now."""
        self._done.remove(deed)
        self._undone.append((deed, undoing))
        self._ways.add(undoing)
        if deed.corrects is not None:
            self._now[self.entry_now(deed.corrects)] = undoing

    def note_redone(self, deed: Deed, redoing: int) -> None:
        """Take in that an entry did a deed again."""
        self._undone = [pair for pair in self._undone if pair[0] is not deed]
        self._done.append(deed)
        self._ways.add(redoing)
        self._now[self.entry_now(deed.entry)] = redoing
