"""What expires, by name."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

RETENTION_ENUMS: dict[str, dict[str, str]] = {
    "Expiring": {
        "photo": m("Photos"),
        "paper": m("Papers"),
        "log": m("Logs"),
        "name": m("Names"),
        "note": m("Notes"),
    },
    "WordSort": {"name": m("Names"), "note": m("Notes")},
}
