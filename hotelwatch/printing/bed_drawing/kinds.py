"""Which pieces each kind of bed is drawn with, where they stand, and where numbers go."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from hotelwatch.printing.bed_drawing import bases, folding, room, small, soft, stood
from hotelwatch.printing.bed_drawing.picture import Point
from hotelwatch.printing.bed_drawing.sketch import Sketch

Pieces = list[Sketch]
LYING, STOOD = 0.86, 0.76
"""Units to a centimetre of what lies at the left, and of what is stood at the right."""
X, RIGHT_X = 124.0, 322.0
MIDDLE_X = 206.0
"""Where a bed begins that has nothing stood beside it."""
HIGH_Y, MIDDLE_Y, LOW_Y = 128.0, 206.0, 270.0


def pieces_of(kind: str, *, encased: bool) -> Pieces:
    """The pieces of a kind of bed, those behind first; of an unknown one bedding and mattress."""
    draw = DRAWN.get(kind)
    return draw(encased) if draw else _lying(encased, (X, 126))


def room_pieces() -> Pieces:
    """What is looked at in a room beside its beds."""
    wall = room.wall((164, 156), 0.94)
    wall.pin("skirting", (150, 0, 5), by=(-26, 24))
    board = room.board_off((164, 156), 0.94)
    board.pin("headboard_back", (62, 120, 96), by=(-20, -40))
    board.lifts.append(("headboard_back", (178, 80)))
    stand = room.night_stand((184, 170), 0.94)
    stand.pin("night_stands", (64, 20, 34), by=(-36, 14))
    hung = room.picture_and_lamp((356, 132), 0.94)
    hung.pin("pictures_lamps", (5, 40, 36), by=(-10, -34))
    chair = room.seat((374, 224), 0.94)
    chair.pin("seats", (68, 36, 58), by=(-44, 8))
    rack = room.rack((244, 234), 0.94)
    rack.pin("luggage_rack", (46, 30, 46), by=(-40, 6))
    return [wall, board, stand, hung, chair, rack]


def _lying(encased: bool, at: Point) -> Pieces:
    """Headboard, mattress and bedding, one above the other, the mattress where it is said."""
    x, y = at
    board = bases.headboard((x - 34, y + 12), LYING)
    board.pin("headboard_front", (128, 0, 20), by=(4, 54))
    linen = soft.bedding((x, y - 58), LYING)
    linen.pin("bedding", (10, 190, 7), by=(34, -14))
    make = soft.encased_mattress if encased else soft.labelled_mattress
    bed = make((x, y), LYING)
    _pin_mattress(bed)
    return [board, bed, linen]


def _pin_mattress(bed: Sketch, size: Point = (soft.WIDTH, soft.LENGTH)) -> None:
    wide, long = size
    bed.pin("mattress_top", (wide * 0.14, long - 5, 23), by=(28, -16))
    bed.pin("encasement_seams", (wide * 0.14, long - 5, 23), by=(28, -16))
    bed.pin("mattress_label", (wide * 0.4, long, 11), by=(40, 14))
    bed.pin("encasement_zip", (wide * 0.46, long, 12), by=(40, 14))


def _lift(piece: Sketch, place: str, size: Point = (stood.LONG, stood.HIGH)) -> None:
    """Show above a stood piece how many people it takes to stand it."""
    long, high = size
    piece.lifts.append((place, piece.on_canvas((-12, long - 12, high + 28))))


def _stood_mattress(y: float) -> Sketch:
    mattress = stood.stood_mattress((RIGHT_X, y), STOOD)
    mattress.pin("mattress_underside", (0, 100, 75), by=(0, 0))
    _lift(mattress, "mattress_underside")
    return mattress


def _box_spring(encased: bool) -> Pieces:
    base = bases.box_base((X, 158), LYING)
    base.pin("base_edge", (150, 40, 10), by=(-34, 22))
    frame = bases.metal_frame((X, 210), LYING)
    frame.pin("frame_joints", (150, 103, 20), by=(-46, 8))
    if encased:
        under = stood.stood_cover((RIGHT_X, LOW_Y), STOOD)
        under.pin("base_encasement_underside", (0, 100, 75), by=(0, 0))
        _lift(under, "base_encasement_underside")
    else:
        under = _stood_base("base_underside")
        under.pin("base_corner_caps", (0, 10, 10), by=(-34, 8))
    return [frame, base, *_lying(encased, (X, 104)), _stood_mattress(HIGH_Y), under]


def _stood_base(place: str, *, is_open: bool = True) -> Sketch:
    is_divan = place == "divan_underside"
    under = stood.stood_base((RIGHT_X, LOW_Y), STOOD, is_divan=is_divan, is_open=is_open)
    under.pin(place, (0, 78, 96), by=(0, 0))
    under.pin("base_staple_line", (0, 6, 76), by=(-32, 2))
    under.pin("base_inside", (0, 163, 30), by=(-40, 25))
    _lift(under, place)
    return under


def _platform(encased: bool) -> Pieces:
    top = bases.platform_top((X, 194), LYING)
    top.pin("platform_top", (20, 190, 10), by=(30, -14))
    under = stood.stood_platform((RIGHT_X, MIDDLE_Y if encased else LOW_Y), STOOD)
    under.pin("platform_underneath", (0, 61, 112), by=(0, 0))
    under.pin("platform_joints", (0, 94, 16), by=(-34, 24))
    if encased:
        top.lifts.append(("platform_top", (X - 88, 246)))
    rest = [] if encased else [_stood_mattress(HIGH_Y)]
    return [top, *_lying(encased, (X, 114)), *rest, under]


def _divan(encased: bool) -> Pieces:
    base = bases.divan_base((X, 192), LYING)
    base.pin("base_edge", (70, 200, 14), by=(30, 30))
    base.pin("divan_drawers", (184, 50, 14), by=(-20, 26))
    under = _stood_base("divan_underside", is_open=not encased)
    return [base, *_lying(encased, (X, 112)), _stood_mattress(HIGH_Y), under]


def _slats(encased: bool) -> Pieces:
    x = MIDDLE_X if encased else X
    frame = bases.slat_frame((x, 196), LYING)
    frame.pin("slats", (60, 155, 12), by=(74, 12))
    frame.pin("slat_ends", (138, 62, 14), by=(-48, 22))
    frame.pin("frame_joints", (146, 196, 16), by=(-44, 2))
    if encased:
        frame.lifts.append(("slats", (x - 100, 240)))
    rest = [] if encased else [_stood_mattress(MIDDLE_Y)]
    return [frame, *_lying(encased, (x, 108)), *rest]


def _adjustable(encased: bool) -> Pieces:
    x = MIDDLE_X if encased else X
    base = folding.adjustable((x, 208), LYING)
    base.pin("adjustable_underside", (150, 24, 26), by=(-40, 14))
    base.pin("frame_joints", (150, 100, 4), by=(-34, 14))
    base.lifts.append(("adjustable_underside", (x + 176, 214)))
    rest = [] if encased else [_stood_mattress(MIDDLE_Y)]
    return [base, *_lying(encased, (x, 100)), *rest]


def _bunk(encased: bool) -> Pieces:
    size, x = small.BUNK, 116.0
    frame = small.bunk((x, 224), 0.8)
    frame.pin("bunk_joints", (90, 15, 37), by=(-30, 16))
    make = soft.encased_mattress if encased else soft.labelled_mattress
    bed = make((x, 62), 0.8, size)
    _pin_mattress(bed, size)
    linen = soft.bedding((x, 20), 0.8, size)
    linen.pin("bedding", (10, 190, 7), by=(34, -14))
    under = small.stood_bunk_deck((308, 176 if encased else 244), 0.8)
    under.pin("bunk_upper_underside", (0, 100, 45), by=(0, 0))
    _lift(under, "bunk_upper_underside", (size[1], size[0]))
    if encased:
        return [frame, bed, linen, under]
    mattress = stood.stood_mattress((308, 122), 0.8, (size[1], size[0]))
    mattress.pin("mattress_underside", (0, 100, 45), by=(0, 0))
    _lift(mattress, "mattress_underside", (size[1], size[0]))
    return [frame, bed, linen, mattress, under]


def _sofa_bed(_encased: bool) -> Pieces:
    frame = folding.sofa((72, 208), 0.98)
    cushions = folding.sofa_cushions((72, 96), 0.98)
    cushions.pin("sofa_cushions", (40, 176, 15), by=(34, -16))
    bed = folding.unfolded((330, 46), 0.84)
    bed.pin("mattress_top", (68, 150, 11), by=(0, 0))
    bed.pin("sofa_fold", (136, 63, 4), by=(-32, 18))
    bed.lifts.append(("sofa_fold", (300, 42)))
    under = folding.tilted_sofa((306, 262), 0.88)
    under.pin("sofa_underside", (0, 100, 42), by=(0, 0))
    under.lifts.append(("sofa_underside", under.on_canvas((-40, 168, 108))))
    return [frame, cushions, bed, under]


def _rollaway(_encased: bool) -> Pieces:
    size = folding.CAMP
    linen = soft.bedding((88, 48), 1.0, size)
    linen.pin("bedding", (10, 180, 7), by=(34, -14))
    bed = soft.mattress((88, 112), 1.0, size)
    bed.pin("mattress_top", (14, 184, 15), by=(30, -16))
    frame = folding.camp_frame((88, 196), 1.0)
    frame.pin("rollaway_frame", (90, 95, 0), by=(-40, 20))
    under = folding.stood_camp((306, 196), 0.86)
    under.pin("rollaway_underside", (0, 95, 45), by=(0, 0))
    _lift(under, "rollaway_underside", (size[1], size[0]))
    return [frame, bed, linen, under]


def _crib(_encased: bool) -> Pieces:
    size, x = small.CRIB, 134.0
    linen = soft.bedding((x, 38), 1.1, size)
    linen.pin("bedding", (10, 130, 7), by=(34, -14))
    bed = soft.mattress((x, 88), 1.1, size)
    bed.pin("mattress_top", (11, 135, 15), by=(30, -16))
    frame = small.crib((x, 234), 1.1)
    frame.pin("crib_joints", (70, 3, 23), by=(-34, 10))
    deck = small.crib_deck((334, 150), 1.1)
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
