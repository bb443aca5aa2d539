"""What every test stands on: no screen, a private home, and Qt left out where asked."""

from __future__ import annotations

import gc
import os
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

# How long an example takes says how busy the machine is, not whether the law holds.
settings.register_profile("short", max_examples=40, deadline=None)
settings.register_profile("whole", max_examples=100, deadline=None)
settings.load_profile("short")

# Modules, tests and parsed sources stay until the end. Looking through them for garbage again
# and again made parsing all sources three times as long.
gc.set_threshold(20_000, 20, 20)

_home = Path(tempfile.mkdtemp(prefix="hotelwatch-tests-"))
os.environ.update(
    QT_QPA_PLATFORM="offscreen",
    QT_SCALE_FACTOR="1",
    LC_ALL="C.UTF-8",
    LANGUAGE="en",
    XDG_CONFIG_HOME=str(_home / "config"),
    XDG_DATA_HOME=str(_home / "data"),
    XDG_CACHE_HOME=str(_home / "cache"),
)


class _NoQt:
    """An import finder that behaves as if PySide6 were not installed."""

    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] == "PySide6":
            raise ModuleNotFoundError("PySide6 is left out of this run")


if os.environ.get("WITHOUT_QT"):
    sys.meta_path.insert(0, _NoQt())


LONG = frozenset(
    {
        "actions/test_demo_hotel.py",
        "actions/test_out_and_in_again.py",
        "cli/test_sheet_commands.py",
        "cli/test_simulate_commands.py",
        "core/test_large_rooms.py",
        "core/test_odds_day_later.py",
        "core/test_odds_room_laws.py",
        "core/test_odds_weights.py",
        "core/test_past_days.py",
        "core/test_release_law.py",
        "core/test_repairs.py",
        "core/test_rolling.py",
        "core/test_simulation.py",
        "core/test_simulation_against.py",
        "core/test_strict.py",
        "core/test_survey_laws.py",
        "core/test_year_bound.py",
        "faults/test_quick.py",
        "journeys/test_forecast_on_resort.py",
        "journeys/test_resort.py",
        "journeys/test_response_by_commands.py",
        "papers/test_month_book.py",
        "papers/test_span_book.py",
        "printing/bed_drawing/test_painting.py",
        "printing/test_round_page.py",
        "screens/test_back_pane.py",
        "screens/test_compare_pane.py",
        "screens/test_cycle_pane.py",
        "screens/test_odds_page.py",
        "screens/test_over_time.py",
        "screens/test_probe_chart.py",
        "screens/test_role_pages.py",
        "screens/test_since_pane.py",
        "screens/test_survey_pane.py",
        "screens/test_trials_pane.py",
        "store/test_exporting.py",
    }
)
"""Files of several seconds that others cover in part: CI has ten minutes for all the others."""


def pytest_collection_modifyitems(items):
    """Mark the longest files, which run by a command of their own."""
    root = Path(__file__).parent
    for item in items:
        if item.path.relative_to(root).as_posix() in LONG:
            item.add_marker(pytest.mark.long)


def pytest_collection_finish():
    """Take all that was collected for what stays."""
    gc.collect()
    gc.freeze()


PARSES_ALL = frozenset(
    {
        "tests/architecture/test_house_rules.py",
        "tests/architecture/test_one_gate.py",
        "tests/wording/test_counted.py",
        "tests/wording/test_language.py",
        "tests/wording/test_problems.py",
        "tests/wording/test_treatment.py",
    }
)
"""Files that look through ``tests.sources``: one worker runs them all, so that it parses once."""


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Workers take whole files, as ``loadfile`` says, or all of those that parse everything."""
    if config.getoption("dist") != "loadfile":
        return None
    from xdist.scheduler import LoadFileScheduling

    class ByFile(LoadFileScheduling):
        def _split_scope(self, nodeid):
            file = super()._split_scope(nodeid)
            return "sources" if file in PARSES_ALL else file

    return ByFile(config, log)
