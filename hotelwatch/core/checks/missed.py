"""How likely clean looks would have missed what was there, as far as that is known.

Each look is taken to find the published share, and to miss by itself: optimistic where the
same blind spots repeat. It says how the looks would have gone had something been there,
and nothing of how likely it was there.

Source: 72 +-3 % of infestations found by a brief visual check: Wang, Singh, Zha, Cooper
2016, J Med Entomol 53(3), in homes; in a hotel room with few insects likely less.
"""

from __future__ import annotations

from hotelwatch.core.parameters import Figures


def chance_all_missed(clean_looks: int, figures: Figures) -> float:
    """The chance, 0 to 1, that so many clean looks all missed an infestation that was there."""
    return float((1.0 - figures.visual_detection.value) ** clean_looks)
