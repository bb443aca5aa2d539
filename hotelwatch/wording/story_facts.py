"""Lines of a case's story about specimens, word given, orders, logs, papers, care, joins, moves."""

from __future__ import annotations

from datetime import tzinfo

from hotelwatch.core.case_facts import (
    CaseEntryMoved,
    CasesJoined,
    GuestMoved,
    NoticeGiven,
    OwnerNamed,
    SpecimenNoted,
)
from hotelwatch.core.facts import Fact
from hotelwatch.core.treatment_facts import (
    CareDone,
    ItemDiscarded,
    PaperKept,
    ProbeLogKept,
    TreatmentOrdered,
)
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label
from hotelwatch.wording.notices import NOTICE_NAMES
from hotelwatch.wording.treatment import paper_sentence


def fact_line(fact: Fact, zone: tzinfo | str) -> str:
    """A fact as a line of the story, without its day."""
    if isinstance(fact, TreatmentOrdered):
        return _ordered(fact, zone)
    if isinstance(fact, CareDone):
        return _care(fact)
    if isinstance(fact, ItemDiscarded):
        return _discarded(fact)
    return _moved(fact) or _told(fact)


def _told(fact: Fact) -> str:
    if isinstance(fact, SpecimenNoted):
        return _("Specimen {label} of {room}: {step}, {where}, by {who}.").format(
            label=fact.label,
            room=fact.room,
            step=label(fact.step).lower(),
            where=fact.where,
            who=fact.by,
        )
    if isinstance(fact, NoticeGiven):
        name = NOTICE_NAMES.get(fact.notice)
        said = _("{notice}: {to} was told by {who}.").format(
            notice=_(name) if name else label(fact.notice), to=fact.to, who=fact.by
        )
        receipt = _("Receipt: {receipt}.").format(receipt=fact.receipt) if fact.receipt else ""
        return f"{said} {receipt}".strip()
    if isinstance(fact, OwnerNamed):
        if not fact.owner:
            return _("Nobody is named any more for: {duty}.").format(duty=label(fact.duty).lower())
        return _("{who} sees to: {duty}.").format(who=fact.owner, duty=label(fact.duty).lower())
    if isinstance(fact, ProbeLogKept):
        return _("Log {log} of {method} in {room} kept: {file}.").format(
            log=fact.log, method=label(fact.method).lower(), room=fact.room, file=fact.file_name
        )
    if isinstance(fact, PaperKept):
        return paper_sentence(fact)
    return ""


def _moved(fact: Fact) -> str:
    if isinstance(fact, CasesJoined):
        return _("Case {other} goes into this one: {reason}").format(
            other=fact.from_case, reason=fact.reason
        )
    if isinstance(fact, CaseEntryMoved):
        return _("Split: entry {entry} goes from case {one} to case {other}: {reason}").format(
            entry=fact.number, one=fact.from_case, other=fact.into_case, reason=fact.reason
        )
    if isinstance(fact, GuestMoved):
        return _("Guests moved from {one} to {other}.").format(
            one=fact.from_room, other=fact.to_room
        )
    return ""


def _ordered(fact: TreatmentOrdered, zone: tzinfo | str) -> str:
    said = _("{firm} ordered for {rooms}, to come {moment}.").format(
        firm=fact.firm, rooms=join(list(fact.rooms)), moment=moment_text(fact.for_at, zone)
    )
    return f"{said} “{fact.preparation}”" if fact.preparation else said


def _care(fact: CareDone) -> str:
    said = _("{what} of {room} taken care of by {who}.").format(
        what=label(fact.step), room=fact.room, who=fact.by
    )
    if fact.celsius or fact.minutes:
        measured = _("{celsius:g} °C, {minutes} minutes.").format(
            celsius=fact.celsius, minutes=fact.minutes
        )
        said = f"{said} {measured}"
    return f"{said} “{fact.noted}”" if fact.noted else said


def _discarded(fact: ItemDiscarded) -> str:
    said = _("{what} of {room} thrown away by {who}.").format(
        what=fact.what, room=fact.room, who=fact.by
    )
    marks = [
        text
        for text, is_so in (
            (_("made unusable"), fact.is_unusable),
            (_("wrapped and labelled"), fact.is_labelled),
        )
        if is_so
    ]
    return f"{said} {join(marks).capitalize()}." if marks else said
