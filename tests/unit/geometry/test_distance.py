"""Measuring between shapes against figures worked out by hand; the quick and the general way side by side."""

from __future__ import annotations

import math

import pytest
from samples import FLAW, L_SHAPE, SLIVER, SWATCH

from coverlayout.geometry.distance import Shape
from coverlayout.geometry.frames import shift, turn
from coverlayout.geometry.shapes import Region, rectangle


def box(width: float, height: float, left: float = 0.0, top: float = 0.0) -> Shape:
    return Shape.of(rectangle(width, height, left, top))


def both_ways(*shapes: Shape) -> list[list[Shape]]:
    return [list(shapes), [shape.general() for shape in shapes]]


def test_shapes_stand_apart_straight_and_corner_to_corner() -> None:
    for one, beside, corner, on_it in both_ways(box(10, 20), box(5, 5, 13, 4), box(5, 5, 13, 24), box(5, 5, 8, 8)):
        assert one.apart_mm(beside) == pytest.approx(3.0)
        assert one.apart_mm(corner) == pytest.approx(5.0)
        assert one.apart_mm(on_it) == 0.0


def test_the_distance_of_far_shapes_may_be_that_of_their_boxes() -> None:
    foot_up = Shape.of(shift(80.0, 0.0).then(turn(180).then(shift(60.0, 100.0))).ring(L_SHAPE))
    upright = Shape.of(L_SHAPE)
    exact = upright.apart_mm(foot_up)
    assert upright.apart_mm(foot_up, 5.0) <= exact
    assert upright.apart_mm(foot_up, 1000.0) == exact


def test_nothing_is_infinitely_far() -> None:
    nothing = Shape.of_region(Region.nothing())
    assert nothing.is_empty
    assert box(5, 5).apart_mm(nothing) == math.inf
    assert not nothing.holds(box(5, 5))
    assert nothing.edge_mm(box(5, 5)) == 0.0
    assert nothing.beyond_mm(box(5, 9)) == 5.0


def test_an_overlap_is_as_wide_as_the_largest_circle_in_it() -> None:
    for one, other, inside, touching in both_ways(box(10, 10), box(20, 30, 7, 4), box(2, 4, 3, 3), box(10, 10, 10, 0)):
        assert one.overlap_mm(other) == pytest.approx(3.0, abs=2e-3)
        assert one.overlap_mm(inside) == pytest.approx(2.0, abs=2e-3)
        assert one.overlap_mm(touching) == 0.0


def test_two_triangles_overlap_by_the_circle_that_fits() -> None:
    # The two share the triangle (0, 0), (10, 0), (5, 5): its inscribed circle has radius area / half the perimeter.
    one, other = Shape.of(((0, 0), (10, 0), (10, 10))), Shape.of(((0, 0), (10, 0), (0, 10)))
    radius = 25.0 / ((10.0 + 2 * math.hypot(5, 5)) / 2)
    assert one.overlap_mm(other) == pytest.approx(2 * radius, abs=2e-3)
    assert one.shared_mm2(other) == pytest.approx(25.0, abs=1e-4)


def test_an_l_does_not_overlap_what_stands_in_its_corner() -> None:
    upright = Shape.of(L_SHAPE)
    assert upright.overlap_mm(box(40, 75, 20, 0)) == 0.0
    assert upright.apart_mm(box(30, 60, 25, 5)) == pytest.approx(5.0)
    assert upright.overlap_mm(box(40, 77, 20, 0)) == pytest.approx(2.0, abs=2e-3)


def test_shared_areas() -> None:
    for one, other, away in both_ways(box(10, 10), box(20, 30, 7, 4), box(5, 5, 50, 50)):
        assert one.shared_mm2(other) == pytest.approx(18.0)
        assert one.shared_mm2(away) == 0.0
        assert one.area_mm2 == pytest.approx(100.0)


