"""Straight distances to each side, with their ends, against figures worked out by hand."""

from __future__ import annotations

import pytest
from samples import L_SHAPE, SWATCH

from coverlayout.geometry.directions import SIDES, Side, nearest_on_sides, straight_to, straight_to_edge
from coverlayout.geometry.distance import Shape
from coverlayout.geometry.shapes import Region, rectangle


def box(width: float, height: float, left: float = 0.0, top: float = 0.0) -> Shape:
    return Shape.of(rectangle(width, height, left, top))


@pytest.mark.parametrize(
    ("side", "other", "length", "ends"),
    [
        ("left", (10.0, 30.0, 80.0, 110.0), 10.0, ((100.0, 120.0), (90.0, 120.0))),
        ("right", (10.0, 30.0, 144.0, 90.0), 4.0, ((140.0, 110.0), (144.0, 110.0))),
        ("above", (200.0, 30.0, 50.0, 67.0), 3.0, ((120.0, 100.0), (120.0, 97.0))),
        ("below", (10.0, 30.0, 95.0, 137.0), 7.0, ((102.5, 130.0), (102.5, 137.0))),
    ],
)
def test_a_neighbour_on_each_side(
    side: Side, other: tuple[float, float, float, float], length: float, ends: tuple[tuple[float, float], ...]
) -> None:
    # The piece is 40 x 30 with its corner at (100, 100).
    for shape, neighbour in (
        (box(40, 30, 100, 100), box(*other)),
        (box(40, 30, 100, 100).general(), box(*other).general()),
    ):
        found = straight_to(shape, neighbour, side)
        assert found is not None
        assert found.length_mm == pytest.approx(length, abs=1e-5)
        assert found.from_mm == pytest.approx(ends[0], abs=1e-5)
        assert found.to_mm == pytest.approx(ends[1], abs=1e-5)
        for another in SIDES:
            assert another == side or straight_to(shape, neighbour, another) is None


def test_corners_that_pass_each_other_face_nothing() -> None:
    for side in SIDES:
        assert straight_to(box(40, 30), box(40, 30, 50, 30), side) is None
        assert straight_to(box(40, 30).general(), box(40, 30, 50, 35).general(), side) is None


def test_what_overlaps_lies_on_no_side() -> None:
    for side in SIDES:
        assert straight_to(box(40, 30), box(40, 30, 20, 10), side) is None
        assert straight_to(box(40, 30).general(), box(40, 30, 20, 10).general(), side) is None


def test_an_l_holds_a_piece_in_its_corner() -> None:
    # Stem to x = 20, foot from y = 75: a 10 x 20 piece at (27, 50).
    piece, around = box(10, 20, 27, 50), Shape.of(L_SHAPE)
    left, below = straight_to(piece, around, "left"), straight_to(piece, around, "below")
    assert left is not None
    assert below is not None
    assert left.length_mm == pytest.approx(7.0, abs=1e-5)
    assert below.length_mm == pytest.approx(5.0, abs=1e-5)
    assert straight_to(piece, around, "right") is None
    assert straight_to(piece, around, "above") is None


def test_a_slanted_side_is_met_where_it_is_nearest() -> None:
    # The side from (0, 0) to (40, 20): a piece above it at x = 30 to 50, y = -30 to 0 is nearest at x = 30, 15 below.
    slope = Shape.of(((0.0, 0.0), (40.0, 20.0), (0.0, 20.0)))
    below = straight_to(box(20, 30, 30, -30), slope, "below")
    assert below is not None
    assert below.length_mm == pytest.approx(15.0, abs=1e-5)
    assert below.to_mm == pytest.approx((30.0, 15.0), abs=1e-5)


def test_the_edges_of_the_ground() -> None:
    ground, piece = Shape.of(SWATCH), box(100, 50, 8, 200)
    for one, around in ((piece, ground), (piece.general(), ground.general())):
        found = {side: straight_to_edge(one, around, side) for side in SIDES}
        lengths = {side: straight.length_mm for side, straight in found.items() if straight is not None}
        assert lengths == pytest.approx({"left": 8.0, "right": 196.8, "above": 200.0, "below": 54.8}, abs=1e-5)


def test_no_edge_is_met_where_the_piece_reaches_out() -> None:
    for one in (box(100, 50, -3, 10), box(100, 50, -3, 10).general()):
        assert straight_to_edge(one, Shape.of(SWATCH), "left") is None
    assert straight_to_edge(box(10, 10, 400, 400), Shape.of(SWATCH), "left") is None


def test_a_hole_in_the_ground_has_an_edge_too() -> None:
    ground = Shape.of_region(Region.of(SWATCH).minus(Region.of(rectangle(20.0, 20.0, 150.0, 100.0))))
    right = straight_to_edge(box(40, 40, 100, 90), ground, "right")
    assert right is not None
    assert right.length_mm == pytest.approx(10.0, abs=1e-5)


def test_the_nearest_on_each_side_is_found_among_many() -> None:
    piece = box(40, 30, 100, 100)
    others = [
        box(10, 30, 80, 100),
        box(10, 30, 60, 100),
        box(40, 10, 100, 50),
        box(40, 10, 100, 88),
        box(500, 4, 0, 140),
    ]
    found = nearest_on_sides(piece, others)
    assert {side: (straight.length_mm, index) for side, (straight, index) in found.items()} == {
        "left": (10.0, 0),
        "above": (2.0, 3),
        "below": (10.0, 4),
    }
    assert nearest_on_sides(piece, []) == {}
    ls = nearest_on_sides(box(10, 20, 27, 50), [Shape.of(L_SHAPE)])
    assert {side: round(straight.length_mm, 4) for side, (straight, _) in ls.items()} == {"left": 7.0, "below": 5.0}
