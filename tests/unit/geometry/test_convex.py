"""Convex parts: none bends inwards, none overlaps another, and together they are the shape."""

from __future__ import annotations

import random

import pytest
from shapely import unary_union
from shapely.geometry import Polygon

from coverlayout.geometry.convex import convex_parts, hull, is_convex
from coverlayout.geometry.frames import Ring, turn
from coverlayout.geometry.shapes import Region, rectangle

ELL: Ring = ((0.0, 0.0), (110.0, 0.0), (110.0, 38.0), (40.0, 38.0), (40.0, 90.0), (0.0, 90.0))
HORSESHOE: Ring = (
    (0.0, 0.0), (90.0, 0.0), (90.0, 70.0), (60.0, 70.0), (60.0, 30.0), (30.0, 30.0), (30.0, 70.0), (0.0, 70.0)
)  # fmt: skip
DART: Ring = ((0.0, 0.0), (80.0, 3.0), (50.0, 30.0), (70.0, 80.0), (10.0, 60.0))


def faults(region: Region) -> list[str]:
    parts = convex_parts(region)
    polygons = [Polygon(part) for part in parts]
    found = [f"{part} bends inwards" for part in parts if not is_convex(part)]
    if sum(polygon.area for polygon in polygons) != pytest.approx(region.area_mm2, abs=1e-3):
        found.append("parts overlap or are lost")
    if unary_union(polygons).symmetric_difference(region.shape).area > 1e-3:
        found.append("parts lie elsewhere")
    return found


@pytest.mark.parametrize("ring", [ELL, HORSESHOE, DART])
def test_turned_shapes_and_what_is_cut_out_by_them_come_apart_without_loss(ring: Ring) -> None:
    rng = random.Random(5)
    for turn_deg in (0.0, 3.0, 93.0, 273.0, *(rng.uniform(0, 360) for _ in range(60))):
        shape = Region.of(turn(turn_deg).ring(ring))
        assert faults(shape) == []
        assert faults(Region.of(rectangle(400, 400, -200, -200)).minus(shape)) == []


def test_few_parts_are_made() -> None:
    assert len(convex_parts(Region.of(ELL))) == 2
    assert len(convex_parts(Region.of(HORSESHOE))) == 3
    assert len(convex_parts(Region.of(DART))) == 2
    assert [set(part) for part in convex_parts(Region.of(rectangle(30, 20)))] == [set(rectangle(30, 20))]
    assert convex_parts(Region.nothing()) == ()


def test_points_on_a_straight_edge_do_not_matter() -> None:
    ring = ((0.0, 0.0), (10.0, 0.0), (20.0, 0.0), (20.0, 10.0), (0.0, 10.0))
    assert is_convex(ring)
    assert is_convex(ring[::-1])
    assert not is_convex(ELL)
    assert len(convex_parts(Region.of(ring))[0]) == 4


def test_the_hull_closes_what_bends_inwards() -> None:
    assert Polygon(hull(Region.of(ELL))).area == pytest.approx(110 * 90 - (110 - 40) * (90 - 38) / 2)
    assert len(hull(Region.of(ELL))) == 5
    assert hull(Region.nothing()) == ()
