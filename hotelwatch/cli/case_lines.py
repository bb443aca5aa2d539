"""A case as lines: where it stands, what was seen, who is to be checked, what is next."""

from __future__ import annotations

import click

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import SpecimenNoted
from hotelwatch.core.cases.case import Case, case_of
from hotelwatch.core.cases.desk_duties import what_is_next_in
from hotelwatch.core.cases.release import missing_for_release
from hotelwatch.core.cases.steps import NOTHING_OPEN, Step
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import neighbour_reasons
from hotelwatch.wording.steps import deadline_text, missing_sentence, step_sentence
from hotelwatch.wording.story import sighting_sentence
from hotelwatch.wording.story_facts import fact_line


def say_case(hotel: OpenHotel, number: CaseNo) -> None:
    """Print a case: its stage and signs, its rooms, who is to be checked and what is next."""
    house, now = hotel.house, hotel.now()
    case = case_of(house, number)
    click.echo(
        _("Case {case}, room {room}: {stage}. Evidence: {evidence}.").format(
            case=case.no, room=case.room, stage=label(case.stage), evidence=label(case.evidence)
        )
    )
    for sighted in case.sightings:
        at = moment_text(sighted.seen_at, hotel.zone)
        click.echo("  " + _("{moment}: {what}").format(moment=at, what=sighting_sentence(sighted)))
    if photos := len(case.photos):
        click.echo(
            "  " + ngettext("{n} photo is kept.", "{n} photos are kept.", photos).format(n=photos)
        )
    specimens = (row.fact for row in house.kept_of_case(SpecimenNoted, number))
    for noted in {fact.label: fact for fact in specimens}.values():
        click.echo(f"  {fact_line(noted, hotel.zone)}")
    if case.quarantined:
        click.echo("  " + _("In quarantine: {rooms}").format(rooms=", ".join(case.quarantined)))
    _say_asked(hotel, case)
    found = what_is_next_in(house, hotel.occupancy(), number, now)
    for step in [duty.step for duty in found] or [Step(NOTHING_OPEN)]:
        said = step_sentence(step, hotel.zone)
        deadline = deadline_text(step, hotel.zone, now=now)
        line = _("Next: {step}").format(step=said)
        click.echo(f"  {line} ({deadline})" if deadline else f"  {line}")


def _say_asked(hotel: OpenHotel, case: Case) -> None:
    for state in case.asked:
        if not state.is_open:
            continue
        line = _("Check {room} by {moment}: {reasons}").format(
            room=state.asked.room,
            moment=moment_text(state.asked.by_at, hotel.zone),
            reasons=neighbour_reasons(state.asked.reasons, source=state.asked.source or case.room),
        )
        late = _(" (late)") if state.is_late(hotel.now()) else ""
        click.echo(f"  {line}{late}")


def say_missing(hotel: OpenHotel, case: CaseNo, room: RoomNo) -> None:
    """Print each condition that a room does not yet meet before it is given back."""
    for missing in missing_for_release(hotel.house, case, room, now=hotel.now()):
        click.echo("  " + missing_sentence(missing, hotel.zone), err=True)
