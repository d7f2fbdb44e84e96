"""Where a shape may lie: all places of its origin at which its outline is inside one region and clear of others.

The outline touches an edge exactly where the edge, drawn out along the outline seen from its far side, covers the
place (Minkowski's sum). What is left when all that is cut away is the room the origin has.
"""

from __future__ import annotations

from collections.abc import Iterable

import shapely
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from coverlayout.geometry.frames import Affine, Point, Ring
from coverlayout.geometry.shapes import Region, ring_sides

__all__ = ["places_clear_of", "places_within"]

_THROUGH_ORIGIN = Affine(xx=-1.0, yy=-1.0)


def places_within(region: Region, outline: Ring) -> Region:
    """All places of the origin at which `outline` (mm, counted from it) lies inside the region; may be empty.

    Places that leave no freedom one way (an outline exactly as wide as the region) have no area and are not found.

    >>> from coverlayout.geometry.shapes import rectangle
    >>> places_within(Region.of(rectangle(100.0, 50.0)), rectangle(30.0, 20.0)).bounds
    Box(left_mm=0.0, top_mm=0.0, width_mm=70.0, height_mm=30.0)
    """
    x, y = outline[0]
    inside = region.mapped(Affine(dx=-x, dy=-y))
    if inside.is_empty:
        return inside
    edges = [_drawn_out(edge, outline) for ring, _ in region.parts() for edge in _edges((ring,))]
    holes = [Region.of(hole) for _, holes in region.parts() for hole in holes]
    return places_clear_of(inside.minus(Region(shapely.union_all(edges))), outline, holes)


def places_clear_of(places: Region, outline: Ring, others: Iterable[Region]) -> Region:
    """Those of the places at which `outline` has no area in common with any of the others."""
    blocked = [blocked for other in others for blocked in _blocked(other, outline)]
    return places.minus(Region(shapely.union_all(blocked))) if blocked else places


def _blocked(other: Region, outline: Ring) -> Iterable[BaseGeometry]:
    """Places at which the outline and the other region overlap."""
    for ring, holes in other.parts():
        if not holes and _is_convex(ring) and _is_convex(outline):
            yield MultiPoint([(x - u, y - v) for x, y in ring for u, v in outline]).convex_hull
            continue
        yield from (_drawn_out(edge, outline) for edge in _edges((ring, *holes)))
        x, y = outline[0]
        yield Region.of(ring, holes).mapped(Affine(dx=-x, dy=-y)).shape
        yield Region.of(_THROUGH_ORIGIN.ring(outline)).mapped(Affine(dx=ring[0][0], dy=ring[0][1])).shape


def _drawn_out(edge: tuple[Point, Point], outline: Ring) -> BaseGeometry:
    """All places of the origin at which the outline meets an edge."""
    if _is_convex(outline):
        return MultiPoint([(x - u, y - v) for x, y in edge for u, v in outline]).convex_hull
    sides = [MultiPoint([(x - u, y - v) for x, y in edge for u, v in side]).convex_hull for side in _edges((outline,))]
    return shapely.union_all([side for side in sides if isinstance(side, Polygon)])


def _edges(rings: Iterable[Ring]) -> Iterable[tuple[Point, Point]]:
    for ring in rings:
        yield from ring_sides(ring)


def _is_convex(ring: Ring) -> bool:
    corners = zip(ring, ring[1:] + ring[:1], ring[2:] + ring[:2], strict=True)
    bends = [(bx - ax) * (cy - by) - (by - ay) * (cx - bx) for (ax, ay), (bx, by), (cx, cy) in corners]
    return all(bend >= 0 for bend in bends) or all(bend <= 0 for bend in bends)
