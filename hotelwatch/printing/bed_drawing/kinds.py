"""Which pieces each kind of bed is drawn with, where they stand, and where numbers go."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from hotelwatch.printing.bed_drawing import bases, folding, small, soft, stood
from hotelwatch.printing.bed_drawing.sketch import Sketch

Pieces = list[Sketch]
LEFT, RIGHT = 0.86, 0.8
"""Units to a centimetre of what lies at the left, and of what is stood at the right."""
X, RIGHT_X = 124.0, 318.0
TOP_Y, MIDDLE_Y, LOW_Y = 118.0, 128.0, 268.0


def pieces_of(kind: str, *, encased: bool) -> Pieces:
    """The pieces of a kind of bed, those behind first; of an unknown one bedding and mattress."""
    draw = DRAWN.get(kind)
    return draw(encased) if draw else _lying(encased, down=20)


def _lying(encased: bool, *, down: float = 0.0) -> Pieces:
    """Headboard, mattress and bedding, one above the other."""
    board = bases.headboard((90, 116 + down), LEFT)
    board.pin("headboard_front", (128, 0, 20), by=(4, 52))
    linen = soft.bedding((X, 46 + down), LEFT)
    linen.pin("bedding", (10, 190, 7), by=(34, -14))
    make = soft.encased_mattress if encased else soft.labelled_mattress
    bed = make((X, 104 + down), LEFT)
    bed.pin("mattress_top", (20, 195, 24), by=(24, -16))
    bed.pin("mattress_label", (60, 200, 12), by=(38, 14))
    bed.pin("encasement_seams", (20, 195, 24), by=(24, -16))
    bed.pin("encasement_zip", (70, 200, 12), by=(38, 14))
    return [board, bed, linen]


def _stood_mattress(y: float = MIDDLE_Y) -> Sketch:
    mattress = stood.stood_mattress((RIGHT_X, y), RIGHT)
    mattress.pin("mattress_underside", (0, 100, 75), by=(0, 0))
    mattress.lifts.append(("mattress_underside", (RIGHT_X - 4, y + 26)))
    return mattress


def _box_spring(encased: bool) -> Pieces:
    base = bases.box_base((X, 158), LEFT)
    base.pin("base_edge", (150, 40, 10), by=(-34, 22))
    frame = bases.metal_frame((X, 208), LEFT)
    frame.pin("frame_joints", (150, 103, 20), by=(-44, 6))
    if encased:
        under = stood.stood_cover((RIGHT_X, LOW_Y), RIGHT)
        under.pin("base_encasement_underside", (0, 100, 75), by=(0, 0))
        under.lifts.append(("base_encasement_underside", (RIGHT_X - 4, LOW_Y + 26)))
        return [frame, base, *_lying(encased), _stood_mattress(), under]
    under = stood.stood_base((RIGHT_X, LOW_Y), RIGHT)
    under.pin("base_underside", (0, 70, 90), by=(0, 0))
    under.pin("base_staple_line", (0, 6, 70), by=(-26, 10))
    under.pin("base_corner_caps", (0, 10, 138), by=(-30, 8))
    under.pin("base_inside", (0, 166, 34), by=(24, 34))
    under.lifts.append(("base_underside", (RIGHT_X - 4, LOW_Y + 26)))
    return [frame, base, *_lying(encased), _stood_mattress(), under]


def _platform(encased: bool) -> Pieces:
    top = bases.platform_top((X, 190), LEFT)
    top.pin("platform_top", (20, 190, 10), by=(26, -14))
    low = 206.0 if encased else LOW_Y
    under = stood.stood_platform((RIGHT_X, low), RIGHT)
    under.pin("platform_underneath", (0, 62, 112), by=(0, 0))
    under.pin("platform_joints", (0, 22, 16), by=(-30, 6))
    rest = [] if encased else [_stood_mattress()]
    return [top, *_lying(encased, down=12), *rest, under]


def _divan(encased: bool) -> Pieces:
    base = bases.divan_base((X, 188), LEFT)
    base.pin("base_edge", (40, 200, 16), by=(44, 8))
    base.pin("divan_drawers", (184, 50, 14), by=(-20, 26))
    if encased:
        under = stood.stood_base((RIGHT_X, LOW_Y), RIGHT, has_caps=False, legs=True)
    else:
        under = stood.stood_base((RIGHT_X, LOW_Y), RIGHT, has_caps=False, legs=True)
    under.pin("divan_underside", (0, 70, 90), by=(0, 0))
    under.pin("base_staple_line", (0, 6, 70), by=(-26, 10))
    under.pin("base_inside", (0, 166, 34), by=(24, 34))
    under.lifts.append(("divan_underside", (RIGHT_X - 4, LOW_Y + 26)))
    return [base, *_lying(encased, down=8), _stood_mattress(), under]


def _slats(encased: bool) -> Pieces:
    frame = bases.slat_frame((X, 190), LEFT)
    frame.pin("slats", (60, 130, 12), by=(70, 10))
    frame.pin("slat_ends", (144, 60, 14), by=(-40, 20))
    frame.pin("frame_joints", (146, 196, 16), by=(-40, 8))
    rest = [] if encased else [_stood_mattress(206)]
    return [frame, *_lying(encased, down=12), *rest]


def _adjustable(encased: bool) -> Pieces:
    base = folding.adjustable((X, 206), LEFT)
    base.pin("adjustable_underside", (150, 30, 30), by=(-30, 24))
    base.pin("frame_joints", (150, 100, 4), by=(-30, 16))
    rest = [] if encased else [_stood_mattress(206)]
    return [base, *_lying(encased), *rest]


def _bunk(encased: bool) -> Pieces:
    size = small.BUNK
    frame = small.bunk((96, 224), 0.8)
    frame.pin("bunk_joints", (112, 140, 60), by=(-30, 20))
    make = soft.encased_mattress if encased else soft.labelled_mattress
    bed = make((96, 66), 0.8, size)
    bed.pin("mattress_top", (20, 195, 20), by=(24, -16))
    bed.pin("mattress_label", (40, 200, 10), by=(38, 14))
    bed.pin("encasement_seams", (20, 195, 20), by=(24, -16))
    bed.pin("encasement_zip", (50, 200, 10), by=(38, 14))
    linen = soft.bedding((96, 20), 0.8, size)
    linen.pin("bedding", (10, 190, 7), by=(34, -14))
    mattress = folding.stood_mesh_mattress((300, 90), 0.8)
    mattress.pin("mattress_underside", (0, 100, 45), by=(0, 0))
    under = small.stood_bunk_deck((300, 230), 0.8)
    under.pin("bunk_upper_underside", (0, 100, 45), by=(0, 0))
    return [frame, bed, linen, mattress, under]


def _sofa_bed(_encased: bool) -> Pieces:
    frame = folding.sofa((70, 180), 0.95)
    cushions = folding.sofa_cushions((70, 110), 0.95)
    cushions.pin("sofa_cushions", (50, 170, 15), by=(20, -20))
    bed = folding.unfolded((330, 60), 0.8)
    bed.pin("mattress_top", (60, 160, 11), by=(20, -20))
    bed.pin("sofa_fold", (136, 63, 4), by=(-30, 20))
    under = folding.tilted_sofa((300, 260), 0.9)
    under.pin("sofa_underside", (0, 100, 42), by=(0, 0))
    return [frame, cushions, bed, under]


def _rollaway(_encased: bool) -> Pieces:
    size = folding.CAMP
    linen = soft.bedding((90, 50), 1.0, size)
    linen.pin("bedding", (10, 180, 7), by=(34, -14))
    bed = soft.mattress((90, 110), 1.0, size)
    bed.pin("mattress_top", (20, 185, 15), by=(24, -16))
    frame = folding.camp_frame((90, 180), 1.0)
    frame.pin("rollaway_frame", (90, 95, 0), by=(-40, 20))
    under = folding.stood_camp((300, 190), 0.9)
    under.pin("rollaway_underside", (0, 95, 45), by=(0, 0))
    return [frame, bed, linen, under]


def _crib(_encased: bool) -> Pieces:
    size = small.CRIB
    linen = soft.bedding((100, 36), 1.1, size)
    linen.pin("bedding", (10, 130, 7), by=(34, -14))
    bed = soft.mattress((100, 86), 1.1, size)
    bed.pin("mattress_top", (20, 135, 15), by=(24, -16))
    frame = small.crib((100, 230), 1.1)
    frame.pin("crib_joints", (70, 3, 23), by=(-30, 10))
    deck = small.crib_deck((320, 140), 1.1)
    deck.pin("crib_base", (35, 70, 5), by=(0, 0))
    return [frame, bed, linen, deck]


DRAWN: Mapping[str, Callable[[bool], Pieces]] = {
    "box_spring": _box_spring,
    "platform": _platform,
    "divan": _divan,
    "slats": _slats,
    "adjustable": _adjustable,
    "bunk": _bunk,
    "sofa_bed": _sofa_bed,
    "rollaway": _rollaway,
    "crib": _crib,
}
