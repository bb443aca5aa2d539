"""What a check will count for, said before it is saved: undersides, people, finds."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout

from hotelwatch.actions.checks import SetGoing, preview_finds
from hotelwatch.core.checks.looking import OTHER_REASON, named_twice
from hotelwatch.core.checks.place_looks import (
    PlaceState,
    people_needed,
    place_looks,
    underside_counts,
)
from hotelwatch.core.checks.recorded import checked_that_day
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.checks.draft import Draft
from hotelwatch.screens.checks.words import going_lines, twice_text, underside_text
from hotelwatch.wording.dates import clock_text, day_text, moment_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.problems import refusal_sentence

PROBLEM, HEADING, MUTED, PLAIN = "problem", "heading", "muted", ""
Said = tuple[str, str]
"""A line and its role."""


class BeforeSaving(QFrame):
    """Lines that say what a draft counts for."""

    def __init__(self, context: Context) -> None:
        """Nothing to say yet."""
        super().__init__()
        self.setProperty("role", "card")
        self._context = context
        self._labels: list[QLabel] = []
        self._foretold: tuple[object, tuple[Said, ...]] | None = None
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(14, 10, 14, 12)
        self._lines.setSpacing(6)

    def show_draft(self, draft: Draft) -> None:
        """Say what this draft counts for as it stands."""
        said = [
            *self._warnings(draft),
            *self._finds(draft),
            *self._undersides(draft),
            *self._people(draft),
        ]
        said.sort(key=lambda line: line[1] != PROBLEM)  # what keeps one from saving leads
        for label in self._labels[len(said) :]:
            label.hide()
        for number, (text, role) in enumerate(said):
            label = self._label(number, role)
            label.setText(text)
            label.show()

    def text(self) -> str:
        """Everything said, line by line."""
        return "\n".join(label.text() for label in self._labels if not label.isHidden())

    def _label(self, number: int, role: str) -> QLabel:
        """The label of a line; another one where its role differs, since padding sticks."""
        if number < len(self._labels) and self._labels[number].property("role") == role:
            return self._labels[number]
        label = QLabel(wordWrap=True)
        label.setProperty("role", role)
        for old in self._labels[number : number + 1]:
            self._lines.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._lines.insertWidget(number, label)
        self._labels[number : number + 1] = [label]
        return label

    # --- what is said ---------------------------------------------------------

    def _warnings(self, draft: Draft) -> list[Said]:
        hotel, look, wanted = self._context.hotel, draft.look, draft.wanted
        lines: list[Said] = []
        if wanted.keep_out_until is not None:
            text = _("Treated: nobody goes in before {moment}.").format(
                moment=moment_text(wanted.keep_out_until, hotel.zone)
            )
            lines.append((text, PROBLEM))
        if wanted.counts_from is not None and wanted.counts_from > look.checked_on:
            text = _("A clean check counts towards giving the room back from {day} on.").format(
                day=day_text(wanted.counts_from)
            )
            lines.append((text, PROBLEM))
        made = checked_that_day(hotel.house, look)
        if made is not None and draft.corrects is None:
            text = _(
                "Already recorded for this day (entry {entry}, written down {clock}). Saving adds "
                "a second check; to change the first, correct it under “Recorded lately”."
            ).format(entry=made.number, clock=clock_text(made.recorded_at, hotel.zone))
            lines.append((text, PROBLEM))
        return lines

    def _undersides(self, draft: Draft) -> list[Said]:
        house, look = self._context.hotel.house, draft.look
        lines = [(underside_text(count), PLAIN) for count in underside_counts(house, look)]
        meant = {bed.bed for bed in look.beds}
        others = [str(bed.bed) for bed in house.beds_of(look.room) if bed.bed not in meant]
        if others:
            lines.append((_("Not part of this check: {beds}").format(beds=join(others)), MUTED))
        return lines or [(_("This room has no bed."), MUTED)]

    def _people(self, draft: Draft) -> list[Said]:
        house, look = self._context.hotel.house, draft.look
        lines: list[Said] = []
        needed, named = people_needed(house, look), len(look.by)
        if not named:
            lines.append((_("Name who looked."), PROBLEM))
        elif twice := named_twice(look.by):
            lines.append((twice_text(twice), PROBLEM))
        elif named < needed:
            text = ngettext(
                "What was lifted takes {n} person; name everybody who was there.",
                "What was lifted takes {n} people; name everybody who was there.",
                needed,
            ).format(n=needed)
            lines.append((text, PROBLEM))
        elif needed > 1:
            lines.append((_("✓ Enough people are named for what was lifted"), PLAIN))
        other = any(one.why == OTHER_REASON for one in place_looks(house, look))
        if other and not look.noted:
            lines.append((_("Write the other reason into the note."), PROBLEM))
        return lines

    def _finds(self, draft: Draft) -> list[Said]:
        places = place_looks(self._context.hotel.house, draft.look)
        found = tuple(one for one in places if one.state is PlaceState.FOUND)
        if not found:
            return []
        asked = (draft.key, found, draft.look.found_at, len(self._context.hotel.house.entries))
        if self._foretold is None or self._foretold[0] != asked:
            self._foretold = (asked, self._foretell(draft))
        return list(self._foretold[1])

    def _foretell(self, draft: Draft) -> tuple[Said, ...]:
        hotel = self._context.hotel
        heading = (_("Saving this sets going"), HEADING)
        try:
            going: SetGoing = preview_finds(hotel, draft.look, corrects=draft.corrects)
        except Refusal as refusal:
            return (heading, (" ".join(refusal_sentence(refusal)), PROBLEM))
        lines = going_lines(going, draft.look.room, hotel.zone)
        return (heading, *((line, PLAIN) for line in lines))
