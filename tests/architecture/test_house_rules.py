"""The rules of the house that no linter knows."""

from __future__ import annotations

import ast
import shutil
import subprocess
from dataclasses import fields
from pathlib import Path

import pytest

from hotelwatch import paths
from hotelwatch.core import (
    case_facts,
    choice_facts,
    facts,
    people_facts,
    record_facts,
    round_facts,
    rule_facts,
    treatment_facts,
    trial_facts,
)
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.parameters import Figures
from hotelwatch.core.standing import Standing
from tests.build import rules
from tests.sources import MODULES, nodes_of, text_of, tree_of

ROOT = Path(__file__).parents[2]
CORE = [module for module in MODULES if "core" in module.parts]
MOST_LINES = 400


def tracked_files():
    if shutil.which("git") is None:
        pytest.skip("git is not installed here")
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if listed.returncode:
        pytest.skip("not a git checkout")
    return listed.stdout.splitlines()


@pytest.mark.parametrize("module", MODULES, ids=lambda m: str(m.relative_to(ROOT)))
def test_a_module_is_read_in_one_sitting(module):
    assert len(text_of(module).splitlines()) <= MOST_LINES


@pytest.mark.parametrize("module", CORE, ids=lambda m: str(m.relative_to(ROOT)))
def test_the_core_opens_no_file(module):
    calls = [node for node in nodes_of(module) if isinstance(node, ast.Call)]
    assert not [
        call for call in calls if isinstance(call.func, ast.Name) and call.func.id == "open"
    ]


def _made_at_import(tree):
    for node in tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and isinstance(node.value, ast.Call):
            yield node.value


@pytest.mark.parametrize("module", MODULES, ids=lambda m: str(m.relative_to(ROOT)))
def test_no_window_or_connection_is_made_at_import(module):
    lively = {"Database", "connect", "QApplication", "OpenHotel", "Bus", "open", "QObject"}
    names = {
        call.func.id if isinstance(call.func, ast.Name) else getattr(call.func, "attr", "")
        for call in _made_at_import(tree_of(module))
    }
    assert not names & lively


def test_every_kind_of_fact_is_listed_once():
    described = {
        kind
        for module in (
            facts,
            round_facts,
            case_facts,
            treatment_facts,
            choice_facts,
            trial_facts,
            people_facts,
            record_facts,
            rule_facts,
        )
        for kind in vars(module).values()
        if isinstance(kind, type) and issubclass(kind, facts.Fact) and kind is not facts.Fact
    }
    assert described == set(FACT_KINDS)
    assert len(FACT_KINDS) == len(set(FACT_KINDS))


def test_every_figure_has_a_source_and_a_standing_that_fits():
    for field in fields(Figures):
        figure = getattr(rules().figures, field.name)
        assert figure.low <= figure.value <= figure.high, figure.key
        assert figure.source, figure.key
        assert figure.unit, figure.key
        assert figure.note, figure.key
        if figure.standing is Standing.PUBLISHED:
            assert any(char.isdigit() for char in figure.source), figure.key


def test_the_top_level_holds_what_it_may_hold():
    allowed = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml"}
    folders = {"hotelwatch", "tests", "resources", "demo_hotel"}
    tops = {name.split("/")[0] for name in tracked_files()}
    assert {top for top in tops if not top.startswith(".")} <= allowed | folders


def test_resources_are_found_beside_the_clone():
    assert (paths.resources() / "parameters.toml").is_file()
    assert paths.demo_hotel().is_dir()
