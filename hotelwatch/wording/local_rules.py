"""Local rules in words: each clause, where it was read, who compared it, how it was judged."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, tzinfo

from hotelwatch.core.local_rules.rows import Item, ItemState, Judgement, RulesJudged, Verdict
from hotelwatch.core.profile import Profile, Releaser, Start, clock_of
from hotelwatch.core.rule_facts import Asks, RuleClause
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.profiles import DUTIES, span_text

HOW_JUDGED = {
    Asks.DEADLINE: m(
        "Every case in which its time ended in these days: when it began, when it ended, when it "
        "was done. Days without an hour are in time on the last day."
    ),
    Asks.CLOSE: m(
        "Every room with a sign in these days: closed on the hotel's day of the sign; and every "
        "night on which bookings show it let all the same."
    ),
    Asks.ELIMINATE: m(
        "Every room of a confirmed case that was given back: on its conditions, or on somebody's "
        "reason. No look proves that nothing is there."
    ),
    Asks.RELEASE: m("Every room given back: whether the word was written down before it."),
    Asks.LICENSED: m("Every treatment: whether a firm and a licence that had not run out stand."),
    Asks.RECORD: m("Every case, look or treatment of these days: whether the record holds it."),
    Asks.KEEP: m(
        "How long the hotel keeps photos, papers, names and notes, from a case's closing or a "
        "month's end, and what went in these days; entries are never deleted."
    ),
    Asks.VACANT: m(
        "Every arrival, by the bookings, after the room stood empty so long: a look on that day "
        "or in the days before that the hours reach back."
    ),
    Asks.SIGNS: m("Whether these signs count as an infestation by themselves in this file."),
    Asks.OTHER: m("Nothing in this record shows it."),
}
ITEMS = {
    "closed": m("Room closed on the day of the sign"),
    "not_let": m("Not let while closed"),
    "eliminated": m("Given back on its conditions"),
    "word_hotel": m("The hotel's word"),
    "word_licensed": m("The licensed firm's word, before it was given back"),
    "word_health_officer": m("The health officer's word, before it was given back"),
    "looked_before": m("Looked at before the next guest"),
    "licence": m("Firm and licence named"),
    "licence_holds": m("Licence not run out"),
    "complaints": m("Who saw or told it, and when"),
    "judgements": m("Who judged, and what makes them competent"),
    "looks": m("Who looked"),
    "firm": m("Firm"),
    "licence_no": m("Number of the licence"),
    "technician": m("Technician"),
    "method": m("Method"),
    "product": m("Product, as reported"),
    "registration_no": m("Product's registration number, as reported"),
    "areas": m("Areas treated"),
    "amount": m("Amount used, as reported"),
    "receipt_no": m("Number of the receipt"),
    "report": m("The firm's report kept with the case"),
    "receipt": m("A receipt kept with the case"),
    "linen": m("What was done with the linen"),
    "discards": m("Thing thrown away: made unusable, and labelled"),
    "training": m("Trained in what the work needs, and not overdue"),
    "not_gone": m("Kept as long as the clause asks"),
    "keeps_photos": m("Photos"),
    "keeps_papers": m("Papers and logs"),
    "keeps_names": m("Names of staff"),
    "keeps_notes": m("Notes"),
}
DIGITS_SHOWN = 12
"""Of a digest on the screen; the month's book shows all of it."""
NO_ADVICE = m(
    "Examples read from published texts, to be checked; never legal advice. Law changes: compare "
    "each clause with the law in force, and ask whoever advises you."
)


def no_advice() -> str:
    """What stands wherever local rules are shown."""
    return _(NO_ADVICE)


def asks_text(asks: Asks) -> str:
    """What kind of thing a clause asks."""
    return label(asks)


def verdict_text(verdict: Verdict) -> str:
    """Whether the record shows what a clause asks."""
    return label(verdict)


def how_judged(asks: Asks) -> str:
    """By what of the record a kind of clause is judged."""
    return _(HOW_JUDGED[asks])


def state_text(state: ItemState) -> str:
    """How one thing that fell under a clause went."""
    return label(state)


def item_text(item: Item) -> str:
    """What was to be there."""
    if item.what in ITEMS:
        return _(ITEMS[item.what])
    return _(DUTIES[item.what]) if item.what in DUTIES else label(item.what)


def where_text(clause: RuleClause) -> str:
    """The title of the text and its section."""
    return _("{title}, {section}").format(title=clause.title, section=clause.section)


def asked_text(clause: RuleClause) -> str:
    """What a clause asks, behind its section."""
    return _("{section}: {asks}").format(section=clause.section, asks=clause.says)


def reading_text(clause: RuleClause) -> str:
    """How a clause was read, where and on which day."""
    values = {"how": label(clause.how_read), "where": clause.read_from}
    if clause.read_on is None:
        return _("{how} ({where}); the day was not noted").format(**values)
    return _("{how} ({where}) on {day}").format(**values, day=day_text(clause.read_on))


def compared_text(by: str, on: date | None, *, is_stale: bool) -> str:
    """Who compared a clause with the law in force, and whether that still stands."""
    if not by or on is None:
        return _("NOBODY has compared it with the law in force")
    said = _("by {person} on {day}").format(person=by, day=day_text(on))
    return _("{said}: too long ago, compare again").format(said=said) if is_stale else said


def terms_text(clause: RuleClause) -> str:
    """A clause's own terms: time, years, signs, what is recorded; empty where it has none."""
    return "; ".join(_terms(clause))


