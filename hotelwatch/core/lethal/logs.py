"""Logs of probes that a case keeps, and what each shows by the hotel's own figures."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from hotelwatch.core.facts import CaseNo
from hotelwatch.core.house import House
from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.lethal.probes import Probe
from hotelwatch.core.lethal.verdict import COMMON, LogVerdict, verdict_of
from hotelwatch.core.treatment_facts import ProbeLogKept, ProbeRead


@dataclass(frozen=True, slots=True)
class KeptLog:
    """A log with its probes and what it shows."""

    kept: ProbeLogKept
    probes: tuple[Probe, ...]
    verdict: LogVerdict
    entry: int


def logs_of_case(house: House, case: CaseNo) -> tuple[KeptLog, ...]:
    """The logs of a case, in the order written down."""
    read: defaultdict[tuple[int, str], list[Probe]] = defaultdict(list)
    for row in house.kept_of_case(ProbeRead, case):
        fact = row.fact
        probe = Probe(fact.probe, fact.place, fact.begins_at, fact.minutes, fact.celsius)
        read[row.entry, fact.log].append(probe)
    return tuple(
        _log(house, row.fact, tuple(read[row.entry, row.fact.log]), row.entry)
        for row in house.kept_of_case(ProbeLogKept, case)
    )


def next_log_label(house: House, case: CaseNo) -> str:
    """The label of the next log of a case: "1", "2" …; never one that was given."""
    return str(len(house.kept_of_case(ProbeLogKept, case)) + 1)


def species_of(house: House) -> str:
    """The species that the hotel said it deals with; the common one if it said nothing."""
    return house.choices.get("species", COMMON)


def shown_by(house: House, probes: Sequence[Probe], method: Method) -> LogVerdict:
    """What probes would show by the hotel's own figures and species."""
    figures = house.rules.figures
    return verdict_of(probes, figures, method=method, species=species_of(house))


def _log(house: House, kept: ProbeLogKept, probes: tuple[Probe, ...], entry: int) -> KeptLog:
    return KeptLog(kept, probes, shown_by(house, probes, Method(kept.method)), entry)
