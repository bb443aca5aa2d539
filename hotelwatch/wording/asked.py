"""What guests and front desk answered when they were asked, in words."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.core.cases.keep_free import KeepFree
from hotelwatch.core.stays.agreed import AskedNight, DeclinedVisit
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, join


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


def answer_text(night: AskedNight | KeepFree) -> str:
    """Front desk's answer to a night asked for, and that the bookings belie it where they do."""
    if night.is_kept is None:
        return _("not answered yet")
    said = _("kept free, {who}") if night.is_kept else _("not possible, {who}")
    if night.is_sold:
        said = _("kept free, {who}, but sold all the same")
    return with_note(said.format(who=night.answered_by), night.note)


def sold_nights_sentence(nights: Sequence[AskedNight]) -> str:
    """That nights said to be kept free are sold, and what that leaves to do."""
    named = [
        _("{room} on the night of {night}").format(room=one.room, night=short_day_text(one.night))
        for one in nights
    ]
    return _(
        "Kept free by front desk, but sold all the same: {nights}. Speak with front desk; rounds"
        " can't count on it, so plan again."
    ).format(nights=join(named))


def with_note(said: str, note: str) -> str:
    """An answer with front desk's note to it, if there is one."""
    return _("{said}: {note}").format(said=said, note=note) if note else said