def _terms(clause: RuleClause) -> Iterator[str]:
    if clause.asks is Asks.DEADLINE:
        start = label(Start(clause.starts)).lower()
        said = _("{duty}: within {span}, {start}")
        duty = _(DUTIES.get(clause.duty, clause.duty))
        yield said.format(duty=duty, span=span_text(clock_of(clause)), start=start)
    if clause.asks is Asks.VACANT:
        days = ngettext("{n} day", "{n} days", clause.vacant_days).format(n=clause.vacant_days)
        hours = ngettext("{n} hour", "{n} hours", clause.amount).format(n=clause.amount)
        yield _("empty for {days}: looked at within {hours}").format(days=days, hours=hours)
    if clause.years:
        years = ngettext("{n} year", "{n} years", clause.years).format(n=clause.years)
        froms = {
            "closing": _("from the closing of the case"),
            "writing": _("from the day it was written down"),
        }
        since = froms.get(clause.years_from, _("from when, is not said"))
        yield _("{years}, {since}").format(years=years, since=since)
    if clause.releaser:
        yield label(Releaser(clause.releaser))
    if clause.holds_for == "confirmed":
        yield _("confirmed cases only")
    if clause.records:
        yield join([_(ITEMS[code]) for code in clause.records])
    if clause.signs:
        yield join([label(sign) for sign in clause.signs])
    if clause.to:
        yield _("to: {whom}").format(whom=clause.to)


def fault_sentence(item: Item, zone: tzinfo) -> str:
    """What is missing or late: what, the case, the room, the day."""
    values = {"what": item_text(item), "where": _place(item), "day": when_text(item, zone)}
    if item.what == "not_let":
        return _("{where}: let while closed, on {day}").format(**values)
    if item.state is ItemState.LATE:
        return _("{where}: {what}: late ({day})").format(**values)
    if not values["where"]:
        has_day = item.since or item.by or item.done
        said = _("{what}: missing ({day})") if has_day else _("{what}: missing")
        return said.format(**values)
    return _("{where}: {what}: missing ({day})").format(**values)


def _place(item: Item) -> str:
    if item.case and item.room:
        return _("case {case}, room {room}").format(case=item.case, room=item.room)
    return _("room {room}").format(room=item.room) if item.room else item.case


def when_text(item: Item, zone: tzinfo) -> str:
    """The days of one thing: by when it was due and when it was done, else since when."""
    if item.what == "not_let" or (item.by is None and item.done is not None):
        return _moment(item.done, zone)
    if item.by is not None and item.done is not None:
        return _("due {by}, done {done}").format(
            by=_moment(item.by, zone), done=_moment(item.done, zone)
        )
    if item.by is not None:
        return _("due {by}").format(by=_moment(item.by, zone))
    return _moment(item.since, zone)


def _moment(when: date | datetime | None, zone: tzinfo) -> str:
    if when is None:
        return _("no day")
    return moment_text(when, zone) if isinstance(when, datetime) else day_text(when)


def judged_sentence(judgement: Judgement) -> str:
    """How many things fell under a clause, and how they went."""
    if judgement.verdict is Verdict.CANNOT_TELL and not judgement.items:
        return _("This record cannot tell: look yourself.")
    if not judgement.items:
        return _("Nothing in these days fell under it.")
    counts = (
        (_("{n} as it asks"), judgement.count(ItemState.DONE)),
        (_("{n} late or missing"), len(judgement.faults)),
        (_("{n} still open"), judgement.count(ItemState.AHEAD)),
        (_("{n} that cannot be told"), judgement.count(ItemState.UNKNOWN)),
    )
    parts = [said.format(n=number) for said, number in counts if number]
    whole = _("{all} fell under it: {parts}.")
    return whole.format(all=len(judgement.items), parts=join(parts))


def rules_sentence(judged: RulesJudged) -> str:
    """A set in one line: how many of its clauses the record meets."""
    if not judged.judgements:
        return _("{name} is a way of working, not a local law: it has no clauses.").format(
            name=judged.name
        )
    stale = sum(one.is_stale for one in judged.judgements)
    said = ngettext(
        "{name}: {all} clause. Met: {met}; NOT met: {not_met}; nothing fell under it: {arisen};"
        " look yourself: {look}. Not compared with the law in force lately: {stale}.",
        "{name}: {all} clauses. Met: {met}; NOT met: {not_met}; nothing fell under it: {arisen};"
        " look yourself: {look}. Not compared with the law in force lately: {stale}.",
        len(judged.judgements),
    )
    return said.format(
        name=judged.name,
        met=judged.count(Verdict.MET),
        all=len(judged.judgements),
        not_met=judged.count(Verdict.NOT_MET),
        arisen=judged.count(Verdict.NOT_ARISEN),
        look=judged.count(Verdict.CANNOT_TELL),
        stale=stale,
    )


def whose_text(profile: Profile) -> str:
    """Where a set comes from: shipped, a way of working, or the hotel's own file."""
    if profile.is_own:
        return _("this hotel's own, from {file} (SHA-256 {digest}…)").format(
            file=profile.file_name, digest=profile.sha256[:DIGITS_SHOWN]
        )
    return kind_text(profile)


def kind_text(profile: Profile) -> str:
    """Whether a set is the hotel's own, an example, or a way of working."""
    if profile.is_own:
        return _("this hotel's own")
    return _("example, to be checked") if profile.place else _("way of working, no local rule")
