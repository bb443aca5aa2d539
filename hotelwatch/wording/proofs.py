"""How good a plan is, in words: what it reaches, what no plan could, and what a hand costs."""

from __future__ import annotations

from hotelwatch.core.rounds.plan import Proof
from hotelwatch.wording.dates import minutes_text
from hotelwatch.wording.language import _, join, ngettext


def proof_sentences(proof: Proof) -> tuple[str, ...]:
    """What a plan reaches, what is proven of it, its ways, and what it keeps of the published."""
    said = [_overdue(proof)] if proof.overdue_bed_days or not proof.outside else []
    if proof.outside:
        said.append(outside_sentence(proof.outside))
    if proof.was_stopped:
        said.append(_("Stopped early: this is the best plan found until then."))
    said.append(_("Walking to corridors: {time}.").format(time=minutes_text(proof.walking_minutes)))
    if proof.kept or proof.moved:
        still = proof.kept + proof.moved
        said.append(
            ngettext(
                "Of {still} published visit that is still possible {moved} moved to another day.",
                "Of {still} published visits that are still possible {moved} moved to another day.",
                still,
            ).format(still=still, moved=proof.moved)
        )
    return tuple(said)


def proof_terms() -> tuple[str, ...]:
    """What the words of these sentences mean, a sentence for each."""
    return (
        _(
            "A late day: one bed, one day longer without a look than its cycle allows."
            " Counted within the days planned."
        ),
        _(
            "Proven: with these bookings, teams and minutes no plan goes below that number. A plan"
            " may stay above it, since it also spares minutes for beds that come due later."
        ),
        _("Fixed visits keep their day once published. The whole of the first day is fixed."),
        _("Likely visits fill the other days; each morning settles its own."),
    )


def hand_price_sentence(choices: int, *, with_hand: Proof, without: Proof) -> str:
    """What a supervisor's pins and forbidden days cost in the days planned."""
    yours = ngettext("Your choice by hand", "Your {n} choices by hand", choices).format(n=choices)
    beds = with_hand.overdue_bed_days - without.overdue_bed_days
    ways = with_hand.walking_minutes - without.walking_minutes
    costs = [*_bed_days(max(0, beds)), *_ways(max(0, ways))]
    saves = [*_bed_days(max(0, -beds)), *_ways(max(0, -ways))]
    if costs and saves:
        return _("{choices}: {costs} more, {saves} less in these days.").format(
            choices=yours, costs=join(costs), saves=join(saves)
        )
    if costs:
        return ngettext("{choices} costs {costs}.", "{choices} cost {costs}.", choices).format(
            choices=yours, costs=join(costs)
        )
    if saves:
        return ngettext(
            "{choices} saves {saves} in these days; without it the plan spares minutes for "
            "later ones.",
            "{choices} save {saves} in these days; without them the plan spares minutes for "
            "later ones.",
            choices,
        ).format(choices=yours, saves=join(saves))
    return ngettext("{choices} costs nothing.", "{choices} cost nothing.", choices).format(
        choices=yours
    )


def odds_weigh_sentence() -> str:
    """That a plan goes by the odds too, where the hotel chose so."""
    return _(
        "Where minutes are short, rooms in which a look saves most go first: House rules say so."
        " These odds are assumed."
    )


def bed_days_text(bed_days: int) -> str:
    """Days by which beds are late, with their unit: "2 late days"."""
    return ngettext("{n} late day", "{n} late days", bed_days).format(n=bed_days)


def outside_sentence(bed_days: int) -> str:
    """Late days of beds that stand on no sheet whatever the minutes."""
    return ngettext(
        "{n} late day of beds that no team of these days may or can look at.",
        "{n} late days of beds that no team of these days may or can look at.",
        bed_days,
    ).format(n=bed_days)


def _overdue(proof: Proof) -> str:
    reached = bed_days_text(proof.overdue_bed_days)
    if not proof.overdue_bed_days:
        return _("No bed is overdue on any of these days, as planned.")
    if proof.is_least:
        return _("{reached}. Proven: no plan has fewer.").format(reached=reached)
    return _("{reached}. Proven: no plan has fewer than {fewest}.").format(
        reached=reached, fewest=proof.fewest
    )


def _bed_days(number: int) -> list[str]:
    return [bed_days_text(number)] if number else []


def _ways(minutes: int) -> list[str]:
    if not minutes:
        return []
    return [_("{time} of walking").format(time=minutes_text(minutes))]
