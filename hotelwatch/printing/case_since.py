"""On a case's paper: when what was found may have come in, and the odds of rooms next door."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hotelwatch.printing.page import HINT, STRONG, Block, Canvas, cells, stacked, text_block
from hotelwatch.wording.language import _
from hotelwatch.wording.since import (
    case_lines,
    find_heading,
    kinds_text,
    limit_lines,
    neighbour_text,
    rests_text,
    since_lines,
)

if TYPE_CHECKING:
    from hotelwatch.core.odds.since import CaseOdds, FindSince

NEAR = (0.0, 0.12, 0.6)


def since_blocks(canvas: Canvas, odds: CaseOdds) -> list[Block]:
    """A block for each find and one for its neighbours; none of a case that was ruled out."""
    if odds.is_ruled_out:
        return []
    blocks = [block for found in odds.finds for block in _find(canvas, odds, found)]
    said = [text_block(canvas, line) for line in case_lines(odds)]
    if odds.finds:
        said.append(text_block(canvas, rests_text(), HINT))
    return [*blocks, stacked(said)] if said else blocks


def _find(canvas: Canvas, odds: CaseOdds, found: FindSince) -> Iterator[Block]:
    lines = [*since_lines(found), *limit_lines(found)]
    heading = text_block(canvas, find_heading(found), STRONG)
    yield stacked([heading, *(text_block(canvas, line) for line in lines)])
    if not found.neighbours or not odds.is_latest(found):
        return
    title = (
        _("Chance that something is there today, next door to {room} (assumed)")
        if found.is_judged
        else _(
            "Chance that something is there today, next door to {room}, if what was found is bed"
            " bugs (assumed)"
        )
    )
    columns = [canvas.width * start for start in NEAR]
    rows = [(row.room, neighbour_text(row), kinds_text(row)) for row in found.neighbours]
    yield stacked(
        [
            text_block(canvas, title.format(room=found.room)),
            *(cells(canvas, row, columns) for row in rows),
        ]
    )