def test_ground_holds_what_reaches_out_by_no_more_than_the_tolerance() -> None:
    for cloth, inside, a_hair, out in both_ways(
        box(304.8, 304.8), box(304.8, 10), box(100, 10, -0.009, 5), box(100, 10, -0.011, 5)
    ):
        assert cloth.holds(inside)
        assert cloth.holds(a_hair)
        assert not cloth.holds(out)


def test_how_far_a_piece_reaches_out() -> None:
    for cloth, side, corner in both_ways(box(304.8, 304.8), box(100, 50, 207.8, 20), box(100, 50, 207.8, 258.8)):
        assert cloth.beyond_mm(side) == pytest.approx(3.0)
        assert cloth.beyond_mm(corner) == pytest.approx(5.0)
        assert cloth.beyond_mm(box(10, 10, 5, 5)) == 0.0


def test_a_hole_under_a_piece_counts_by_half_its_width() -> None:
    ground = Shape.of_region(Region.of(SWATCH).minus(Region.of(rectangle(8.0, 20.0, 50.0, 50.0))))
    over = box(60, 60, 20, 20)
    assert not ground.upright
    assert not ground.holds(over)
    assert ground.beyond_mm(over) == pytest.approx(4.0, abs=2e-3)


def test_a_flaw_is_hit_however_thin_and_may_be_touched() -> None:
    for piece, thread, touching in both_ways(box(50, 50), box(100, 0.002, -10, 25), box(10, 10, 50, 0)):
        assert piece.lies_on(thread)
        assert not piece.lies_on(touching)
        assert not piece.lies_on(box(10, 10, 49.991, 0))
        assert piece.lies_on(box(10, 10, 49.989, 0))
    assert Shape.of(FLAW).lies_on(box(20, 20, 70, 35))
    assert not Shape.of(FLAW).lies_on(box(5, 5, 92, 50)), "beside the slanted side"


def test_a_sliver_is_judged_though_it_is_thinner_than_the_tolerance() -> None:
    sliver = Shape.of(SLIVER)
    assert sliver.lies_on(box(10, 10, 5, -5))
    assert box(300, 300).general().holds(sliver.general())
    assert not box(300, 300, 400, 400).general().holds(sliver.general())


def test_the_distance_from_an_edge() -> None:
    for cloth, board, out in both_ways(box(304.8, 304.8), box(100, 50, 9, 20), box(100, 50, -5, 20)):
        assert cloth.edge_mm(board) == pytest.approx(9.0)
        assert cloth.edge_mm(out) == 0.0


def test_the_ends_of_the_least_distance() -> None:
    assert box(10, 20).nearest(box(5, 5, 13, 4)) == ((10.0, 6.5), (13.0, 6.5))
    assert box(10, 20).nearest(box(5, 5, 13, 24)) == ((10.0, 20.0), (13.0, 24.0))
    assert box(5, 5, 13, 4).nearest(box(10, 20)) == ((13.0, 6.5), (10.0, 6.5))
    assert box(300, 200).nearest_edge(box(80, 50, 5, 9)) == ((5.0, 34.0), (0.0, 34.0))
    assert box(300, 200).nearest_edge(box(80, 50, 50, 140)) == ((90.0, 190.0), (90.0, 200.0))
    for one, other in both_ways(box(10, 20), box(5, 5, 13, 24)):
        assert math.dist(*one.nearest(other)) == pytest.approx(5.0)
    near, edge = box(300, 200).general().nearest_edge(box(80, 50, 5, 9).general())
    assert math.dist(near, edge) == pytest.approx(5.0)


def test_a_line_meets_a_shape_when_it_passes_over_it() -> None:
    for (ell,) in both_ways(Shape.of(L_SHAPE)):
        assert ell.meets_line((-5.0, 1.0), (500.0, 1.0))
        assert not ell.meets_line((-5.0, -1.0), (500.0, -1.0)), "beside its box"
        assert not ell.meets_line((-50.0, -1.0), (-1.0, 5.0))
        assert not ell.meets_line((21.0, 10.0), (55.0, 70.0)), "in its notch"
        assert not ell.meets_line((-5.0, 1.0), (0.0, 1.0)), "only up to its edge"
