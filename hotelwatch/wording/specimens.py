"""What stands on a specimen's label: where it was found, and the boxes of its way."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from hotelwatch.core.case_facts import SpecimenNoted, SpecimenStep
from hotelwatch.core.cases.specimens import Specimen
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label, place_label

CHAIN = {
    SpecimenStep.KEPT: m("Kept at"),
    SpecimenStep.SENT: m("Sent to"),
    SpecimenStep.RETURNED: m("Back at"),
}
"""Discarding ends a specimen's way; its label goes with it."""


def found_lines(specimen: Specimen, zone: tzinfo) -> Iterator[tuple[str, str]]:
    """Place, moment and finder; what nobody said is empty, to be written by hand."""
    where = place_label(specimen.place) if specimen.place else ""
    if where and specimen.bed:
        where = _("bed {bed}, {place}").format(bed=specimen.bed, place=where)
    yield _("Place"), where
    yield _("Found"), moment_text(specimen.found_at, zone)
    yield _("Found by"), specimen.found_by


def chain_lines(specimen: Specimen, zone: tzinfo) -> Iterator[tuple[str, str, bool]]:
    """The boxes of its way: title, what is known of it, whether it is done."""
    for step, title in CHAIN.items():
        noted = specimen.steps.get(step)
        yield _(title), _step_text(noted, zone) if noted else "", noted is not None
    judged = specimen.judged
    said = ""
    if judged is not None:
        said = _("{outcome}, {who}, {day}").format(
            outcome=label(judged.outcome), who=judged.judged_by, day=day_text(judged.judged_on)
        )
    yield _("Result, by whom"), said, judged is not None


def _step_text(noted: SpecimenNoted, zone: tzinfo) -> str:
    moment = moment_text(noted.at, zone)
    return _("{where}, {moment}, {who}").format(where=noted.where, moment=moment, who=noted.by)
