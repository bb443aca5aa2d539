"""The campaign of faults in small: ``python -m tests.faults`` tries many more of each."""

from __future__ import annotations

import random
import sys
import time

import pytest

if sys.platform != "linux":
    pytest.skip("children are forked, and watched through /proc", allow_module_level=True)

from tests.faults.all_faults import FAULTS
from tests.faults.campaign import HANGS, Size, watched


@pytest.mark.parametrize("name", FAULTS)
def test_a_few_of_each_fault_come_out_well(name):
    for tally in FAULTS[name](random.Random(f"quick {name}"), Size(quick=True)):
        assert not tally.failures, (tally.fault, tally.failures)
        assert tally.tries or tally.notes


def test_a_child_hangs_by_its_own_work_or_by_waiting_much_longer_than_it_may_work():
    def works(_item):
        while True:
            pass

    def ended(work, seconds):
        [(_, how, _)] = watched(["one"], work, seconds=seconds, mib=200)
        return how

    assert ended(works, 0.2) == HANGS
    assert ended(lambda _: time.sleep(0.4), 0.2) == ""
    assert ended(lambda _: time.sleep(60), 0.05) == HANGS
