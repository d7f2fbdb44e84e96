"""Convex parts: nothing lost, nothing twice, and every one of them convex, whatever the shape."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator

import pytest
from samples import L_SHAPE
from shapely.geometry import Polygon

from coverlayout.geometry.convex import convex_parts, hull, is_convex
from coverlayout.geometry.frames import Ring, shift, turn
from coverlayout.geometry.shapes import Region, rectangle

WEDGE: Ring = ((0.0, 0.0), (70.0, 12.0), (20.0, 40.0))
# A hook that closes nearly round: its inside is reached only from the right.
HOOK: Ring = (
    (0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (60.0, 50.0), (60.0, 45.0), (70.0, 45.0),
    (70.0, 70.0), (0.0, 70.0),
)  # fmt: skip


def bends(ring: Ring) -> list[float]:
    """Cross products at all corners by the textbook, mm2: of one sign for a convex ring."""
    corners = zip(ring, ring[1:] + ring[:1], ring[2:] + ring[:2], strict=True)
    return [(x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1) for (x0, y0), (x1, y1), (x2, y2) in corners]


def faults_of(parts: tuple[Ring, ...], shape: Polygon) -> list[str]:
    """What is wrong with the convex parts of a shape."""
    found = [f"{ring} bends inwards" for ring in parts if min(bends(ring)) < -1e-6 < 1e-6 < max(bends(ring))]
    polygons = [Polygon(ring) for ring in parts]
    if abs(sum(one.area for one in polygons) - shape.area) > 1e-4:
        found.append(f"{sum(one.area for one in polygons)} mm2 of {shape.area}")
    shared = sum(one.intersection(other, grid_size=1e-9).area for one, other in itertools.combinations(polygons, 2))
    outside = sum(one.difference(shape.buffer(1e-5)).area for one in polygons)
    return found + [f"{area} mm2 twice or outside" for area in (shared, outside) if area > 1e-4]


def random_shapes(seed: int, count: int) -> Iterator[Polygon]:
    """Shapes with many corners around the origin, some on whole millimetres, some with a hole."""
    chance = random.Random(seed)
    for _ in range(count):
        corners = chance.randint(4, 14)
        angles = [2 * math.pi * (k + chance.uniform(0.0, 0.9)) / corners for k in range(corners)]
        points = [(r * math.cos(a), r * math.sin(a)) for a in angles for r in [chance.uniform(8.0, 60.0)]]
        if chance.random() < 0.4:
            points = [(round(x), round(y)) for x, y in points]
        shape = Polygon(points)
        if chance.random() < 0.3:
            shape = shape.difference(Polygon([(-2, -3), (4, -2), (1, 3)])) if shape.is_valid else shape
        if shape.is_valid and isinstance(shape, Polygon) and shape.area > 1.0:
            yield shape


def parts_of(shape: Polygon) -> tuple[Ring, ...]:
    return convex_parts(Region.of(tuple(shape.exterior.coords[:-1]), [tuple(h.coords[:-1]) for h in shape.interiors]))


@pytest.mark.parametrize(
    ("ring", "convex"),
    [(rectangle(3, 2), True), (WEDGE, True), (WEDGE[::-1], True), (L_SHAPE, False), (L_SHAPE[::-1], False)],
)
def test_a_ring_that_bends_both_ways_is_not_convex(ring: Ring, convex: bool) -> None:
    assert is_convex(ring) is convex


def test_points_on_a_straight_edge_bend_nothing() -> None:
    assert is_convex(((0.0, 0.0), (20.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)))
    assert not is_convex(((0.0, 0.0), (20.0, 0.01), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)))


def test_the_hull_closes_the_notch_and_has_no_points_on_edges() -> None:
    around = hull(Region.of((*L_SHAPE[:1], (10.0, 0.0), *L_SHAPE[1:])))
    assert sorted(around) == [(0.0, 0.0), (0.0, 100.0), (20.0, 0.0), (60.0, 75.0), (60.0, 100.0)]


@pytest.mark.parametrize("nothing", [Region.nothing(), Region.of(rectangle(1e-4, 1e-3))])
def test_next_to_nothing_has_no_hull(nothing: Region) -> None:
    assert hull(nothing) == ()


def test_a_convex_shape_is_its_own_only_part() -> None:
    straight = ((0.0, 0.0), (20.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0))
    (part,) = convex_parts(Region.of(straight))
    assert sorted(part) == [(0.0, 0.0), (0.0, 30.0), (40.0, 0.0), (40.0, 30.0)]


@pytest.mark.parametrize(("ring", "most"), [(L_SHAPE, 2), (HOOK, 5)])
@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 17.0])
def test_a_bent_shape_falls_into_few_convex_parts(ring: Ring, most: int, turn_deg: float) -> None:
    turned = turn(turn_deg).then(shift(113.0, -41.0)).ring(ring)
    parts = convex_parts(Region.of(turned))
    assert len(parts) <= most
    assert faults_of(parts, Polygon(turned)) == []


def test_a_hole_stays_a_hole_and_parts_that_lie_apart_stay_apart() -> None:
    frame = Polygon(rectangle(300, 200), [rectangle(60, 40, 50, 70)])
    assert faults_of(parts_of(frame), frame) == []
    two = Region.union([Region.of(L_SHAPE), Region.of(rectangle(10, 10, 200, 5))])
    parts = convex_parts(two)
    assert faults_of(parts, two.shape) == []
    assert any(min(x for x, _ in ring) == 200.0 for ring in parts)


def test_the_parts_do_not_hang_on_where_the_ring_begins() -> None:
    areas = {
        tuple(sorted(round(Polygon(part).area, 3) for part in convex_parts(Region.of(HOOK[k:] + HOOK[:k]))))
        for k in range(len(HOOK))
    }
    assert len(areas) == 1


def test_nothing_has_no_parts() -> None:
    assert convex_parts(Region.nothing()) == ()


def test_no_part_of_any_shape_is_lost_doubled_or_bent() -> None:
    wrong = [(shape.wkt, found) for shape in random_shapes(5, 120) if (found := faults_of(parts_of(shape), shape))]
    assert wrong == []


@pytest.mark.slow
@pytest.mark.parametrize("count", [500, pytest.param(2000, marks=pytest.mark.long)])
def test_no_part_of_many_more_shapes_is_lost_doubled_or_bent(count: int) -> None:
    wrong = [(shape.wkt, found) for shape in random_shapes(6, count) if (found := faults_of(parts_of(shape), shape))]
    assert wrong == []
