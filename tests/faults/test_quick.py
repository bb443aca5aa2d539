"""The campaign of faults in small: ``python -m tests.faults`` tries many more of each."""

from __future__ import annotations

import random
import sys

import pytest

if sys.platform != "linux":
    pytest.skip("children are forked, and watched through /proc", allow_module_level=True)

from tests.faults.all_faults import FAULTS
from tests.faults.campaign import Size


@pytest.mark.parametrize("name", FAULTS)
def test_a_few_of_each_fault_come_out_well(name):
    for tally in FAULTS[name](random.Random(f"quick {name}"), Size(quick=True)):
        assert not tally.failures, (tally.fault, tally.failures)
        assert tally.tries or tally.notes
