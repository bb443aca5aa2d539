"""How well a figure or a rule is known."""

from __future__ import annotations

from enum import StrEnum


class Standing(StrEnum):
    """How well a figure is known."""

    MEASURED = "measured"
    PUBLISHED = "published"
    FROM_MEMORY = "from_memory"
    COMMON_PRACTICE = "common_practice"
    ASSUMPTION = "assumption"
    CHOSEN = "chosen"
    """The hotel's own value, in place of a shipped one."""
