"""Every fault of the campaign, by name."""

from __future__ import annotations

from tests.faults.clocks import clocks
from tests.faults.disks import disks
from tests.faults.flips import flips
from tests.faults.keeping import keeping
from tests.faults.kills import kills
from tests.faults.mangled import mangled
from tests.faults.power_cuts import power_cuts
from tests.faults.shares import network
from tests.faults.two_at_once import two_at_once

FAULTS = {
    "flips": flips,
    "kills": kills,
    "keeping": keeping,
    "power": power_cuts,
    "disks": disks,
    "shares": network,
    "clocks": clocks,
    "windows": two_at_once,
    "mangled": mangled,
}
"""The one that takes longest first: several may be tried at once."""
