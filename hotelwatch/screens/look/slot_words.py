"""How pages show a slot: why it is there, how far it is, and the tints that go with it."""

from __future__ import annotations

from hotelwatch.core.checks.slots import SlotRow, SlotState
from hotelwatch.core.stays.openings import Opening, OpeningKind
from hotelwatch.screens.look.theme import Tone
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import pull_sentence

STATE_TONES = {
    SlotState.LOOKED_AT: Tone.DONE,
    SlotState.WITH_GAPS: Tone.DUE,
    SlotState.IN_VAIN: Tone.DUE,
    SlotState.IN_QUARANTINE: Tone.QUARANTINE,
    SlotState.GUEST_STAYS: Tone.DUE,
    SlotState.TOO_SOON: Tone.DUE,
    SlotState.TO_DO: None,
}
STATE_SIGNS = {SlotState.LOOKED_AT: "✓", SlotState.WITH_GAPS: "✓"}


def opening_short(opening: Opening | None) -> str:
    """When a room can be entered, as short as a table wants it: "11:00 to 15:00"."""
    if opening is None:
        return _("guest stays")
    return {
        OpeningKind.ALL_DAY: _("all day"),
        OpeningKind.AFTER_DEPARTURE: _("from {from_clock}"),
        OpeningKind.BEFORE_ARRIVAL: _("until {until_clock}"),
        OpeningKind.TURNOVER: _("{from_clock} to {until_clock}"),
        OpeningKind.ARRANGED: _("{from_clock} to {until_clock}, agreed"),
        OpeningKind.AFTER_REENTRY: _("{from_clock} to {until_clock}, treated"),
    }[opening.kind].format(from_clock=opening.from_clock, until_clock=opening.until_clock)


def state_text(row: SlotRow) -> str:
    """How far a slot is: "✓ Looked at", "To do"."""
    return f"{STATE_SIGNS.get(row.state, '')} {label(row.state)}".strip()


def state_tone(row: SlotRow) -> Tone | None:
    """The tint of how far it is."""
    return STATE_TONES[row.state]


def work_text(row: SlotRow) -> str:
    """How much there is to do: "2 beds, 27 min"."""
    beds = ngettext("{n} bed", "{n} beds", len(row.beds)).format(n=len(row.beds))
    return _("{beds}, {time}").format(beds=beds, time=minutes_text(row.minutes))


def why_text(row: SlotRow) -> str:
    """Why a room stands on a sheet: a case asks for it, or it is due, maybe before its cycle."""
    if row.asked_by:
        if row.due_on is None or row.is_done:
            return _("Case {case}").format(case=row.asked_by)
        said = _("Late: case {case}, by {day}") if row.is_late else _("Case {case}, by {day}")
        return said.format(case=row.asked_by, day=short_day_text(row.due_on))
    if row.is_done or row.due_on is None:
        return _("Cycle")
    if row.is_again:
        said = _("Again, late: due by {day}") if row.is_late else _("Again, due by {day}")
        return said.format(day=short_day_text(row.due_on))
    if row.sooner is not None:
        said = _("Late: {why}, by {day}") if row.is_late else _("{why}: by {day}")
        return said.format(why=label(row.sooner.why), day=short_day_text(row.due_on))
    said = _("Late: due by {day}") if row.is_late else _("Due by {day}")
    return said.format(day=short_day_text(row.due_on))


def why_in_full(row: SlotRow) -> str:
    """The same, and what brought the day forward if something did."""
    said = why_text(row)
    return said if row.sooner is None else f"{said}. {pull_sentence(row.sooner)}"


def why_tone(row: SlotRow) -> Tone | None:
    """The tint of why: late before asked."""
    if row.is_late:
        return Tone.LATE
    return Tone.ASKED if row.asked_by else None
