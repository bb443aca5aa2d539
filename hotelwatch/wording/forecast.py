"""How likely a window is to be open, in words: what leans on it, and what it falls back to."""

from __future__ import annotations

from hotelwatch.core.rounds.leaning import Fallback
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, ngettext

IN_ALL = 10


def chance_text(chance: float) -> str:
    """A chance in tenths, never as certain: "about 7 in 10"."""
    tenths = round(chance * IN_ALL)
    if tenths <= 0:
        return _("less than 1 in 10")
    if tenths >= IN_ALL:
        return _("more than 9 in 10")
    return _("about {tenths} in 10").format(tenths=tenths)


def leaning_sentence(chance: float, *, nights: int) -> str:
    """What a visit leans on; ``nights`` are those of the hotel that it was learned from."""
    said = _("Counts on the room being empty that day, with a chance of {chance}").format(
        chance=chance_text(chance)
    )
    if nights:
        source = ngettext(
            "learned from this hotel's last night",
            "learned from this hotel's last {nights} nights",
            nights,
        ).format(nights=nights)
    else:
        source = _("assumed: this hotel's own nights are not known yet")
    return _("{statement} ({source}).").format(statement=said, source=source)


def fallback_sentence(fallback: Fallback | None) -> str:
    """What is left if the window closes, or what would be sure; it may be two sentences."""
    if fallback is None:
        return _("If a guest is in it, no other day of this plan is in time and likely to do.")
    if fallback.is_later:
        said = _("If a guest is in it, {day} is likely to do.")
    else:
        said = _(
            "No later day of this plan is in time and likely to do; to be sure, move it to {day}."
        )
    said = said.format(day=short_day_text(fallback.on))
    if fallback.has_minutes:
        return said
    return " ".join((said, _("Another visit of that day would have to give way.")))
