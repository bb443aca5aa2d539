"""Names of the codes of local rules: kinds of clause, how one was read, how it was judged."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

RULE_ENUMS: dict[str, dict[str, str]] = {
    "Asks": {
        "deadline": m("Something done by a time"),
        "close": m("Rooms closed and not let"),
        "eliminate": m("Given back once it is gone"),
        "release": m("Whose word gives a room back"),
        "licensed": m("Licensed treatment"),
        "record": m("What must be recorded"),
        "keep": m("How long it is kept"),
        "vacant": m("Looked at after standing empty"),
        "signs": m("What counts as an infestation"),
        "other": m("Outside this record"),
    },
    "HowRead": {
        "read": m("Read in the text"),
        "second_hand": m("Read second-hand"),
    },
    "Verdict": {
        "met": m("Met"),
        "not_met": m("NOT met"),
        "cannot_tell": m("Look yourself"),
        "not_arisen": m("Nothing fell under it"),
    },
    "ItemState": {
        "done": m("As it asks"),
        "late": m("Late"),
        "missing": m("MISSING"),
        "ahead": m("Still open, its time has not passed"),
        "unknown": m("Cannot be told"),
    },
}
