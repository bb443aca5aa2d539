"""What the record shows, in words: counted where it is counted, assumed where it is reckoned.

Never a certainty: few finds prove nothing, and what nobody found is in none of the counts.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from hotelwatch.core.checks.cycle_kept import CycleKept, DayKept
from hotelwatch.core.odds.past.back_rows import (
    FindBack,
    FindGroup,
    FindsInAll,
    GroupOf,
    LeftOver,
    Treatment,
)
from hotelwatch.core.odds_figures import ByStance, OddsRules, Stance
from hotelwatch.wording.dates import day_text, days_text, plain_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import chance_text, known_text, numbers_text, percent_text

if TYPE_CHECKING:
    from hotelwatch.core.cases.cost_years import YearCost

PRICES = ("price_room_night", "price_treatment", "price_guest_find")


# --- is the cycle kept --------------------------------------------------------------------


def kept_lines(kept: CycleKept) -> Iterator[str]:
    """Shares looked at, the late tail, and how many no whole look is on record of."""
    today = kept.today
    if not today.undersides:
        yield _("No bed is on record yet.")
        return
    yield _("Looked at within the last {days}: {count}. Within its own cycle: {own}.").format(
        days=days_text(kept.usual_days),
        count=of_text(today.in_usual, today.undersides),
        own=of_text(today.in_cycle, today.undersides),
    )
    yield _late_text(kept)
    yield never_text(kept)


def of_text(count: int, whole: int) -> str:
    """A count of a whole: "96 of 98 undersides (98 %)"."""
    if not whole:
        return _("–")
    if count in (0, whole):
        return ngettext("{count} of {n} underside", "{count} of {n} undersides", whole).format(
            count=count, n=whole
        )
    return ngettext(
        "{count} of {n} underside ({share})", "{count} of {n} undersides ({share})", whole
    ).format(count=count, n=whole, share=percent_text(count / whole))


def _late_text(kept: CycleKept) -> str:
    if kept.worst_days <= 0:
        return _("None is late today.")
    worst = days_text(kept.worst_days)
    if kept.latest_days > 0:
        return _(
            "{n} are late. Each of the latest tenth ({latest}) is at least {days} late, the latest"
            " {worst}."
        ).format(n=kept.overdue, latest=kept.latest, days=days_text(kept.latest_days), worst=worst)
    return ngettext(
        "{n} is late, by {worst}: fewer than one in ten.",
        "{n} are late, the latest by {worst}: fewer than one in ten.",
        kept.overdue,
    ).format(n=kept.overdue, worst=worst)


def never_text(kept: CycleKept) -> str:
    """How many undersides no whole look is on record of."""
    if not kept.never:
        return _("Of each underside at least one whole look is on record.")
    return ngettext(
        "Of {n} underside no whole look is on record.",
        "Of {n} undersides no whole look is on record.",
        len(kept.never),
    ).format(n=len(kept.never))


def kept_note() -> str:
    """What a kept cycle does not say."""
    return _(
        "Counted from the record, past months by the cycles chosen now. A cycle that is kept says"
        " what was looked at, not what is there."
    )


def kept_cell(day: DayKept, count: int) -> str:
    """A day's count with its share, for a column."""
    share = count / day.undersides if day.undersides else 0.0
    if count in (0, day.undersides):
        return str(count)
    return _("{count} ({share})").format(count=count, share=percent_text(share))


# --- finds --------------------------------------------------------------------------------


def finds_lines(of: FindsInAll) -> Iterator[str]:
    """How many, how noticed first, how long they had been there, and what that proves."""
    if not of.finds:
        yield _no_finds_text(of)
    else:
        yield _finds_text(of)
        yield _guests_text(of)
        yield _days_text(of)
    if of.gone:
        yield ngettext(
            "Room {rooms} left the roster: its find is not in these numbers.",
            "Rooms {rooms} left the roster: their finds are not in these numbers.",
            len(of.gone),
        ).format(rooms=join(list(of.gone)))
    yield finds_note()


def _no_finds_text(of: FindsInAll) -> str:
    if of.first_on is None:
        return _("No room is on record yet.")
    return _("No confirmed find since {day} is on record.").format(day=day_text(of.first_on))


