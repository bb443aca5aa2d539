"""Every fault of the campaign, by name."""

from __future__ import annotations

from tests.faults.kills import kills

FAULTS = {"kills": kills}
