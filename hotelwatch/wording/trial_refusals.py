"""What is not allowed with blind trials and reckonings on the record, and how to mend it."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

TRIALS: dict[str, tuple[str, str]] = {
    "dummy_needs_label": (
        m("The dummy has no label."),
        m("Mark it, and write down the mark: by it the dummy is told from others."),
    ),
    "dummy_needs_hider": (
        m("Nobody is named who hid dummy {dummy}."),
        m("Name who hid it: that person's own look is no blind trial."),
    ),
    "dummy_still_hidden": (
        m("Dummy {dummy} still lies hidden in room {room}."),
        m("End that trial first, or hide another dummy with a label of its own."),
    ),
    "unknown_dummy": (
        m("No dummy {dummy} lies hidden anywhere."),
        m("Look up its label among the trials; one that has ended can be taken back."),
    ),
    "trial_ends_before_hidden": (
        m("Dummy {dummy} was hidden on {day}; its trial can't end before that."),
        m("Give the day on which it was found or collected."),
    ),
    "dummy_not_collected": (
        m("Dummy {dummy} still lies in {where}: {place}."),
        m("Collect it, then end the trial; if it is not there any more, say that it is lost."),
    ),
    "blind_pair_needs_two": (
        m("Two blind looks at room {room} need the names of both who looked."),
        m("Name both; a look by one alone is an ordinary check."),
    ),
    "blind_looks_too_far_apart": (
        m("The two looks at room {room} lie more than {hours} hours apart."),
        m("Too much can change in between: record each as a check of its own instead."),
    ),
    "repeat_looks_needed": (
        m("No room was looked at twice within days, so looks and rooms can't be told apart."),
        m("Look again at some rooms within a week, found or not, and ask once more."),
    ),
}
