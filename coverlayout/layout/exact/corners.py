"""Where a layout found with chords is not true: the directions in which two corners are nearer than they must be."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import ring_sides
from coverlayout.layout.branching.looked import Layout
from coverlayout.layout.exact.apart import Needs
from coverlayout.layout.exact.job import ExactJob

__all__ = ["bends_at", "nearest_way"]

# Corners nearer than needed by less than this are near enough (mm); directions are told to this many digits.
_NEAR_MM, _DIGITS = 1e-4, 6


def bends_at(job: ExactJob, layout: Layout, needs: Needs) -> tuple[float, ...]:
    """The directions (radians, 0 to a whole turn) along which corners are too near.

    A chord that ends at such a direction is true there. Empty when no corner is too near.
    """
    found: set[float] = set()
    for first, second, need_mm in _bodies(job, layout, needs):
        x, y = nearest_way(first, second)
        if 0.0 < math.hypot(x, y) < need_mm - _NEAR_MM:
            found.add(round(math.atan2(y, x) % math.tau, _DIGITS))
    return tuple(sorted(found))


def _bodies(job: ExactJob, layout: Layout, needs: Needs) -> Iterator[tuple[Ring, Ring, float]]:
    """All pairs of convex rings that must be some way apart, where they lie, and how far."""
    lying = []
    for seats, seat, place in zip(job.seats, layout.seats, layout.places, strict=True):
        own = seats[seat]
        lying.append((own, [_moved(ring, (float(place[0]), float(place[1]))) for ring in own.parts]))
    for (one, rings), (other, others) in itertools.combinations(lying, 2):
        if one.frame == other.frame:
            yield from ((a, b, needs.neighbour_mm) for a, b in itertools.product(rings, others))
    for own, rings in lying:
        for body in job.bodies[own.frame]:
            if body.near != "flaw" and body.ground in (-1, own.part):
                need_mm = needs.neighbour_mm if body.near == "neighbour" else needs.edge_mm
                yield from ((body.ring, ring, need_mm) for ring in rings)


def _moved(ring: Ring, by: Point) -> Ring:
    return tuple((x + by[0], y + by[1]) for x, y in ring)


def nearest_way(first: Ring, second: Ring) -> Point:
    """The shortest way from one convex ring to another that does not overlap it.

    >>> nearest_way(((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), ((4.0, 3.0), (4.0, 0.5), (9.0, 3.0)))
    (3.0, 0.5)
    """
    ways = [_to_side(corner, side) for corner in first for side in ring_sides(second)]
    back = [_to_side(corner, side) for corner in second for side in ring_sides(first)]
    ways += [(-x, -y) for x, y in back]
    return min(ways, key=lambda way: math.hypot(*way))


def _to_side(corner: Point, side: tuple[Point, Point]) -> Point:
    """The way from a corner to the nearest point of a side."""
    (x0, y0), (x1, y1) = side
    dx, dy = x1 - x0, y1 - y0
    share = ((corner[0] - x0) * dx + (corner[1] - y0) * dy) / (dx * dx + dy * dy)
    share = min(max(share, 0.0), 1.0)
    return x0 + share * dx - corner[0], y0 + share * dy - corner[1]
