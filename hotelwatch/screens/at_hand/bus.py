"""Tells pages that something was written down. One emitter, one connection a page.

``hotel.announce = bus.announce`` makes the open hotel the only emitter. The window
holds the only connection and tells each page: shown, it refreshes; hidden, it is
stale until it is shown. Pages never signal one another: they call ``go_to``.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from hotelwatch.core.records import Changes


class Bus(QObject):
    """Carries what an entry touched from the open hotel to the pages."""

    changed = Signal(object)
    """Emitted with the Changes of an entry."""

    def announce(self, changes: Changes) -> None:
        """Tell every listener what an entry touched."""
        self.changed.emit(changes)
