"""What to look at twice in a treatment as reported, and whether linen and tools had their care.

Source: start only on confirmed evidence or a qualified professional's judgement: national
pest management association, best management practices for bed bugs (2011), 2.4. Illness
from treatments came with bedding left unwashed and notice not given: CDC, MMWR 60(37):1269,
2011. Wash and dryer: Naylor and Boase 2010, J Econ Entomol 103:136-139.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from hotelwatch.core.case_facts import Outcome
from hotelwatch.core.cases.case import Case
from hotelwatch.core.checks.asked import judgement_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House
from hotelwatch.core.lethal.logs import KeptLog, logs_of_case
from hotelwatch.core.treatment_facts import (
    CareDone,
    CareStep,
    FirmDescribed,
    PaperKept,
    TreatmentOrdered,
    TreatmentRecorded,
)

LEFT, NOT_DONE, PARTLY = "left", "not_done", "partly"


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something to look at twice, by code with its values.

    "not_confirmed" (case); "licence_expired" (firm, expired_on, on); "firm_unknown"
    (firm); "licence_differs" (firm, licence, known); "not_prepared" (room, how);
    "bedding_left" (room); "areas_unsaid" (room); "heat_without_log" (room);
    "log_short" (room, log); "care_short" (room, step, celsius, minutes).
    """

    code: str
    values: dict[str, Any] = field(default_factory=dict)


def firms(house: House) -> Mapping[str, FirmDescribed]:
    """Firms in use by name, in name order."""
    latest = {fact.firm: fact for fact in house.all_of(FirmDescribed)}
    return {name: firm for name, firm in sorted(latest.items()) if firm.in_use}


def orders_of(house: House, case: CaseNo) -> tuple[TreatmentOrdered, ...]:
    """Visits ordered for a case, in the order written down."""
    return tuple(row.fact for row in house.kept_of_case(TreatmentOrdered, case))


def orders_to_come(house: House, case: Case) -> tuple[TreatmentOrdered, ...]:
    """Visits ordered for a day after the case's last treatment."""
    last = case.treatments[-1].treated_on if case.treatments else None
    ordered = orders_of(house, case.no)
    return tuple(one for one in ordered if last is None or local_day(one.for_at, house.zone) > last)


def papers_of_case(house: House, case: CaseNo) -> tuple[PaperKept, ...]:
    """Papers kept with a case, each file once: two cases that were joined may both have it."""
    once: dict[str, PaperKept] = {}
    for row in house.kept_of_case(PaperKept, case):
        once.setdefault(row.fact.sha256, row.fact)
    return tuple(once.values())


def is_heat(method: str) -> bool:
    """Whether a method's name, as the firm gave it, speaks of heat."""
    said = method.casefold()
    return any(word in said for word in ("heat", "thermal", "hitze", "wärme", "calor", "chaleur"))


def doubts_of(house: House, treated: TreatmentRecorded) -> tuple[Doubt, ...]:
    """What to look at twice in a treatment, as the house knows it."""
    return tuple(_doubts(house, treated))


def doubts_of_case(house: House, case: CaseNo) -> tuple[Doubt, ...]:
    """What to look at twice in all treatments and care of a case."""
    treated = (row.fact for row in house.kept_of_case(TreatmentRecorded, case))
    found = [doubt for fact in treated for doubt in _doubts(house, fact)]
    found += _care(house, case)
    once: list[Doubt] = []
    for doubt in found:
        if doubt not in once:
            once.append(doubt)
    return tuple(once)


def _doubts(house: House, treated: TreatmentRecorded) -> Iterator[Doubt]:
    judged = judgement_of(house, treated.case)
    if judged is None or judged.outcome is not Outcome.CONFIRMED:
        yield Doubt("not_confirmed", {"case": treated.case})
    yield from _licence(house, treated)
    room, on = treated.room, treated.treated_on
    if treated.preparation in (NOT_DONE, PARTLY):
        yield Doubt("not_prepared", {"room": room, "on": on, "how": treated.preparation})
    if not treated.areas:
        yield Doubt("areas_unsaid", {"room": room, "on": on})
    if treated.bedding == LEFT and not is_heat(treated.method):
        yield Doubt("bedding_left", {"room": room, "on": on})
    if is_heat(treated.method):
        yield from _heat(logs_of_case(house, treated.case), treated)


def _licence(house: House, treated: TreatmentRecorded) -> Iterator[Doubt]:
    known = firms(house).get(treated.firm)
    if known is None:
        yield Doubt("firm_unknown", {"firm": treated.firm})
        return
    if known.licence != treated.licence:
        yield Doubt(
            "licence_differs",
            {"firm": treated.firm, "licence": treated.licence, "known": known.licence},
        )
    if known.expires_on is not None and known.expires_on < treated.treated_on:
        yield Doubt(
            "licence_expired",
            {"firm": treated.firm, "expired_on": known.expires_on, "on": treated.treated_on},
        )


def _heat(logs: tuple[KeptLog, ...], treated: TreatmentRecorded) -> Iterator[Doubt]:
    of_it = [
        log
        for log in logs
        if log.kept.room == treated.room and log.kept.treated_on == treated.treated_on
    ]
    if not of_it:
        yield Doubt("heat_without_log", {"room": treated.room, "on": treated.treated_on})
    elif not any(log.verdict.is_reached for log in of_it):
        yield Doubt("log_short", {"room": treated.room, "log": of_it[-1].kept.log})


def _care(house: House, case: CaseNo) -> Iterator[Doubt]:
    """Linen washed or dried less than the published time and heat."""
    figures = house.rules.figures
    for row in house.kept_of_case(CareDone, case):
        care = row.fact
        if care.step is not CareStep.LINEN or not (care.celsius or care.minutes):
            continue
        washed = care.celsius >= figures.wash_celsius.value
        hot = care.celsius > figures.dryer_celsius.value
        dried = hot and care.minutes >= figures.dryer_minutes.value
        if not washed and not dried:
            values = {
                "room": care.room,
                "step": care.step,
                "celsius": care.celsius,
                "minutes": care.minutes,
            }
            yield Doubt("care_short", values)
