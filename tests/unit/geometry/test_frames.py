"""Maps between frames, against arithmetic written here; the L has no symmetry that could hide a slip."""

from __future__ import annotations

import math

import pytest
from samples import L_SHAPE

from coverlayout.geometry.frames import (
    IDENTITY,
    Affine,
    cloth_to_back,
    piece_to_cloth,
    same_turn,
    scale,
    shift,
    turn,
    turns_apart_deg,
)


def test_an_l_turned_a_quarter_clockwise_lies_as_worked_out_by_hand() -> None:
    # Clockwise as seen, y down: (x, y) goes to (-y, x); then the anchor (0, 0) comes to (150, 40).
    placed = piece_to_cloth((0.0, 0.0), (150.0, 40.0), 90.0).ring(L_SHAPE)
    assert placed == tuple((150.0 - y, 40.0 + x) for x, y in L_SHAPE)
    assert placed[3] == (75.0, 100.0), "the foot's end points down"


def test_an_l_turned_by_half_and_three_quarters() -> None:
    assert turn(180).ring(L_SHAPE) == tuple((-x, -y) for x, y in L_SHAPE)
    assert turn(270).ring(L_SHAPE) == tuple((y, -x) for x, y in L_SHAPE)
    assert turn(-90).ring(L_SHAPE) == turn(270).ring(L_SHAPE)
    assert turn(450).ring(L_SHAPE) == turn(90).ring(L_SHAPE)


def test_an_l_seen_from_the_back_is_mirrored_left_to_right() -> None:
    back = cloth_to_back(304.8).ring(shift(10.0, 20.0).ring(L_SHAPE))
    for point, (x, y) in zip(back, L_SHAPE, strict=True):
        assert point == pytest.approx((304.8 - 10.0 - x, 20.0 + y))
    assert min(x for x, _ in back) == pytest.approx(304.8 - 10.0 - 60.0), "width less the far edge"
    assert cloth_to_back(304.8).determinant == -1.0


def test_the_anchor_stays_where_it_is_put_at_any_turn() -> None:
    for turn_deg in (0.0, 33.0, 90.0, 181.5):
        assert piece_to_cloth((7.0, 11.0), (100.0, 50.0), turn_deg).at((7.0, 11.0)) == pytest.approx((100.0, 50.0))


def test_a_free_turn_is_clockwise() -> None:
    half_root = math.sqrt(0.5)
    assert turn(45.0).at((1.0, 0.0)) == pytest.approx((half_root, half_root))


def test_quarter_turns_are_exact() -> None:
    assert turn(90.0) == Affine(0.0, -1.0, 1.0, 0.0)
    assert turn(90.0 + 1e-10) == turn(90.0)
    assert turn(90.001) != turn(90.0)


def test_maps_follow_each_other_in_the_order_they_are_named() -> None:
    assert turn(90).then(shift(10, 0)).at((3.0, 1.0)) == (9.0, 3.0)
    assert shift(10, 0).then(turn(90)).at((3.0, 1.0)) == (-1.0, 13.0)
    assert IDENTITY.then(scale(2.0, 3.0)).vector((1.0, 1.0)) == (2.0, 3.0)
    assert scale(2.0).vector((1.0, 1.0)) == (2.0, 2.0)
    assert scale(2.0, 3.0).determinant == 6.0


def test_a_map_that_flattens_the_plane_has_no_way_back() -> None:
    with pytest.raises(ZeroDivisionError):
        scale(1.0, 0.0).inverse()


def test_turns_are_compared_round_the_circle() -> None:
    assert turns_apart_deg(350.0, 20.0) == pytest.approx(30.0)
    assert turns_apart_deg(-90.0, 270.0) == 0.0
    assert turns_apart_deg(0.0, 180.0) == 180.0
    assert same_turn(359.999999, 0.0, 1e-5)
    assert not same_turn(359.9, 0.0, 0.05)
