"""Shapes taken apart into convex ones, between which the distance is that of two half-planes."""

from __future__ import annotations

import math

import shapely
from shapely.geometry import Polygon

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region, ring_sides
from coverlayout.geometry.tolerance import EXACT_MM, SNAP_MM

__all__ = ["convex_parts", "hull", "is_convex"]

# A bend (mm2 of cross product) that is float dust, not a corner.
_STRAIGHT_MM2 = 1e-7
# Cuts meet on a grid so fine that it bends no edge, and so keep clear of the dust in which whole parts get lost.
_GRID_MM = 1e-11


def is_convex(ring: Ring) -> bool:
    """True when the ring never bends both ways; straight points on an edge do not matter."""
    bends = [_bend(ring, k) for k in range(len(ring))]
    return all(bend >= -_STRAIGHT_MM2 for bend in bends) or all(bend <= _STRAIGHT_MM2 for bend in bends)


def hull(region: Region) -> Ring:
    """The smallest convex ring around a region, without points on straight edges; empty for nothing."""
    shape = region.shape.convex_hull
    return _lean(_open(shape.exterior)) if isinstance(shape, Polygon) and shape.area > SNAP_MM else ()


def convex_parts(region: Region) -> tuple[Ring, ...]:
    """Convex rings, in a fixed order, that cover the region without overlapping.

    >>> ell = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0))
    >>> len(convex_parts(Region.of(ell)))
    2
    """
    found: list[Ring] = []
    for ring, holes in region.parts():
        cut = None if holes else _cut(_clockwise(_lean(ring)))
        found += _joined(Polygon(ring, holes)) if cut is None else cut
    return tuple(found)


def _cut(ring: Ring) -> list[Ring] | None:
    """A clockwise ring cut at every corner that bends inwards, along one of its two edges: an L becomes two rectangles.

    None where dust comes in the way.
    """
    bent = next((k for k in range(len(ring)) if _bend(ring, k) < -_STRAIGHT_MM2), None)
    if bent is None:
        return [ring]
    after = (bent + 1) % len(ring)
    ways = [_hit(ring, bent, ring[bent - 1]), _hit(ring, bent, ring[after])]
    hits = [hit for hit in ways if hit is not None]
    if not hits:
        return None
    side, point = min(hits, key=lambda hit: math.dist(hit[1], ring[bent]))
    turned = (*ring[bent:], *ring[:bent])
    upto = (side - bent) % len(ring) + 1
    halves = [_lean((*turned[:upto], point)), _lean((turned[0], point, *turned[upto:]))]
    parts = [_cut(half) if 2 < len(half) < len(ring) + 1 else None for half in halves]
    return None if any(part is None for part in parts) else [ring for part in parts for ring in part or ()]


def _hit(ring: Ring, bent: int, behind: Point) -> tuple[int, Point] | None:
    """Where the line from a point through a corner first meets the ring beyond it: the side's number and the place."""
    (x, y), best = ring[bent], None
    dx, dy = x - behind[0], y - behind[1]
    for side, ((x0, y0), (x1, y1)) in enumerate(ring_sides(ring)):
        if bent in (side, (side + 1) % len(ring)):
            continue
        across = dx * (y1 - y0) - dy * (x1 - x0)
        if abs(across) <= _STRAIGHT_MM2:
            continue
        ahead = ((x0 - x) * (y1 - y0) - (y0 - y) * (x1 - x0)) / across
        along = ((x0 - x) * dy - (y0 - y) * dx) / across
        if ahead > 0 and 0 <= along <= 1 and (best is None or ahead < best[0]):
            best = ahead, side, (x + ahead * dx, y + ahead * dy)
    return None if best is None else best[1:]


def _joined(shape: Polygon) -> list[Ring]:
    """Triangles between the shape's own corners, joined across the longest sides first where they stay convex.

    No corner is added, so that no dust comes between parts. Source: Hertel and Mehlhorn 1983.
    """
    triangles = shapely.constrained_delaunay_triangles(shape).geoms
    rings = {k: _clockwise(_open(part.exterior)) for k, part in enumerate(triangles) if isinstance(part, Polygon)}
    owner = {side: k for k, ring in rings.items() for side in ring_sides(ring)}
    inner = sorted((side for side in owner if side < side[::-1] and side[::-1] in owner), key=_longest_first)
    for start, end in inner:
        one, other = owner[start, end], owner[end, start]
        both = _across(rings[one], rings[other], start, end)
        if one != other and both is not None:
            rings[one] = both
            del rings[other]
            owner |= dict.fromkeys(ring_sides(both), one)
    found = [_lean(ring) for ring in rings.values()]
    return [ring for ring in found if len(ring) > 2]


def _longest_first(side: tuple[Point, Point]) -> tuple[float, tuple[Point, Point]]:
    return -math.dist(*side), side


def _across(one: Ring, other: Ring, start: Point, end: Point) -> Ring | None:
    """Two rings joined at the side from `start` to `end` of the first, None when that would not be convex."""
    first = one.index(end)
    second = other.index(start)
    # The first from the side's end round to its start, then the second from there round to the end again.
    both = (*one[first:], *one[:first])[:-1] + (*other[second:], *other[:second])[:-1]
    return both if is_convex(both) else None


def _clockwise(ring: Ring) -> Ring:
    return ring if sum(_bend(ring, k) for k in range(len(ring))) > 0 else ring[::-1]


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
