from __future__ import annotations

import ast
import string

import pytest

from hotelwatch.core.problems import Problem, Refusal
from hotelwatch.wording import language
from hotelwatch.wording.intake_problems import INTAKE_PROBLEMS
from hotelwatch.wording.lethal import PROBE_PROBLEMS
from hotelwatch.wording.problems import ALSO_CALLED, place_in_file, refusal_sentence, sentence
from hotelwatch.wording.refusals import REFUSALS
from tests.sources import MODULES, PROGRAM, nodes_of


def _enum_values(module):
    for node in nodes_of(module):
        if isinstance(node, ast.ClassDef):
            for line in node.body:
                if isinstance(line, ast.Assign) and isinstance(line.value, ast.Constant):
                    yield f"{node.name}.{line.targets[0].id}", line.value.value


def refusals_in_the_sources():
    """Each code that is raised, with every set of values it is raised with."""
    members = dict(pair for module in MODULES for pair in _enum_values(module))
    for module in MODULES:
        for node in nodes_of(module):
            if not (
                isinstance(node, ast.Call) and getattr(node.func, "id", "") in {"Refusal", "Denied"}
            ):
                continue
            given = {word.arg or "**" for word in node.keywords}
            code = node.args[0]
            if isinstance(code, ast.Constant):
                yield code.value, given
            elif isinstance(code, ast.Name):
                continue
            elif ast.unparse(code) in members:
                yield members[ast.unparse(code)], given


@pytest.fixture(scope="module")
def raised():
    """The codes of the sources; read when a test asks, since all workers collect this file."""
    return sorted({(code, tuple(sorted(given))) for code, given in refusals_in_the_sources()})


def fields_of(message):
    return {name for _, name, _, _ in string.Formatter().parse(message) if name}


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def test_every_refusal_says_what_is_the_matter_and_how_to_mend_it(raised):
    assert len({code for code, _ in raised}) > 30
    for code, given in raised:
        what, mend = {**INTAKE_PROBLEMS, **REFUSALS}[code]
        assert what != mend, code
        assert what.endswith((".", "{why}")), code
        assert mend.endswith("."), code
        if "**" not in given:
            wanted = fields_of(what) | fields_of(mend)
            known = {name for name, other in ALSO_CALLED.items() if other in given}
            assert {w for w in wanted if w not in given} <= known, code


def test_no_sentence_is_kept_for_a_refusal_that_nobody_raises(raised):
    # Codes that reach Refusal through a variable: store.connection and papers.target.
    through_a_name = {"disk_full", "disk_failed", "file_busy", "workbook_not_written"}
    assert set(REFUSALS) - through_a_name <= {code for code, _ in raised}


def test_places_and_days_are_said_in_words():
    what, _ = refusal_sentence(
        Refusal("needs_two_people", where="101/A", place="base_underside", people="2")
    )
    assert "Underside of the box spring" in what
    what, _ = refusal_sentence(Refusal("day_to_come", day="2026-11-25"))
    assert what == "Wed 25 Nov 2026 has not come yet."
    what, _ = refusal_sentence(Refusal("treatment_needs", field="licence"))
    assert "number of the licence" in what


def test_a_code_that_nobody_worded_is_still_said():
    what, mend = refusal_sentence(Refusal("never_heard_of", room="101"))
    assert "never_heard_of" in what
    assert mend


def test_a_place_in_a_file_is_told_as_a_person_counts():
    assert (
        place_in_file(Problem("rooms.xlsx", 7, "Room", "x")) == "rooms.xlsx, row 7, column “Room”"
    )
    assert place_in_file(Problem("rooms.xlsx", 7, "", "x")) == "rooms.xlsx, row 7"
    assert place_in_file(Problem("rooms.xlsx", 0, "Room", "x")) == "rooms.xlsx, column “Room”"
    assert place_in_file(Problem("rooms.xlsx", 0, "", "x")) == "rooms.xlsx"


def test_problems_of_a_file_are_said_with_their_field_and_its_kinds():
    what, mend = sentence(Problem("rooms.xlsx", 0, "", "field_missing", {"field": "order"}))
    assert "order along the corridor" in what
    assert mend
    values = {"value": "water bed", "known": "box_spring,sofa_bed"}
    _, mend = sentence(Problem("rooms.xlsx", 3, "Beds", "bed_kind_unknown", values))
    assert "box spring, sofa bed" in mend


def test_every_code_of_an_intake_has_its_sentences():
    codes = {
        value
        for path in MODULES
        if path.parent == PROGRAM / "intake"
        for name, value in _enum_values(path)
        if name.split(".")[0].endswith("Code")
    }
    assert codes
    assert codes <= set(INTAKE_PROBLEMS) | set(PROBE_PROBLEMS)
