"""What goes, what stays and why, in words; exports and what is wrong with them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from hotelwatch.core.record_facts import ContentExpired, Expiring, ExpiryStopped
from hotelwatch.core.retention import Keeping, Verdict
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.retention_names import RETENTION_ENUMS

RETENTION: dict[str, tuple[str, str]] = {
    "stop_needs_reason": (
        m("It is not said why nothing may expire, or why it may again."),
        m("Give the reason, as the claim or the letter; it stands in the record."),
    ),
    "stop_needs_name": (m("Nobody is named who says so."), m("Name the person.")),
    "nothing_stopped": (
        m("Nothing was kept from expiring there."),
        m("Look which cases are; “expire” lists them."),
    ),
    "export_not_empty": (
        m("{folder} is there already and not empty; nothing was written."),
        m("Choose a folder that is not there yet."),
    ),
    "export_mangled": (
        m("{mangled} So the export is not as it was written: {file}, line {line}."),
        m("Copy it again from where it was made; nothing was taken in."),
    ),
    "export_file_mangled": (
        m("{mangled} So the export is not as it was written: {file}."),
        m("Copy it again from where it was made; nothing was taken in."),
    ),
    "export_of_another_shape": (
        m("The export is of another version of this program ({file_format}, ours {our_format})."),
        m("Take it in with the version that made it."),
    ),
}
MANGLED = {
    "not_there": m("It is not there."),
    "no_zip": m("It is no export, neither a folder nor a zip of one."),
    "no_json": m("It is no line of JSON."),
    "not_canonical": m("It is not written in the one way in which digests are taken."),
    "digest": m("Its digest is not the one that the export lists."),
    "chain": m("It does not follow the line before it."),
    "number": m("Its number is not the next one."),
    "table": m("It names a table or a column that is not ours."),
    "cell": m("It holds a value that its column does not take."),
    "words": m("The words do not fit their digest, or nobody noted them."),
    "words_missing": m("Words are missing that have not expired."),
    "stays": m("The bookings are not those that the last import left."),
    "more": m("There is more than the export lists."),
}
WHY: dict[str, str] = {
    "kept_always": m("kept always, by the hotel's choice"),
    "all_stopped": m("nothing may expire"),
    "case_stopped": m("nothing of case {case} may expire"),
    "case_open": m("case {case} is open"),
    "in_force": m("somebody who works here"),
    "not_yet": m("not yet: the earliest on {day}"),
}


def mangled_text(why: str) -> str:
    """What is wrong with a line or a file of an export."""
    return _(MANGLED[why]) if why in MANGLED else why


def keeping_text(kept: Keeping) -> str:
    """For how long something is kept, and who says so."""
    if kept.years is None:
        return _("always (this hotel's choice)")
    years = ngettext("{n} year", "{n} years", kept.years).format(n=kept.years)
    if kept.is_shorter:
        return _("{years} (this hotel's choice; fewer than its local rules say)").format(
            years=years
        )
    if kept.policy == "own":
        return _("{years} (this hotel's choice)").format(years=years)
    return _("{years} (local rules)").format(years=years)


def what_text(what: Expiring) -> str:
    """What goes, by name: photos, papers and the like."""
    return _(RETENTION_ENUMS["Expiring"][what])


def found_rows(
    found: Iterable[Verdict], keepings: Mapping[Expiring, Keeping]
) -> list[tuple[str, str, str, str]]:
    """For each kind: how long it is kept, how many are due, why others stay."""
    listed = list(found)
    rows = []
    for what, kept in keepings.items():
        of_kind = [verdict for verdict in listed if verdict.content.what is what]
        due = sum(verdict.is_due for verdict in of_kind)
        rows.append((what_text(what), keeping_text(kept), str(due), "; ".join(_stays(of_kind))))
    return rows


def _stays(found: Iterable[Verdict]) -> Iterator[str]:
    staying = [verdict for verdict in found if not verdict.is_due]
    counts = Counter((verdict.why, verdict.case) for verdict in staying)
    for (why, case), count in counts.items():
        days = [v.goes_on for v in staying if v.why == why and v.goes_on is not None]
        said = _(WHY[why]).format(case=case, day=day_text(min(days)) if days else "")
        yield _("{n} kept: {why}").format(n=count, why=said)


def stopped_lines(stopped: Mapping[str, ExpiryStopped]) -> Iterator[str]:
    """Which cases nothing may expire of, who said so and why."""
    for case, fact in stopped.items():
        values = {"case": case, "by": fact.by, "reason": fact.reason}
        if case:
            yield _("Nothing of case {case} may expire: {by}, {reason}").format(**values)
        else:
            yield _("Nothing may expire: {by}, {reason}").format(**values)


def expired_lines(
    facts: Iterable[ContentExpired], *, is_tidy: bool, from_copies: Iterable[str]
) -> Iterator[str]:
    """What went, and where it may still lie; ``from_copies`` are sentences on the backups."""
    went = list(facts)
    if not went:
        yield _("Nothing is due to be deleted.")
        yield from from_copies
        return
    for fact in went:
        yield _("{what}: {n} went; the record says so.").format(
            what=what_text(fact.what), n=len(fact.which)
        )
    if not is_tidy:
        yield _(
            "The file is in use elsewhere: parts of it that are not used may still hold words."
            " Close other windows, and let it expire again."
        )
    yield from from_copies
    yield _("Copies made by hand, exports, printed papers and sent workbooks are yours to see to.")
