"""The book's page about local rules: each clause, where it was read, whether it is met, where.

Three tables: the clauses, whose numbers are formulas over the second; each thing that fell
under a clause, so that a stranger counts for himself; and their terms and sources.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from hotelwatch.core.local_rules.rows import FAULTS, ItemState, Judgement, RulesJudged, Verdict
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.papers.listings import (
    Attention,
    Formula,
    Listing,
    Sheet,
    Value,
    column_of,
    criterion,
)
from hotelwatch.wording import local_rules as words
from hotelwatch.wording.language import _, ngettext

CLAUSES, ITEMS, SOURCES = "local_rules", "rule_items", "rule_sources"
"""Names of the tables."""
MOST_NAMED = 3


def sheets(figures: MonthFigures, others: Sequence[Sheet]) -> tuple[Sheet, ...]:
    """The sheets; ``others`` are those of the same book, so that clauses name them."""
    titles = titles_of(others)
    judged = figures.local_rules
    titles[ITEMS] = _("Local rules, each thing")
    return (
        Sheet(_("Local rules"), (clauses(judged, titles),), notes(judged)),
        Sheet(titles[ITEMS], (items(judged, titles),), (_items_note(),)),
        Sheet(_("Local rules, sources"), (sources(judged),), (words.no_advice(),)),
    )


def asks(judged: RulesJudged) -> Iterator[str]:
    """What the first page says of local rules that are not met, or that nobody compared."""
    missed = [one for one in judged.judgements if one.verdict is Verdict.NOT_MET]
    if missed:
        named = ", ".join(words.where_text(one.clause) for one in missed[:MOST_NAMED])
        yield ngettext(
            "{n} clause of local rules is NOT met: {named}. See the page of local rules.",
            "{n} clauses of local rules are NOT met, the first of them: {named}. "
            "See the page of local rules.",
            len(missed),
        ).format(n=len(missed), named=named)
    stale = sum(one.is_stale for one in judged.judgements)
    if stale:
        yield _stale_sentence(stale)


def titles_of(others: Sequence[Sheet]) -> dict[str, str]:
    """On which sheet each table of a book stands."""
    return {
        part.name: sheet.title
        for sheet in others
        for part in sheet.parts
        if isinstance(part, Listing)
    }


def notes(judged: RulesJudged) -> tuple[str, ...]:
    """What the page says of itself: the set in force, and that it is no advice."""
    own = _("The hotel's own set, from {file} (SHA-256 {digest}).").format(
        file=judged.file_name, digest=judged.sha256
    )
    origin = own if judged.file_name else _("A set that the program ships.")
    stale = sum(one.is_stale for one in judged.judgements)
    warning = _stale_sentence(stale) if stale else ""
    lines = [words.rules_sentence(judged), origin, warning, words.no_advice()]
    return tuple(line for line in lines if line)


def _stale_sentence(stale: int) -> str:
    said = ngettext(
        "{n} clause was not compared with the law in force, or too long ago.",
        "{n} clauses were not compared with the law in force, or too long ago.",
        stale,
    )
    return said.format(n=stale)


def clauses(judged: RulesJudged, titles: Mapping[str, str]) -> Listing:
    """Each clause with its source, its reading, its comparison, its judgement, and where."""
    headings = (
        _("Clause"),
        _("Text and section"),
        _("What it asks"),
        _("Met?"),
        _("Fell under it"),
        _("As it asks"),
        _("Late or missing"),
        _("Still open"),
        _("Where it shows"),
        _("Compared with the law in force"),
    )
    rows = tuple(_clause_row(one, titles) for one in judged.judgements)
    return Listing(CLAUSES, headings, rows)


def sources(judged: RulesJudged) -> Listing:
    """Each clause with its terms, how its text was read, and by what it was judged."""
    headings = (
        _("Clause"),
        _("Text and section"),
        _("Its terms"),
        _("How it was read"),
        _("How it was judged"),
        _("Note"),
    )
    rows = tuple(
        (
            one.clause.clause,
            words.where_text(one.clause),
            words.terms_text(one.clause),
            words.reading_text(one.clause),
            words.how_judged(one.clause.asks),
            one.clause.note,
        )
        for one in judged.judgements
    )
    return Listing(SOURCES, headings, rows)


def _clause_row(one: Judgement, titles: Mapping[str, str]) -> tuple[Value, ...]:
    clause = one.clause
    verdict = words.verdict_text(one.verdict)
    needs_look = one.verdict in (Verdict.NOT_MET, Verdict.CANNOT_TELL)
    compared = words.compared_text(one.compared_by, one.compared_on, is_stale=one.is_stale)
    return (
        clause.clause,
        words.where_text(clause),
        clause.says,
        Attention(verdict) if needs_look else verdict,
        *(_counted(one, states) for states in _COUNTED),
        _where(one, titles),
        Attention(compared) if one.is_stale else compared,
    )


_COUNTED: tuple[tuple[ItemState, ...], ...] = (
    tuple(ItemState),
    (ItemState.DONE,),
    (ItemState.LATE, ItemState.MISSING),
    (ItemState.AHEAD,),
)


def _counted(one: Judgement, states: tuple[ItemState, ...]) -> Formula:
    """A count over the table of things, and what the program counts."""
    clause = f"{column_of(ITEMS, _('Clause'))},{criterion(one.clause.clause)}"
    result = one.count(*states)
    if len(states) == len(ItemState):
        return Formula(f"COUNTIFS({clause})", result)
    how = column_of(ITEMS, _("How it went"))
    each = (f"COUNTIFS({clause},{how},{criterion(words.state_text(state))})" for state in states)
    return Formula("+".join(each), result)


def _where(one: Judgement, titles: Mapping[str, str]) -> str:
    """The sheets and their tables that show a clause; its own things, where it has any."""
    names = [name for name in one.tables if name in titles]
    names += [ITEMS] if one.items else []
    said = _("sheet “{sheet}”, table {table}")
    return "; ".join(said.format(sheet=titles[name], table=name) for name in names)


def items(judged: RulesJudged, titles: Mapping[str, str]) -> Listing:
    """Each thing that fell under a clause: what, of which case and room, when, how it went."""
    headings = (
        _("Clause"),
        _("What"),
        _("Case"),
        _("Room"),
        _("Since"),
        _("By when"),
        _("Done"),
        _("How it went"),
        _("Shown on"),
    )
    rows = tuple(
        (
            one.clause.clause,
            words.item_text(item),
            item.case,
            item.room,
            item.since,
            item.by,
            item.done,
            Attention(words.state_text(item.state))
            if item.state in FAULTS
            else words.state_text(item.state),
            titles.get(item.table, ""),
        )
        for one in judged.judgements
        for item in one.items
    )
    return Listing(ITEMS, headings, rows)


def _items_note() -> str:
    return _("What of the record was held against each clause; the first page counts these rows.")
