"""Lines of a case's story about its release: the word given, traps read, the closing."""

from __future__ import annotations

from hotelwatch.core.case_facts import CaseClosed, NoticeGiven
from hotelwatch.core.treatment_facts import MonitorRead
from hotelwatch.wording.language import _, ngettext


def release_line(fact: NoticeGiven | MonitorRead | CaseClosed) -> str:
    """A line of the story, without its day."""
    if isinstance(fact, NoticeGiven):
        return _word(fact)
    return _read(fact) if isinstance(fact, MonitorRead) else _closed(fact)


def _word(fact: NoticeGiven) -> str:
    if fact.room:
        said = _("{who} gave the word that {room} may be let.")
    else:
        said = _("{who} gave the word that the case's rooms may be let.")
    said = said.format(who=fact.to, room=fact.room)
    if not fact.receipt:
        return said
    return _("{said} Receipt: {receipt}.").format(said=said, receipt=fact.receipt)


def _read(fact: MonitorRead) -> str:
    told = {"monitor": fact.monitor, "room": fact.room, "who": fact.by}
    if not fact.caught:
        return _("Trap {monitor} in {room} was empty, which is no proof. Read by {who}.").format(
            **told
        )
    return ngettext(
        "Trap {monitor} in {room} had caught {n}. Read by {who}.",
        "Trap {monitor} in {room} had caught {n}. Read by {who}.",
        fact.caught,
    ).format(n=fact.caught, **told)


def _closed(fact: CaseClosed) -> str:
    if fact.conditions_met:
        return _("Closed by {who}: the watch was over.").format(who=fact.by)
    return _("Closed by {who} before the watch was over: {reason}").format(
        who=fact.by, reason=fact.reason
    )
