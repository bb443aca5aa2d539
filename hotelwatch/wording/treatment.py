"""Treatment in words: what to look at twice, and how preparation and bedding were left.

No product, dose or home remedy is named here: treatment is licensed work.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, tzinfo
from typing import Any

from hotelwatch.core.cases.treatment import Doubt
from hotelwatch.core.treatment_facts import (
    CareDone,
    FirmDescribed,
    ItemDiscarded,
    PaperKept,
    ProbeLogKept,
    TreatmentOrdered,
    TreatmentRecorded,
)
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label

DIGEST_SHOWN = 16
"""So many signs of a digest tell one file from another on screen and paper."""
PREPARATION = {
    "done": m("Done as the firm wrote"),
    "partly": m("Done in part"),
    "not_done": m("Not done"),
}
BEDDING = {
    "washed": m("Washed"),
    "replaced": m("Replaced"),
    "left": m("Left as it was"),
}
DOUBTS: Mapping[str, str] = {
    "not_confirmed": m(
        "Treated before a competent person confirmed the case: on a qualified professional's"
        " judgement?"
    ),
    "licence_expired": m("The licence of {firm} ran out on {expired_on}; treated on {on}."),
    "firm_unknown": m("{firm} is not among the licensed firms written down."),
    "licence_differs": m("{firm}: licence {licence} in the report, {known} on record."),
    "not_prepared": m("{room}, {on}: preparation {how}."),
    "bedding_left": m(
        "{room}, {on}: bedding was left as it was. Ask the firm whether it may be used."
    ),
    "areas_unsaid": m("{room}, {on}: the report does not say which parts were treated."),
    "heat_without_log": m("{room}, {on}: heat without a log of probes; nobody can tell its dose."),
    "log_short": m("{room}: log {log} does not show the dose asked for."),
    "care_short": m(
        "{room}: {step} at {celsius:g} °C for {minutes} minutes is less than the published wash"
        " (60 °C) or hot dryer (above 40 °C, 30 minutes)."
    ),
}


def doubt_sentence(doubt: Doubt) -> str:
    """What to look at twice."""
    said: dict[str, Any] = {}
    for key, value in doubt.values.items():
        if isinstance(value, date):
            said[key] = day_text(value)
        elif key == "how":
            said[key] = _(PREPARATION[value]).lower()
        elif key == "step":
            said[key] = label(value).lower()
        else:
            said[key] = value
    return _(DOUBTS[doubt.code]).format(**said)


def heat_caution() -> str:
    """What staff keep to while a room is heated, and after."""
    return _(
        "Nobody of the staff is in a room under heat; it is entered again after it has cooled, on"
        " the firm's word."
    )


def treated_sentence(treated: TreatmentRecorded, zone: tzinfo) -> str:
    """Licensed work in a room, with all that the firm reported of it."""
    said = [
        _(
            "{on}, {room}: {method}, by {firm} (licence {licence}). Nobody enters before {moment}."
        ).format(
            on=day_text(treated.treated_on),
            room=treated.room,
            method=treated.method,
            firm=treated.firm,
            licence=treated.licence,
            moment=moment_text(treated.reenter_at, zone),
        )
    ]
    named = (
        (_("Technician: {told}."), treated.technician),
        (_("Product as reported: {told}."), treated.product),
        (_("Registration as reported: {told}."), treated.registration_no),
        (_("Amount as reported: {told}."), treated.amount),
        (_("Parts treated: {told}."), join(treated.areas)),
        (_("Preparation: {told}."), _code_of(PREPARATION, treated.preparation)),
        (_("Bedding: {told}."), _code_of(BEDDING, treated.bedding)),
        (_("Receipt number: {told}."), treated.receipt_no),
        ("{told}", treated.noted),
    )
    said += [text.format(told=told) for text, told in named if told]
    return " ".join(said)


def order_sentence(ordered: TreatmentOrdered, zone: tzinfo) -> str:
    """A visit ordered, with what the firm wrote is to be prepared."""
    said = _("{firm} to {rooms}, {moment}; ordered by {who}.").format(
        firm=ordered.firm,
        rooms=join(ordered.rooms),
        moment=moment_text(ordered.for_at, zone),
        who=ordered.ordered_by,
    )
    if not ordered.preparation:
        return said
    to_do = _("To be prepared, as the firm wrote: {told}").format(told=ordered.preparation)
    return f"{said} {to_do}"


def firm_sentence(firm: FirmDescribed) -> str:
    """A licensed firm in a line."""
    said = _("{firm}, licence {licence}").format(firm=firm.firm, licence=firm.licence)
    if firm.expires_on is not None:
        said = _("{firm}, runs out {on}").format(firm=said, on=day_text(firm.expires_on))
    return f"{said}; {firm.scope}" if firm.scope else said


def care_sentence(care: CareDone, zone: tzinfo) -> str:
    """What was done with luggage, linen or tools of a room."""
    said = _("{step} of {room}, {moment}, by {who}.").format(
        step=label(care.step), room=care.room, moment=moment_text(care.done_at, zone), who=care.by
    )
    if care.celsius or care.minutes:
        heat = _("{celsius:g} °C, {minutes} minutes.")
        said += " " + heat.format(celsius=care.celsius, minutes=care.minutes)
    return f"{said} {care.noted}" if care.noted else said


def discarded_sentence(item: ItemDiscarded) -> str:
    """A thing thrown away, and whether anybody could still use it."""
    values = {
        "what": item.what,
        "room": item.room,
        "on": day_text(item.discarded_on),
        "who": item.by,
    }
    if item.is_unusable and item.is_labelled:
        text = _("{what} of {room} thrown away {on} by {who}, unusable and labelled.")
    elif item.is_unusable:
        text = _("{what} of {room} thrown away {on} by {who}, unusable, without a label.")
    elif item.is_labelled:
        text = _("{what} of {room} thrown away {on} by {who}, labelled, but it can still be used.")
    else:
        text = _("{what} of {room} thrown away {on} by {who}: it can still be used, by anyone.")
    return text.format(**values)


def log_name(kept: ProbeLogKept) -> str:
    """A log as a choice of its case."""
    return _("{log}: room {room}, {on}, {file}").format(
        log=kept.log, room=kept.room, on=day_text(kept.treated_on), file=kept.file_name
    )


def paper_sentence(kept: PaperKept) -> str:
    """A paper kept with a case: what it is, its file, the digest's beginning."""
    return _("{what} kept: {file}, SHA-256 {digest}…").format(
        what=label(kept.what), file=kept.file_name, digest=kept.sha256[:DIGEST_SHOWN]
    )


def _code_of(table: Mapping[str, str], code: str) -> str:
    return _(table[code]).lower() if code else ""
