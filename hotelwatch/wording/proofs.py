"""How good a plan is, in words: what it reaches, what no plan could, and what a hand costs."""

from __future__ import annotations

from hotelwatch.core.rounds.plan import Proof
from hotelwatch.wording.dates import minutes_text
from hotelwatch.wording.language import _, ngettext


def proof_sentences(proof: Proof) -> tuple[str, ...]:
    """What a plan reaches, what is proven of it, its ways, and what it keeps of the published."""
    said = [_overdue(proof)] if proof.overdue_bed_days or not proof.outside else []
    if proof.outside:
        said.append(outside_sentence(proof.outside))
    if proof.was_stopped:
        said.append(_("Stopped early: this is the best plan found until then."))
    said.append(_("Walking to corridors: {time}.").format(time=minutes_text(proof.walking_minutes)))
    if proof.again:
        said.append(_again(proof))
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
            "Proven: with these bookings, teams and minutes, and a room's due beds looked at"
            " together, no plan goes below that number. A plan may stay above it, since it also"
            " spares minutes for beds that come due later."
        ),
        _(
            "Fixed visits keep their day once published, unless something more urgent takes their"
            " minutes; what moves is listed. The whole of the first day is fixed."
        ),
        _("Likely visits fill the other days; each morning settles its own."),
    )


def hand_price_sentence(choices: int, *, with_hand: Proof, without: Proof) -> str:
    """What a supervisor's pins and forbidden days cost in the days planned."""
    yours = ngettext("your choice by hand", "your {n} choices by hand", choices).format(n=choices)
    beds, ways = with_hand.overdue_bed_days, with_hand.walking_minutes
    if (beds, ways) == (without.overdue_bed_days, without.walking_minutes):
        return _("Planned without {choices}: as many late days, as much walking.").format(
            choices=yours
        )
    return _("Planned with {choices}: {one}. Planned without: {other}.").format(
        choices=yours, one=_comes_to(with_hand), other=_comes_to(without)
    )


def odds_weigh_sentence() -> str:
    """That a plan goes by the odds too, where the hotel chose so."""
    return _(
        "Where minutes are short, rooms in which a look saves most go first: House rules say so."
        " These odds are assumed."
    )


def again_sentence(rooms: int) -> str:
    """That rooms of short cycles come due once more within the days, which is not reckoned."""
    return ngettext(
        "{n} room comes due once more within these days, which is not counted here.",
        "{n} rooms come due once more within these days, which is not counted here.",
        rooms,
    ).format(n=rooms)


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


def _again(proof: Proof) -> str:
    """Looks that come due once more, and for how many a day in time is found."""
    if proof.again_in_time == proof.again:
        said = ngettext(
            "{n} look comes due again within these days: planned in time, as likely.",
            "{n} looks come due again within these days: planned in time, as likely.",
            proof.again,
        )
    else:
        said = ngettext(
            "{n} look comes due again within these days: not planned in time. Its late days are"
            " not counted above.",
            "{n} looks come due again within these days: {k} planned in time, as likely, {late}"
            " not. Their late days are not counted above.",
            proof.again,
        )
    return said.format(n=proof.again, k=proof.again_in_time, late=proof.again - proof.again_in_time)


def _overdue(proof: Proof) -> str:
    reached = bed_days_text(proof.overdue_bed_days)
    if not proof.overdue_bed_days:
        return _("No bed is overdue on any of these days, as planned.")
    if proof.is_least:
        return _("{reached}. Proven: no plan has fewer.").format(reached=reached)
    return _("{reached}. Proven: no plan has fewer than {fewest}.").format(
        reached=reached, fewest=proof.fewest
    )


def _comes_to(proof: Proof) -> str:
    return _("{late}, {time} of walking").format(
        late=bed_days_text(proof.overdue_bed_days), time=minutes_text(proof.walking_minutes)
    )