def _finds_text(of: FindsInAll) -> str:
    ways = [_("{way} {n}").format(way=_small(label(way)), n=count) for way, count in of.by.items()]
    return ngettext(
        "{n} confirmed find is on record. Noticed first by: {ways} (counted).",
        "{n} confirmed finds are on record. Noticed first by: {ways} (counted).",
        of.finds,
    ).format(n=of.finds, ways=", ".join(ways))


def _guests_text(of: FindsInAll) -> str:
    share = of.guests_share
    if share is None:
        return ""
    return _(
        "By guests first: {count} of {n}. Over many finds like these it may be {low} to {high}"
        " (right nine times in ten)."
    ).format(
        count=of.by_guests,
        n=of.finds,
        low=percent_text(share.low),
        high=percent_text(share.high),
    )


def _days_text(of: FindsInAll) -> str:
    if of.days is None:
        return _("None of them more likely came in than outlived a treatment: no days are told.")
    said = ngettext(
        "Days from its likely arrival to the find: {days}; of {n} find, assumed.",
        "Days from likely arrival to find, in the middle: {days}; of {n} finds, assumed.",
        of.new,
    ).format(days=numbers_text(of.days), n=of.new)
    if of.new == of.finds:
        return said
    return _("{said} Those that may have outlived a treatment are left out.").format(said=said)


def finds_note() -> str:
    """What counts of finds do not say."""
    return _("Few finds prove nothing, and what nobody found is in none of these numbers.")


def find_heading(find: FindBack) -> str:
    """Where and when it was found, and how it was noticed first."""
    way = _small(label(find.found_by))
    if find.noticed_on == find.found_on:
        return _("Room {room}, found on {day}; noticed first by: {way}.").format(
            room=find.room, day=day_text(find.found_on), way=way
        )
    return _("Room {room}, found on {day}; noticed first on {first} by: {way}.").format(
        room=find.room, day=day_text(find.found_on), first=day_text(find.noticed_on), way=way
    )


def find_lines(find: FindBack) -> Iterator[str]:
    """When it likely came in, by each setting, how many there were, whether it was left over."""
    if find.treatment is not None:
        yield treatment_text(find.treatment)
    if find.treatment is None or find.treatment.left_over is not LeftOver.OUTLIVED:
        spans = [
            _("{stance}: {window}").format(
                stance=_small(label(stance)), window=window_text(find.window[stance])
            )
            for stance in (Stance.CENTRAL, Stance.CAUTIOUS, Stance.OPTIMISTIC)
        ]
        yield _("Came in most likely (90 %, assumed), by setting: {spans}.").format(
            spans="; ".join(spans)
        )
        yield _("Days from the middle of that to the find: {days} (assumed).").format(
            days=numbers_text(find.days)
        )
        if min(first for first, _last in find.window.values()) < find.record_from:
            yield _("Looks at the room are on record from {day} on only.").format(
                day=day_text(find.record_from)
            )
    yield _("Insects on that day, in the middle case: {insects} (assumed).").format(
        insects=insects_cell(find)
    )


def window_text(window: tuple[date, date]) -> str:
    """From a day to a day."""
    first, last = window
    return _("{first} to {last}").format(first=plain_day_text(first), last=plain_day_text(last))


def window_cell(find: FindBack) -> str:
    """The central setting's window; for what was left over, since when that is."""
    if find.treatment is not None and find.treatment.left_over is LeftOver.OUTLIVED:
        return _("before {day}").format(day=plain_day_text(find.treatment.treated_on))
    return window_text(find.window[Stance.CENTRAL])


def days_cell(find: FindBack) -> str:
    """Days from coming in to the find; none for what was more likely left over."""
    return numbers_text(find.days) if find.is_new else _("–")


def insects_cell(find: FindBack) -> str:
    """How many there were, in the middle case."""
    return numbers_text({stance: round(each) for stance, each in find.insects.items()})


def treatment_cell(find: FindBack) -> str:
    """Which is likelier after a treatment, in few words."""
    if find.treatment is None:
        return _("no treatment before")
    return label(find.treatment.left_over)


def treated_text(find: FindBack) -> str:
    """The same in a sentence; empty where no treatment came before."""
    return "" if find.treatment is None else treatment_text(find.treatment)


