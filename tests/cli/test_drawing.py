"""Rooms drawn by command."""

from __future__ import annotations


def corners(text):
    rows = [line.split() for line in text.splitlines()]
    return [(float(row[1]), float(row[2])) for row in rows if len(row) == 3 and row[0].isdigit()]


def test_a_room_is_drawn_shown_and_taken_back(hotel):
    room = "101"
    laid = hotel("draw-room", hotel.file, room)
    assert "laid out from the roster" in laid
    assert len(corners(laid)) == 4
    drawn = hotel("draw-room", hotel.file, room, "-200,-90", "-196,-90", "-196,-83", "-200,-83")
    assert "Written down." in drawn
    assert "28.0 square metres, drawn by hand" in drawn
    assert corners(drawn) == [(-200, -90), (-196, -90), (-196, -83), (-200, -83)]
    assert "Rooms drawn" in hotel("list", "entries", hotel.file)
    back = hotel("draw-room", hotel.file, room, "--as-laid-out")
    assert corners(back) == corners(laid)


def test_a_corner_suite_is_drawn_and_its_floor_told(hotel):
    """Eight by seven metres without a core of four by four: 40 square metres."""
    suite = ["-200,-90", "-192,-90", "-192,-87", "-196,-87", "-196,-83", "-200,-83"]
    drawn = hotel("draw-room", hotel.file, "101", *suite)
    assert "40.0 square metres, drawn by hand" in drawn
    assert [f"{x:g},{y:g}" for x, y in corners(drawn)] == suite


def test_a_drawing_that_can_not_be_is_refused_with_the_mend(hotel):
    crossed = hotel("draw-room", hotel.file, "101", "0,0", "9,9", "9,0", "0,9", exit_code=1)
    assert "walls that cross or touch" in crossed
    assert "Move a corner" in crossed
    small = hotel("draw-room", hotel.file, "101", "0,90", "1,90", "1,91", "0,91", exit_code=1)
    assert "too small" in small
    assert "no corner" in hotel("draw-room", hotel.file, "101", "0;0", exit_code=2)
    assert "no room 999" in hotel("draw-room", hotel.file, "999", exit_code=1)
