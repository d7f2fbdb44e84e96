"""Shapes in mm: rings of points, and regions with holes that can be cut, inset and measured."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import shapely
import shapely.affinity
from shapely.errors import GEOSException
from shapely.geometry import LineString, MultiPoint, MultiPolygon, Polygon
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Affine, Point, Ring
from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM, SNAP_MM

__all__ = [
    "Box",
    "Region",
    "area_mm2",
    "bounds",
    "checked_line",
    "checked_ring",
    "is_rectangle",
    "middle",
    "rectangle",
    "ring_sides",
]

# Parts of a quarter circle where a corner is rounded: 64 keep a 30 mm strip within 0.003 mm of the true arc.
_ROUND_SEGMENTS = 64


@dataclass(frozen=True)
class Box:
    """An upright rectangle: left, top, width and height in mm."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float

    @property
    def right_mm(self) -> float:
        """The x of the right edge."""
        return self.left_mm + self.width_mm

    @property
    def bottom_mm(self) -> float:
        """The y of the lower edge."""
        return self.top_mm + self.height_mm

    @property
    def middle(self) -> Point:
        """The centre."""
        return self.left_mm + self.width_mm / 2, self.top_mm + self.height_mm / 2

    def ring(self) -> Ring:
        """The four corners, clockwise from the top left."""
        return rectangle(self.width_mm, self.height_mm, self.left_mm, self.top_mm)


def rectangle(width_mm: float, height_mm: float, left_mm: float = 0.0, top_mm: float = 0.0) -> Ring:
    """The four corners of an upright rectangle, clockwise (as seen, y down) from the top left."""
    right, bottom = left_mm + width_mm, top_mm + height_mm
    return (left_mm, top_mm), (right, top_mm), (right, bottom), (left_mm, bottom)


def bounds(points: Iterable[Point]) -> Box:
    """The smallest upright box around the points. ValueError for no points.

    >>> bounds([(1.0, 2.0), (4.0, 3.0)])
    Box(left_mm=1.0, top_mm=2.0, width_mm=3.0, height_mm=1.0)
    """
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def middle(points: Iterable[Point]) -> Point:
    """The centre of the bounding box."""
    return bounds(points).middle


def area_mm2(ring: Ring) -> float:
    """Area inside a simple ring, whichever way it runs; 0 for fewer than three points.

    >>> area_mm2(rectangle(4.0, 3.0))
    12.0
    """
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in ring_sides(ring))) / 2


def ring_sides(ring: Ring) -> Iterator[tuple[Point, Point]]:
    """The sides of a ring one after another, the last back to the first point.

    >>> list(ring_sides(((0.0, 0.0), (4.0, 0.0), (0.0, 3.0))))
    [((0.0, 0.0), (4.0, 0.0)), ((4.0, 0.0), (0.0, 3.0)), ((0.0, 3.0), (0.0, 0.0))]
    """
    yield from zip(ring, ring[1:] + ring[:1], strict=True)


def is_rectangle(ring: Ring) -> bool:
    """True when the ring is an upright rectangle within SAME_LENGTH_MM."""
    if len(ring) < 4:
        return False
    box = bounds(ring)
    return abs(area_mm2(ring) - box.width_mm * box.height_mm) <= SAME_LENGTH_MM * SAME_LENGTH_MM


def checked_ring(points: Iterable[Point], *, where: str) -> Ring:
    """The ring without repeated points, when it is a simple outline with some area.

    BadInput, naming `where`: fewer than three points, a number that is not finite, no area, an outline that crosses
    itself.
    """
    ring: list[Point] = []
    for point in points:
        if not all(math.isfinite(number) for number in point):
            raise BadInput("outline-not-finite", where=where)
        if not ring or math.dist(point, ring[-1]) > SNAP_MM:
            ring.append(point)
    if len(ring) > 1 and math.dist(ring[0], ring[-1]) <= SNAP_MM:
        ring.pop()
    least_mm2 = SAME_LENGTH_MM * SAME_LENGTH_MM
    # A bow tie of two equal halves encloses nothing on balance; what it lacks is not area.
    if len(ring) < 3 or MultiPoint(ring).convex_hull.area <= least_mm2:
        raise BadInput("outline-no-area", where=where)
    if not Polygon(ring).is_valid:
        raise BadInput("outline-crosses", where=where)
    if area_mm2(tuple(ring)) <= least_mm2:
        raise BadInput("outline-no-area", where=where)
    return tuple(ring)


def checked_line(points: Iterable[Point], *, where: str) -> Ring:
    """The line without repeated points, when it leads somewhere and does not cross itself.

    BadInput, naming `where`: a number that is not finite, all points in one place, a line that crosses or touches
    itself (one that comes back to its first point is no line but an outline).
    """
    line: list[Point] = []
    for point in points:
        if not all(math.isfinite(number) for number in point):
            raise BadInput("outline-not-finite", where=where)
        if not line or math.dist(point, line[-1]) > SNAP_MM:
            line.append(point)
    if len(line) < 2 or max(math.dist(line[0], point) for point in line) <= SAME_LENGTH_MM:
        raise BadInput("line-no-length", where=where)
    drawn = LineString(line)
    if drawn.is_ring or not drawn.is_simple:
        raise BadInput("line-crosses", where=where)
    return tuple(line)


