"""Why something can't be undone, or done again: one pair of sentences per code."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

UNDOING: dict[str, tuple[str, str]] = {
    "nothing_to_undo": (
        m("There is nothing to undo."),
        m("Undo takes back what you did in this window since the hotel's file was opened."),
    ),
    "nothing_to_redo": (
        m("There is nothing to do again."),
        m("Redo writes down again what you undid last."),
    ),
    "undo_not_possible": (
        m("“{action}” can't be undone."),
        m("Write down anew, or load anew, what is right; the later word counts."),
    ),
    "undo_changed_since": (
        m("“{action}” can't be undone: {by} wrote down entry {entry} since, “{later_action}”."),
        m("It is of the same matter. Look at it first, then write down what is right."),
    ),
    "undo_month_closed": (
        m("“{action}” can't be undone: the book of {month} was closed since."),
        m("Take the entry back with its reason; the taking back stands in a later book."),
    ),
    "undo_too_old": (
        m("“{action}” can't be undone: entry {entry}, which it replaced, is too old."),
        m("Write down anew what is right; the later word counts."),
    ),
    "undo_overtaken": (
        m(
            "“{action}” can't be undone: entry {replaced} would count again over a later one"
            " of the same matter, {entry} by {by}, “{later_action}”."
        ),
        m("Nothing has changed. Write down anew what is right; the later word counts."),
    ),
    "redo_changed_since": (
        m("“{action}” is not done again: {by} wrote down entry {entry} since, “{later_action}”."),
        m("It is of the same matter. Look at it first, then write down what is right."),
    ),
    "redo_looked_at_anew": (
        m("“{action}” is not done again by itself."),
        m("Sign it anew where it was signed: its conditions are looked at again there."),
    ),
}
