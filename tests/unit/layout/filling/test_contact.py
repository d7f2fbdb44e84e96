"""Sums of convex rings and the points of contact, against hulls and unions by shapely."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from shapely import unary_union
from shapely.geometry import MultiPoint, Point, Polygon

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.filling import contact
from coverlayout.layout.filling.contact import DEPTH_MM, Barrier, Groups, crossings, oriented, sum_of
from coverlayout.layout.search.repeats import Points


def convex(rng: random.Random) -> Points:
    hull = MultiPoint([(rng.uniform(-50, 50), rng.uniform(-50, 50)) for _ in range(rng.randint(4, 9))]).convex_hull
    assert isinstance(hull, Polygon)
    return oriented(tuple(hull.exterior.coords)[:-1])


def test_rings_are_turned_one_way_round() -> None:
    ring = rectangle(4.0, 3.0)
    for given in (ring, ring[::-1]):
        x, y = oriented(given).T
        assert float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum()) == 24.0


@pytest.mark.parametrize("seed", range(40))
def test_a_sum_is_the_hull_of_all_sums(seed: int) -> None:
    rng = random.Random(seed)
    standing = oriented(rectangle(30, 20, 4, 5)) if seed % 3 == 0 else convex(rng)
    moving = oriented(rectangle(10, 40, -7, 5)) if seed % 4 == 0 else convex(rng)
    expected = MultiPoint([(x - u, y - v) for x, y in standing for u, v in moving]).convex_hull
    assert Polygon(sum_of(standing, moving)).buffer(0).symmetric_difference(expected).area < 1e-6
    # With a distance it holds all that is nearer, and no more than sharp corners would.
    grown = Polygon(sum_of(standing, moving, 5.0)).buffer(0)
    assert grown.buffer(1e-6).covers(expected.buffer(4.999, quad_segs=64))
    assert expected.buffer(5.0, join_style="mitre").buffer(1e-6).covers(grown)


@pytest.mark.parametrize("turn_deg", [3.0, 93.0, 90.0, 180.0, 273.0, 45.0])
def test_edges_that_run_straight_but_for_float_dust_keep_their_order(turn_deg: float) -> None:
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    turned = oriented(tuple((cos * x - sin * y, sin * x + cos * y) for x, y in rectangle(30, 20, 4, 5)))
    back = turned @ np.array([[cos, -sin], [sin, cos]])
    for standing, moving in ((turned, turned), (back, turned), (turned, back), (back, back)):
        expected = MultiPoint([(x - u, y - v) for x, y in standing for u, v in moving]).convex_hull
        assert Polygon(sum_of(standing, moving)).buffer(0).symmetric_difference(expected).area < 1e-6


def test_clear_points_lie_in_no_group(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(3)
    rings = [convex(rng) + np.array([rng.uniform(0, 300), rng.uniform(0, 300)]) for _ in range(12)]
    united = unary_union([Polygon(ring).buffer(-DEPTH_MM) for ring in rings])
    points = np.array([(rng.uniform(-60, 360), rng.uniform(-60, 360)) for _ in range(400)])
    expected = [not united.contains(Point(x, y)) for x, y in points]
    groups = Groups.joined([Barrier.of([ring]).groups for ring in rings])
    assert groups.clear(points).tolist() == expected
    monkeypatch.setattr(contact, "_AT_ONCE", 500)
    assert groups.clear(points).tolist() == expected
    assert groups.clear(points + 1000.0).all()
    assert groups.moved(np.array([1000.0, 1000.0])).clear(points + 1000.0).tolist() == expected
    assert Groups.none().clear(points).all()
    assert len(groups.clear(np.empty((0, 2)))) == 0


def test_touching_is_clear_and_lying_deep_is_not() -> None:
    groups = Barrier.of([oriented(rectangle(10, 10))]).groups
    points = np.array([(0.0, 5.0), (DEPTH_MM / 2, 5.0), (2 * DEPTH_MM, 5.0), (5.0, 5.0), (11.0, 5.0)])
    assert groups.clear(points).tolist() == [True, True, False, False, True]


def test_the_corners_of_a_barrier_are_those_of_the_union_of_its_rings() -> None:
    barrier = Barrier.of([oriented(rectangle(10, 4)), oriented(rectangle(4, 10))])
    found = {(round(x, 6), round(y, 6)) for x, y in barrier.corners.tolist()}
    # The corner 4, 4 bends inwards; where the upper edges meet, both rings have their corners.
    assert found == {(0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10), (4, 0), (0, 4)}


def test_edges_cross_at_their_ends_too_but_not_when_parallel() -> None:
    tails, heads = np.array([(0.0, 0.0), (0.0, 5.0)]), np.array([(10.0, 0.0), (10.0, 5.0)])
    others = np.array([(10.0, -5.0), (0.0, 5.0), (3.0, 1.0)]), np.array([(10.0, 0.0), (10.0, 5.0), (3.0, 9.0)])
    assert sorted(crossings(tails, heads, *others).tolist()) == [[3.0, 5.0], [10.0, 0.0]]
