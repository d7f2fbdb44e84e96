"""Shapes taken apart into convex ones, between which the distance is that of two half-planes."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely
import shapely.ops
from shapely.geometry import LineString, Polygon

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region
from coverlayout.geometry.tolerance import EXACT_MM, SNAP_MM

__all__ = ["convex_parts", "hull", "is_convex"]

# A bend (mm2 of cross product) that is float dust, not a corner.
_STRAIGHT_MM2 = 1e-7


def is_convex(ring: Ring) -> bool:
    """True when the ring never bends both ways; straight points on an edge do not matter."""
    bends = [_bend(ring, k) for k in range(len(ring))]
    return all(bend >= -_STRAIGHT_MM2 for bend in bends) or all(bend <= _STRAIGHT_MM2 for bend in bends)


def hull(region: Region) -> Ring:
    """The smallest convex ring around a region, without points on straight edges; empty for nothing."""
    shape = region.shape.convex_hull
    return _lean(_open(shape.exterior)) if isinstance(shape, Polygon) and shape.area > SNAP_MM else ()


def convex_parts(region: Region) -> tuple[Ring, ...]:
    """Convex rings, in a fixed order, that cover the region without overlapping: cut along edges, joined where they can.

    >>> ell = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0))
    >>> len(convex_parts(Region.of(ell)))
    2
    """
    found: list[Ring] = []
    for ring, holes in region.parts():
        if not holes and is_convex(ring):
            found.append(_lean(ring))
        else:
            found += _joined(Polygon(ring, holes))
    return tuple(found)


def _joined(shape: Polygon) -> list[Ring]:
    parts = _cut(shape)
    parts.sort(key=lambda part: (-part.area, *part.bounds))
    joined = True
    while joined:
        joined = False
        for i, one in enumerate(parts):
            for j in range(len(parts) - 1, i, -1):
                both = one.union(parts[j])
                if isinstance(both, Polygon) and both.convex_hull.area - both.area <= _STRAIGHT_MM2:
                    parts[i], one, joined = both, both, True
                    del parts[j]
    return [_lean(_open(part.exterior)) for part in parts]


def _cut(shape: Polygon) -> list[Polygon]:
    """The shape cut through at every corner that bends inwards, along the edge that leads to it."""
    bent = next(_bent_inwards(shape), None)
    if bent is None:
        return [shape]
    (x0, y0), (x1, y1) = bent
    far = 2 * sum(shape.bounds[2:]) - 2 * sum(shape.bounds[:2]) + 1.0
    share = far / math.dist((x0, y0), (x1, y1))
    dx, dy = share * (x1 - x0), share * (y1 - y0)
    halves = shapely.ops.split(shape, LineString([(x1 - dx, y1 - dy), (x1 + dx, y1 + dy)])).geoms
    pieces = [part for part in halves if isinstance(part, Polygon) and part.area > SNAP_MM]
    return [shape] if len(pieces) < 2 else [part for half in pieces for part in _cut(half)]


def _bent_inwards(shape: Polygon) -> Iterator[tuple[Point, Point]]:
    """Edges that lead to a corner at which the shape is not convex."""
    turned = shapely.geometry.polygon.orient(shape)
    for line in (turned.exterior, *turned.interiors):
        ring = _lean(_open(line))
        yield from ((ring[k - 1], corner) for k, corner in enumerate(ring) if _bend(ring, k) < -_STRAIGHT_MM2)


def _open(line: shapely.LinearRing) -> Ring:
    return tuple((float(x), float(y)) for x, y in line.coords[:-1])


def _lean(ring: Ring) -> Ring:
    """The ring without points that lie on a straight edge or on each other."""
    apart = tuple(point for k, point in enumerate(ring) if math.dist(point, ring[k - 1]) > EXACT_MM)
    return tuple(point for k, point in enumerate(apart) if abs(_bend(apart, k)) > _STRAIGHT_MM2)


def _bend(ring: Ring, k: int) -> float:
    """Cross product of the edges into and out of a corner, mm2: its sign is the way the ring turns there."""
    before, at, after = ring[k - 1], ring[k], ring[(k + 1) % len(ring)]
    into: Point = (at[0] - before[0], at[1] - before[1])
    out: Point = (after[0] - at[0], after[1] - at[1])
    return into[0] * out[1] - into[1] * out[0]