def treatment_text(treatment: Treatment) -> str:
    """Left over from a treatment or come in anew: which is likelier, how much, assumed."""
    day, chance = day_text(treatment.treated_on), treatment.outlived
    if treatment.left_over is LeftOver.OUTLIVED:
        return _(
            "More likely left over from the treatment of {day} ({chance}, assumed) than come in"
            " anew."
        ).format(day=day, chance=chance_text(chance))
    if treatment.left_over is LeftOver.ANEW:
        anew = {stance: 1.0 - each for stance, each in chance.items()}
        return _(
            "More likely come in anew ({chance}, assumed) than left over from the treatment of"
            " {day}."
        ).format(day=day, chance=chance_text(anew))
    return _(
        "Left over from the treatment of {day} or come in anew: the settings disagree. Left over:"
        " {chance}, assumed."
    ).format(day=day, chance=chance_text(chance))


# --- found again --------------------------------------------------------------------------


def group_name(group: FindGroup) -> str:
    """Which room, stack or wing."""
    if group.of is GroupOf.STACK:
        return ", ".join(group.found_in)
    return group.name


def groups_line(groups: tuple[FindGroup, ...], finds: int) -> str:
    """What rooms, stacks and wings with several finds do and do not say."""
    if not groups:
        return _("No room, no rooms above one another and no wing has more than one find.")
    return ngettext(
        "Of {n} find in all. Finds may meet by chance: that they lie together proves no cause.",
        "Of {n} finds in all. Finds may meet by chance: that they lie together proves no cause.",
        finds,
    ).format(n=finds)


def again_note() -> str:
    """What left over or anew does not say."""
    return _(
        "Whether a find outlived a treatment or came in anew rests on assumed figures, and judges"
        " nobody's work."
    )


# --- what it cost -------------------------------------------------------------------------


def cost_lines(years: tuple[YearCost, ...], rules: OddsRules) -> Iterator[str]:
    """What finds cost so far, by which prices, and what is not in it."""
    if not years:
        yield _("No room was closed and none was treated so far.")
    else:
        yield _cost_text(years[-1])
    yield prices_text(rules)
    yield _(
        "Not in it: the work of looking, rooms held only until somebody looked, what a treated"
        " room had replaced, and what guests say of it. Whether a closed night would have been"
        " sold, nobody can say."
    )


def _cost_text(whole: YearCost) -> str:
    return _(
        "So far {nights} for finds, {others} for signs that were not confirmed, {rooms}: {money}"
        " of money."
    ).format(
        nights=ngettext("{n} room night closed", "{n} room nights closed", whole.nights).format(
            n=whole.nights
        ),
        others=whole.nights_of_others,
        rooms=ngettext("{n} room treated", "{n} rooms treated", whole.rooms_treated).format(
            n=whole.rooms_treated
        ),
        money=money_text(whole.money),
    )


def prices_text(rules: OddsRules) -> str:
    """By which prices money is reckoned, each with how well it is known."""
    night, treatment, guest = (_price(rules, key) for key in PRICES)
    return _(
        "Nights and treatments are counted. Prices: a night {night}, a room's treatment"
        " {treatment}, a find by a guest {guest} more; put in your own under “What it rests on”."
    ).format(night=night, treatment=treatment, guest=guest)


def _price(rules: OddsRules, key: str) -> str:
    figure = rules.figure(key)
    if figure is None:
        return _("–")
    value = money_text({stance: figure.of(stance) for stance in Stance})
    return _("{value} ({known})").format(value=value, known=known_text(figure.standing))


def money_text(money: ByStance) -> str:
    """Money with its range, where the settings differ."""
    central = f"{money[Stance.CENTRAL]:,.0f}"
    least, most = (f"{of:,.0f}" for of in (min(money.values()), max(money.values())))
    if least == most:
        return central
    return _("{central} ({least} to {most})").format(central=central, least=least, most=most)


def year_text(row: YearCost) -> str:
    """A year, or all of them."""
    return str(row.year) if row.year else _("All years")


def treated_cell(row: YearCost) -> str:
    """Rooms treated, and how many visits that took."""
    if row.visits == row.rooms_treated:
        return str(row.rooms_treated)
    return ngettext("{rooms} ({n} visit)", "{rooms} ({n} visits)", row.visits).format(
        rooms=row.rooms_treated, n=row.visits
    )


def what_if_text() -> str:
    """Where it is told what another rule would have cost."""
    return _(
        "What another cycle or ring would cost cannot be counted, only worked out and simulated:"
    )


def _small(said: str) -> str:
    return said[:1].lower() + said[1:]
