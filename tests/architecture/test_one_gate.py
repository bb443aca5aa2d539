from __future__ import annotations

import ast

from tests.sources import MODULES, PROGRAM, nodes_of

GATE = PROGRAM / "actions" / "open_hotel.py"
WRITING = {"append", "replace_stays"}


def writes_to_a_journal(module):
    """Calls such as ``hotel.journal.append(...)``."""
    for node in nodes_of(module):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            of = node.func.value
            named = of.attr if isinstance(of, ast.Attribute) else getattr(of, "id", "")
            if node.func.attr in WRITING and named == "journal":
                yield node


def test_everything_written_down_goes_through_the_one_gate():
    found = {module: list(writes_to_a_journal(module)) for module in MODULES}
    assert {module for module, calls in found.items() if calls} == {GATE}
    # Once for facts, once for bookings, once for a refusal itself.
    assert len(found[GATE]) == 3
