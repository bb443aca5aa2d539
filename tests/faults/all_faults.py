"""Every fault of the campaign, by name."""

from __future__ import annotations

from tests.faults.flips import flips
from tests.faults.kills import kills
from tests.faults.mangled import mangled
from tests.faults.power_cuts import power_cuts

FAULTS = {"kills": kills, "power": power_cuts, "flips": flips, "mangled": mangled}
