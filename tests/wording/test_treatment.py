"""Treatment in words: every code has its sentence, and nothing advises a product or a dose."""

from __future__ import annotations

import ast
import re
import tomllib
from datetime import UTC, date, datetime

import pytest

from hotelwatch import paths
from hotelwatch.core.cases.treatment import Doubt
from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.lethal.probes import PLACES, Probe
from hotelwatch.core.lethal.verdict import Lack, verdict_of
from hotelwatch.core.treatment_facts import PaperKept, PaperKind
from hotelwatch.wording import lethal, treatment
from hotelwatch.wording.story_facts import fact_line
from tests.build import rules
from tests.sources import MODULES, nodes_of

AT = datetime(2026, 3, 9, 8, tzinfo=UTC)

# Classes of active substance registered against bed bugs, and remedies that people try and
# that burnt or poisoned some: from memory of the US EPA's and CDC's pages on bed bugs.
NEVER_NAMED = re.compile(
    r"pyreth|methrin|cyhalothrin|neonicotin|clopri|chlorfenapyr|diatom|desiccant|silica"
    r"|methoprene|dichlorvos|malathion|propoxur|carbam|fogger|bug bomb|kerosene|petrol|gasoline"
    r"|alcohol|bleach|ammonia|vinegar|naphthal|mothball|essential oil|tea tree|neem|borax"
    r"|boric|sulfuryl|fumigant",
    re.IGNORECASE,
)
# An amount of something to be applied: 5 ml/l, 20 g/m², 2 oz per gallon.
A_DOSE = re.compile(
    r"\d\s*(ml|cl|mg|g|kg|oz|l|litres?|gallons?)\b\s*(/|per\b|a square|to a)", re.IGNORECASE
)
# Of a place it is said which dose was reached, never that anything died or that all is over.
NEVER_CLAIMED = re.compile(r"\b(was|were|are|is|all) (killed|dead|exterminated|eradicated)\b", re.I)


def said():
    """Every string of the program's own, with where it stands."""
    for module in MODULES:
        for node in nodes_of(module):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield f"{module.name}:{node.lineno}", node.value


def figures():
    """Every string of the shipped tables: what they are for, and what a source found."""
    for table in sorted(paths.resources().rglob("*.toml")):
        yield from strings(table.name, tomllib.loads(table.read_text("utf-8")))


def strings(name, value):
    if isinstance(value, str):
        yield name, value
    for one in value.values() if isinstance(value, dict) else ():
        yield from strings(name, one)
    for one in value if isinstance(value, list) else ():
        yield from strings(name, one)


def test_the_program_names_no_product_no_remedy_and_no_dose():
    found = [
        (where, text)
        for where, text in (*said(), *figures())
        for rule in (NEVER_NAMED, A_DOSE)
        if rule.search(text)
    ]
    assert found == []


def test_the_program_says_of_nothing_that_it_died():
    assert [pair for pair in said() if NEVER_CLAIMED.search(pair[1])] == []


@pytest.mark.parametrize(
    "advice", ["Dust with diatomaceous earth.", "Apply 5 ml per square metre.", "All are killed."]
)
def test_the_guard_would_find_advice(advice):
    assert any(rule.search(advice) for rule in (NEVER_NAMED, A_DOSE, NEVER_CLAIMED))


def codes_said(text):
    return set(re.findall(r'"([a-z_]+)"\s+\(|"([a-z_]+)";', text or ""))


@pytest.mark.parametrize(
    ("kind", "table"), [(Doubt, treatment.DOUBTS), (Lack, lethal.LACKS)], ids=["doubts", "lacks"]
)
def test_every_code_has_a_sentence_and_every_sentence_its_code(kind, table):
    said = {code for pair in codes_said(kind.__doc__) for code in pair if code}
    assert said == set(table)


def test_every_place_has_a_name():
    assert set(lethal.PLACES) == set(PLACES)
    assert set(lethal.METHODS) == {method.value for method in Method}


@pytest.mark.parametrize(
    ("doubt", "said"),
    [
        (
            Doubt(
                "licence_expired",
                {"firm": "F", "expired_on": date(2026, 2, 28), "on": date(2026, 3, 9)},
            ),
            "ran out on Sat 28 Feb 2026; treated on Mon 9 Mar 2026",
        ),
        (
            Doubt("not_prepared", {"room": "101", "on": date(2026, 1, 1), "how": "not_done"}),
            "101, Thu 1 Jan 2026: preparation not done.",
        ),
        (Doubt("bedding_left", {"room": "101", "on": date(2026, 1, 1)}), "Ask the firm"),
        (Doubt("not_confirmed", {"case": "2026-001"}), "qualified professional's judgement"),
    ],
)
def test_doubts_are_said_with_their_days(doubt, said):
    assert said in treatment.doubt_sentence(doubt)


def test_a_log_says_what_was_reached_and_what_was_not_measured():
    probe = Probe("Core", "mattress_core", AT, tuple(map(float, range(151))), (49.0,) * 151)
    found = verdict_of([probe], rules().figures, method=Method.HEAT)
    said = lethal.headline(found)
    assert "Every probe reached the dose asked for" in said
    assert "Places without a probe were not measured" in said


def test_minutes_that_are_missing_are_said_with_probe_and_temperature():
    lack = Lack("minutes_short", {"probe": "Core", "minutes": 23, "celsius": 48.0})
    assert lethal.lack_sentence(lack, UTC) == "Core: 23 minutes more at 48 °C were needed."
    gap = Lack("gap", {"probe": "Core", "at": AT, "minutes": 88})
    assert "no reading for 88 minutes from Mon 9 Mar 2026, 08:00 UTC" in lethal.lack_sentence(
        gap, UTC
    )


@pytest.mark.parametrize(
    ("what", "said"),
    [
        (PaperKind.REPORT, "Report kept: visit.pdf, SHA-256 0123456789abcdef…"),
        (PaperKind.RECEIPT, "Receipt kept: visit.pdf, SHA-256 0123456789abcdef…"),
        (PaperKind.NOTICE, "Notice kept: visit.pdf, SHA-256 0123456789abcdef…"),
        (PaperKind.OTHER, "Other paper kept: visit.pdf, SHA-256 0123456789abcdef…"),
    ],
)
def test_a_paper_is_told_with_its_file_and_the_beginning_of_its_digest(what, said):
    kept = PaperKept("2026-001", "0123456789abcdef" * 4, "visit.pdf", what, "Ines")
    assert treatment.paper_sentence(kept) == fact_line(kept, UTC) == said
