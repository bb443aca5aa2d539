"""What is said of each look at a room, and of a dog led through it."""

from __future__ import annotations

from hotelwatch.core.checks.room_record import LookedAt, RecordRow
from hotelwatch.core.facts import Aid
from hotelwatch.wording.dogs import fate_text_of, firm_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label, place_label


def record_sentence(row: RecordRow) -> str:
    """Everything about a row but its day."""
    parts = [what_text(row), outcome_text(row), who_text(row), times_text(row), aids_text(row)]
    return "; ".join(part for part in parts if part)


def what_text(row: RecordRow) -> str:
    """What kind of look it was, or what the dog did."""
    if isinstance(row, LookedAt):
        return label(row.kind)
    return _("Dog: alert") if row.alert else _("Dog: silent")


def who_text(row: RecordRow) -> str:
    """Who looked, or who led the dog."""
    return join(list(row.by)) if isinstance(row, LookedAt) else firm_text(row.row)


def times_text(row: RecordRow) -> str:
    """From when to when, as far as it was said."""
    if not isinstance(row, LookedAt) or not (row.from_clock or row.until_clock):
        return ""
    if not row.until_clock:
        return _("from {clock}").format(clock=row.from_clock)
    if not row.from_clock:
        return _("until {clock}").format(clock=row.until_clock)
    return _("{begun} to {ended}").format(begun=row.from_clock, ended=row.until_clock)


def aids_text(row: RecordRow) -> str:
    """What was used, as far as it was said."""
    if not isinstance(row, LookedAt):
        return ""
    return join([label(Aid(code)) for code in row.aids])


def outcome_text(row: RecordRow) -> str:
    """What was looked at and found; what became of an alert."""
    if not isinstance(row, LookedAt):
        return fate_text_of(row.alert)
    seen = _("undersides {seen} of {beds}").format(seen=row.undersides, beds=row.beds)
    if not row.found:
        return _("{seen}, nothing found").format(seen=seen)
    found = join([_found(text) for text in row.found])
    return _("{seen}, found: {found}").format(seen=seen, found=found)


def _found(text: str) -> str:
    place, _colon, sign = text.partition(":")
    return _("{sign}, {place}").format(sign=label(sign), place=place_label(place))
