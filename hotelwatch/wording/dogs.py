"""What is said of dogs' visits: what an alert is worth, what became of it, who was where."""

from __future__ import annotations

from hotelwatch.core.checks.dogs import Alert, AlertRow, VisitRow, alert_is_right, silence_is_right
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figure
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label

IN_A_HUNDRED = 0.01
EVEN = 0.5


def dog_rule() -> str:
    """How an alert and how silence count."""
    return _(
        "An alert is a place to look at, no find, and silence is no look: neither counts as one."
        " An alert asks for a look at its room and stays open until somebody has looked."
    )


def dog_trial_text(detection: Figure, false_positive: Figure) -> str:
    """What the published trial found, with its source."""
    return _(
        "Published, in homes, not hotels: dogs alerted in {found} % of infested ones ({found_low}"
        " to {found_high} % by team) and in {false} % of others ({false_low} to {false_high} %),"
        " whatever the team's certificate ({source})."
    ).format(
        found=_percent(detection.value),
        found_low=_percent(detection.low),
        found_high=_percent(detection.high),
        false=_percent(false_positive.value),
        false_low=_percent(false_positive.low),
        false_high=_percent(false_positive.high),
        source=detection.source,
    )


def dog_worth_text(house: House) -> str:
    """What that makes of an alert and of silence, in a hotel and in a suspected room."""
    return _(
        "So where 1 of 100 rooms is infested, {few:.1f} of 100 alerts are right, and {quiet:.1f}"
        " of 100 silent rooms are without; in a room suspected half and half, {half:.0f} of 100"
        " alerts. Worked out from the means; nobody measured it in hotels."
    ).format(
        few=100 * alert_is_right(house, IN_A_HUNDRED),
        quiet=100 * silence_is_right(house, IN_A_HUNDRED),
        half=100 * alert_is_right(house, EVEN),
    )


def fate_text(line: AlertRow) -> str:
    """What became of a line's alert."""
    return fate_text_of(line.alert)


def fate_text_of(alert: Alert | None) -> str:
    """What became of an alert; None: there was none."""
    if alert is None:
        return _("No alert; that is no look")
    said = label(alert.fate)
    return _("{fate}, {day}").format(fate=said, day=day_text(alert.on)) if alert.on else said


def firm_text(row: VisitRow) -> str:
    """Who led the dog, and the certification as told."""
    visit = row.visit
    who = join([part for part in (visit.firm, visit.handler) if part])
    told = visit.certified or _("certification not told")
    return _("{who}; {certified}").format(who=who, certified=told)


def visit_sentence(row: VisitRow) -> str:
    """A visit in a sentence."""
    rooms = ngettext("{n} room", "{n} rooms", len(row.visit.rooms)).format(n=len(row.visit.rooms))
    said = _("{day}, {firm}: led through {rooms}.").format(
        day=day_text(row.on), firm=firm_text(row), rooms=rooms
    )
    if not row.alerts:
        return said + " " + _("No alert; that is no look.")
    alerts = ngettext("{n} alert", "{n} alerts", len(row.alerts)).format(n=len(row.alerts))
    return said + " " + _("{alerts}, {open} of them open.").format(alerts=alerts, open=row.open)


def _percent(share: float) -> str:
    return f"{100 * share:.0f}"
