"""The core's reasons as sentences: neighbours, openings, what was left out, what comes next."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from hotelwatch.core.checks.sooner import Pull
from hotelwatch.core.stays.openings import Opening
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.sheet_reasons import NEIGHBOUR_SHORT, OPENING, STAYS

WHY_NOT = {
    "no_opening": m("The same guests stay in {room} through all of these days."),
    "nobody_then": m(
        "{room} can be entered only while no team is at work. Change a team's days or its shift."
    ),
    "forbidden": m(
        "{room} can be entered only on days that it was kept off by hand. Allow one of them again."
    ),
    "in_quarantine": m("{room} is in quarantine; only its case's checks are made there."),
    "no_minutes": m("On the days when {room} can be entered, the teams' minutes are used up."),
    "pinned": m(
        "{room} is pinned to a day or a team that can't take it. Unpin it, or pin it anew."
    ),
    "pinned_full": m(
        "{room} is pinned to a day or a team, and others take its minutes there. Unpin it, or let"
        " another room go."
    ),
    "no_team": m(
        "No team with enough people for {room} works on these days."
        " Change a team's people or its days."
    ),
    "too_long": m(
        "{room}: one bed with set-up needs more minutes than any team has in a day."
        " Give a team more minutes."
    ),
    "hours_too_short": m(
        "{room} can be entered, but not for as long as its look takes. Agree on longer hours."
    ),
    "too_early": m(
        "{room} can be entered only so soon after its last look that plans leave it alone. Pin it"
        " to such a day to have it looked at all the same."
    ),
    "not_again": m(
        "{room} comes due again after its planned look, and on the days then on which it can be"
        " entered the teams' minutes are used up."
    ),
    "shut_again": m(
        "{room} comes due again after its planned look, and on none of the days then can a team"
        " enter it."
    ),
}

PULL = {
    "vacant_long": m("Vacant since {since}; to be looked at before its guest of {arrival} comes."),
    "furniture_moved": m("Moved between it and {other} on {moved_on}: {what}."),
}
VACANT_LATER = m("Vacant from {from_on}; to be looked at before its guest of {arrival} comes.")

PULL_DAYS = frozenset({"since", "from_on", "arrival", "moved_on"})
"""Values of a pull that are days."""

STAGE = {
    "suspected": m("A sign was seen or reported; nobody competent has judged it yet."),
    "confirmed": m("A competent person confirmed bed bugs; treatment is wanted."),
    "in_treatment": m("Licensed treatment was recorded; nobody has looked since."),
    "under_follow_up": m("Treated, and looked at again since; not given back yet."),
    "ruled_out": m("A competent person judged that it was not a bed bug."),
    "undetermined": m("A competent person could not determine what it was."),
    "released": m(
        "The rooms were given back and are watched. That is no proof that nothing is there."
    ),
    "closed": m("The case is closed. That is no proof that nothing is there."),
}

EVIDENCE = {
    "strong": m("Strong: a live insect or eggs were seen."),
    "moderate": m("Moderate: cast skins, dark spots or a dead insect were seen."),
    "weak": m("Weak: blood spots, bites or a guest's word alone."),
}


def neighbour_reasons(kinds: Iterable[str], *, source: str) -> str:
    """Every way to be a neighbour in one row: "shares a wall with 101 and above 101"."""
    return join([_said(NEIGHBOUR_SHORT, kind, source=source) for kind in kinds])


def why_not_sentence(why: str, *, room: str, beds: Sequence[str] = ()) -> str:
    """Why a room that is due stands on no sheet; or ``beds`` of it, where others are planned."""
    said = _said(WHY_NOT, why, room=room)
    if not beds:
        return said
    return _("{why} Its other beds are planned; left out: {beds}.").format(
        why=said, beds=join(list(beds))
    )


def opening_text(opening: Opening | None) -> str:
    """When a room can be entered, to follow its label: "between 11:00 and 15:00"."""
    if opening is None:
        return _(STAYS)
    clocks = {"from_clock": opening.from_clock, "until_clock": opening.until_clock}
    return _said(OPENING, opening.kind, **clocks)


def pull_sentence(pull: Pull) -> str:
    """Why a room is wanted earlier than its cycle; the room is named beside it."""
    said = {
        key: short_day_text(date.fromisoformat(value)) if key in PULL_DAYS else value
        for key, value in pull.values.items()
    }
    if "from_on" in said:
        return _(VACANT_LATER).format(**said)
    return _said(PULL, pull.why, **said)


def stage_sentence(stage: str) -> str:
    """What a case's stage means."""
    return _said(STAGE, stage)


def evidence_sentence(evidence: str) -> str:
    """How much a case's signs say."""
    return _said(EVIDENCE, evidence)


def _said(table: dict[str, str], code: str, **values: str) -> str:
    return _(table[code]).format(**values) if code in table else label(str(code))
