"""What guests and front desk answered when they were asked, in words."""

from __future__ import annotations

from hotelwatch.core.stays.agreed import DeclinedVisit
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _


def declined_text(declined: DeclinedVisit) -> str:
    """That a guest said no, and what that leaves."""
    return _("declined on {day}; remains due").format(day=short_day_text(declined.on))


def declined_hint(declined: DeclinedVisit) -> str:
    """The same with who asked, and what is not for this program to say."""
    return _("{who} asked on {day}, and the guest said no. {law}").format(
        who=declined.declined_to, day=short_day_text(declined.on), law=law_sentence()
    )


def law_sentence() -> str:
    """That nothing is forced on a guest here, and who decides otherwise."""
    return _(
        "Whether anybody may go in without the guest's yes is for local law and the hotel's terms."
    )


def with_note(said: str, note: str) -> str:
    """An answer with front desk's note to it, if there is one."""
    return _("{said}: {note}").format(said=said, note=note) if note else said