@dataclass(frozen=True)
class Region:
    """A part of the plane, possibly in several parts and with holes; may be empty.

    >>> cloth = Region.of(rectangle(100.0, 50.0)).minus(Region.of(rectangle(10.0, 10.0, 20.0, 20.0)))
    >>> cloth.area_mm2, cloth.inset(5.0).bounds
    (4900.0, Box(left_mm=5.0, top_mm=5.0, width_mm=90.0, height_mm=40.0))
    >>> Region.nothing().is_empty
    True
    """

    shape: BaseGeometry

    @classmethod
    def nothing(cls) -> Region:
        """The empty region."""
        return cls(Polygon())

    @classmethod
    def of(cls, ring: Ring, holes: Iterable[Ring] = ()) -> Region:
        """The inside of one ring, less its holes; snapped to SNAP_MM. Of one that crosses itself, its loops."""
        return cls(_clean(Polygon(ring, list(holes))))

    @classmethod
    def union(cls, parts: Iterable[Region]) -> Region:
        """Everything that lies in any of the parts."""
        return cls(_clean(shapely.union_all([part.shape for part in parts])))

    @classmethod
    def strip(cls, points: Iterable[Point], width_mm: float) -> Region:
        """A line of some width: half of `width_mm` to each side of the points, flat ends."""
        return cls(_clean(LineString(list(points)).buffer(width_mm / 2, cap_style="flat", join_style="mitre")))

    @property
    def is_empty(self) -> bool:
        """True when nothing is left."""
        return bool(self.shape.is_empty)

    @property
    def area_mm2(self) -> float:
        """Area in square millimetres, holes taken off."""
        return float(self.shape.area)

    @property
    def bounds(self) -> Box:
        """The smallest upright box around it; a box of 0 x 0 at the origin when empty."""
        if self.is_empty:
            return Box(0.0, 0.0, 0.0, 0.0)
        left, top, right, bottom = self.shape.bounds
        return Box(left, top, right - left, bottom - top)

    def minus(self, other: Region) -> Region:
        """What remains when `other` is cut away."""
        return Region(_clean(self.shape.difference(other.shape)))

    def meet(self, other: Region) -> Region:
        """What lies in both."""
        return Region(_clean(self.shape.intersection(other.shape)))

    def inset(self, by_mm: float, corners: Literal["sharp", "round"] = "sharp") -> Region:
        """Everything at least `by_mm` inside the edge; below 0 it grows.

        Inward corners of the outline stay sharp, as a ruler draws them, or become `round`: then exactly the ground
        that is `by_mm` away is kept (a chord is off by less than 0.0001 of `by_mm`). Float dust changes nothing.
        """
        if abs(by_mm) < EXACT_MM:
            return self
        if corners == "sharp":
            return Region(_clean(self.shape.buffer(-by_mm, join_style="mitre")))
        return Region(_clean(self.shape.buffer(-by_mm, quad_segs=_ROUND_SEGMENTS)))

    def mapped(self, by: Affine) -> Region:
        """The same region seen in another frame."""
        numbers = [by.xx, by.xy, by.yx, by.yy, by.dx, by.dy]
        return Region(shapely.affinity.affine_transform(self.shape, numbers))

    def covers(self, other: Region) -> bool:
        """True when `other` lies inside, touching allowed; exact, the caller brings the tolerance."""
        return bool(self.shape.covers(other.shape))

    def overlaps(self, other: Region) -> bool:
        """True when the two have area in common; touching is not enough."""
        return bool(self.shape.intersects(other.shape)) and not bool(self.shape.touches(other.shape))

    def contains(self, point: Point) -> bool:
        """True when the point lies inside or on the edge."""
        return bool(self.shape.intersects(ShapelyPoint(point)))

    def distance_mm(self, other: Region) -> float:
        """Least straight-line distance to another region; 0 when they touch or overlap."""
        return float(self.shape.distance(other.shape))

    def parts(self) -> tuple[tuple[Ring, tuple[Ring, ...]], ...]:
        """The parts as (outer ring, holes), each ring open (the first point not repeated)."""
        return self._parts

    @cached_property
    def _parts(self) -> tuple[tuple[Ring, tuple[Ring, ...]], ...]:
        # Read out of the shape once: a region is drawn many times.
        shapes = self.shape.geoms if isinstance(self.shape, MultiPolygon) else [self.shape]
        return tuple(
            (_open(part.exterior), tuple(_open(hole) for hole in part.interiors))
            for part in shapes
            if isinstance(part, Polygon) and not part.is_empty
        )


def _clean(shape: BaseGeometry) -> BaseGeometry:
    """The polygons of a result, snapped so that later cuts meet exactly."""
    try:
        snapped = shapely.set_precision(shape, SNAP_MM)
    except GEOSException:
        # Only an outline that crosses itself cannot be snapped: its loops become parts.
        snapped = shapely.set_precision(shapely.make_valid(shape), SNAP_MM)
    if isinstance(snapped, (Polygon, MultiPolygon)):
        return snapped
    parts = [part for part in getattr(snapped, "geoms", ()) if isinstance(part, (Polygon, MultiPolygon))]
    return shapely.union_all(parts) if parts else Polygon()


def _open(ring: shapely.LinearRing) -> Ring:
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])
