"""Treatment in words: what to look at twice, and how preparation and bedding were left.

No product, dose or home remedy is named here: treatment is licensed work.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from hotelwatch.core.cases.treatment import Doubt
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label

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
    "not_prepared": m("{room}: preparation {how}."),
    "bedding_left": m("{room}: bedding was left as it was. Ask the firm whether it may be used."),
    "areas_unsaid": m("{room}: the report does not say which parts of the room were treated."),
    "heat_without_log": m("{room}: heat without a log of probes; nobody can tell its dose."),
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
