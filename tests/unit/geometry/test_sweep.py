"""Where a shape may lie: against arithmetic for rectangles and L-shapes, and against shapely point by point."""

from __future__ import annotations

import pytest
from shapely import affinity
from shapely.geometry import Polygon

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.geometry.sweep import places_clear_of, places_within

ELL: Ring = ((0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (10.0, 10.0), (10.0, 40.0), (0.0, 40.0))
KITE: Ring = ((-5.0, 0.0), (0.0, -12.0), (9.0, 0.0), (0.0, 7.0))


def test_a_rectangle_in_a_rectangle_has_the_difference_of_their_sides() -> None:
    places = places_within(Region.of(rectangle(100, 60, 5, 7)), rectangle(30, 20, -15, -10))
    assert places.bounds == Box(20.0, 17.0, 70.0, 40.0)
    assert places.area_mm2 == pytest.approx(70 * 40)


def test_what_is_too_large_has_no_place() -> None:
    assert places_within(Region.of(rectangle(100, 60)), rectangle(101, 20)).is_empty
    assert places_within(Region.nothing(), rectangle(1, 1)).is_empty


def test_a_hole_in_the_ground_is_kept_out_of_the_shape() -> None:
    ground = Region.of(rectangle(100, 60), [rectangle(10, 10, 45, 25)])
    places = places_within(ground, rectangle(20, 20))
    # 80 x 40 less every corner from which the square would meet the hole: 30 x 30.
    assert places.area_mm2 == pytest.approx(80 * 40 - 30 * 30)


def test_a_small_hole_may_not_lie_under_a_shape_with_a_bay() -> None:
    ground = Region.of(rectangle(100, 100), [rectangle(2, 2, 50, 50)])
    places = places_within(ground, ELL)
    # The hole under the upright of the L, under its foot, and free in its bay.
    assert not places.contains((47.0, 30.0))
    assert not places.contains((32.0, 45.0))
    assert places.contains((35.0, 25.0))


def test_two_grounds_are_not_bridged() -> None:
    ground = Region.union([Region.of(rectangle(30, 30)), Region.of(rectangle(30, 30, 40, 0))])
    places = places_within(ground, rectangle(20, 20))
    assert [Region.of(*part).bounds for part in places.parts()] == [Box(0, 0, 10, 10), Box(40, 0, 10, 10)]


@pytest.mark.parametrize("outline", [ELL, KITE, rectangle(12, 31, -3, -4)])
def test_every_place_is_told_rightly(outline: Ring) -> None:
    ground = Region.of(((0.0, 0.0), (120.0, 10.0), (100.0, 90.0), (40.0, 100.0), (50.0, 60.0), (0.0, 70.0)))
    stain = Region.of(((60.0, 30.0), (75.0, 35.0), (62.0, 48.0)))
    ell = Region.of(tuple((x + 20.0, y + 15.0) for x, y in ELL))
    ring_stain = Region.of(rectangle(20, 20, 80, 55), [rectangle(14, 14, 83, 58)])
    inside = places_within(ground, outline)
    places = places_clear_of(inside, outline, [stain, ell, ring_stain])
    checked = 0
    for x in range(-2, 122, 7):
        for y in range(-2, 104, 7):
            shape = affinity.translate(Polygon(outline), x + 0.3, y + 0.4)
            near = min(
                abs(places.shape.boundary.distance(p))
                for p in [affinity.translate(Polygon([(0, 0), (1e-9, 0), (0, 1e-9)]), x + 0.3, y + 0.4)]
            )
            if near < 1e-3:
                continue
            lies = ground.shape.covers(shape) and not any(
                shape.intersection(other.shape).area > 1e-9 for other in (stain, ell, ring_stain)
            )
            assert places.contains((x + 0.3, y + 0.4)) == lies
            checked += 1
    assert checked > 200


def test_a_small_shape_does_not_lie_inside_a_stain_nor_around_it() -> None:
    ground = places_within(Region.of(rectangle(100, 100)), ELL)
    dot = Region.of(rectangle(1, 1, 50, 50))
    around = places_clear_of(ground, ELL, [dot])
    assert not around.contains((45.0, 45.0))
    assert around.contains((35.0, 35.0))
    large = Region.of(((10.0, 10.0), (90.0, 10.0), (90.0, 90.0), (50.0, 40.0), (10.0, 90.0)))
    assert not places_clear_of(ground, ELL, [large]).contains((14.0, 20.0))


def test_nothing_to_keep_clear_of_leaves_all_places() -> None:
    places = places_within(Region.of(rectangle(100, 60)), KITE)
    assert places_clear_of(places, KITE, []) is places
