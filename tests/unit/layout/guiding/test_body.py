"""A piece as guides see it: its outline on the cloth, the small angle of its sides, the box along turned axes."""

from __future__ import annotations

import math

import pytest

from coverlayout.geometry.shapes import Box
from coverlayout.layout.guiding.body import Body, along_same, axes_deg, box_around
from coverlayout.layout.question import Placed

L_SHAPE = ((0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (15.0, 10.0), (15.0, 60.0), (0.0, 60.0))


@pytest.mark.parametrize(
    ("turn_deg", "small"),
    [
        (0.0, 0.0),
        (2.0, 2.0),
        (358.0, -2.0),
        (182.0, 2.0),
        (45.0, 45.0),
        (135.0, 45.0),
        (46.0, -44.0),
        (-90.0, 0.0),
        (45.0 + 1e-13, 45.0),
    ],
)
def test_quarter_turns_leave_the_small_angle(turn_deg: float, small: float) -> None:
    assert axes_deg(turn_deg) == pytest.approx(small)


def test_sides_are_parallel_across_the_seam() -> None:
    assert along_same(45.0, 134.999999 + 0.000001)
    assert along_same(44.999999999, 315.0)
    assert along_same(2.0, 272.0)
    assert not along_same(2.0, 1.0)


def test_an_outline_without_symmetry_lies_turned_about_its_anchor() -> None:
    body = Body(Placed("l-1", "c", 100.0, 50.0, 90.0), "L", L_SHAPE, (15.0, 10.0), Box(2.0, 3.0, 10.0, 5.0))
    # Clockwise by a quarter, (dx, dy) from the anchor becomes (-dy, dx).
    assert body.ring_mm[0] == (110.0, 35.0)
    assert body.ring_mm[1] == (110.0, 75.0)
    assert body.at_mm == (100.0, 50.0)
    # The board's far corner (12, 8) is (-3, -2) from the anchor, so (2, -3) after the turn.
    assert body.board_ring_mm is not None
    assert body.board_ring_mm[2] == (102.0, 47.0)
    assert body.axes_deg == 0.0


def test_a_piece_without_a_board_has_none_on_the_cloth() -> None:
    assert Body(Placed("l-1", "c", 0.0, 0.0), "L", L_SHAPE, (0.0, 0.0)).board_ring_mm is None


def test_the_box_is_measured_along_the_turned_axes() -> None:
    turned = Body(Placed("l-1", "c", 30.0, 40.0, 30.0), "L", L_SHAPE, (0.0, 0.0))
    box = box_around([turned], 30.0)
    # Along its own sides the L is 40 x 60; its corner lies at (30, 40) turned back by 30 degrees.
    cos, sin = math.cos(math.radians(30)), math.sin(math.radians(30))
    assert (box.width_mm, box.height_mm) == pytest.approx((40.0, 60.0))
    assert (box.left_mm, box.top_mm) == pytest.approx((30 * cos + 40 * sin, -30 * sin + 40 * cos))


def test_the_box_goes_around_all() -> None:
    one = Body(Placed("a-1", "c", 0.0, 0.0), "A", L_SHAPE, (0.0, 0.0))
    other = Body(Placed("b-1", "c", 100.0, 5.0), "B", L_SHAPE, (0.0, 0.0))
    assert box_around([one, other], 0.0) == Box(0.0, 0.0, 140.0, 65.0)
    with pytest.raises(ValueError, match="not enough values"):
        box_around([], 0.0)
