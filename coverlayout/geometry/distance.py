"""Measuring between shapes, in mm: how far apart, how deep in each other, how far outside, how near the edge.

Upright rectangles are measured by plain arithmetic, a hundred times quicker than the general way; both give the same.
"""

from __future__ import annotations

import math
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box, Region, bounds, is_rectangle, rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["Shape"]

# An overlap's width is found by halving; this share of SAME_LENGTH_MM is as near as a verdict needs.
_HALVING_MM = SAME_LENGTH_MM / 10


class Shape:
    """One region made ready for measuring; `upright` when it is an upright rectangle without holes.

    >>> board, liner = Shape.of(((0, 0), (100, 0), (100, 50), (0, 50))), Shape.of(((103, 54), (120, 54), (110, 80)))
    >>> board.apart_mm(liner)
    5.0
    """

    def __init__(self, box: Box, *, upright: bool, region: Region | None = None) -> None:
        """`box` is the smallest upright box; without a `region` the shape is that box."""
        self.left_mm, self.top_mm = box.left_mm, box.top_mm
        self.right_mm, self.bottom_mm = box.right_mm, box.bottom_mm
        self.upright = upright
        self._region = region

    @classmethod
    def of(cls, ring: Ring) -> Shape:
        """The inside of one simple outline in mm. ValueError for no points."""
        upright = is_rectangle(ring)
        return cls(bounds(ring), upright=upright, region=None if upright else Region.of(ring))

    @classmethod
    def of_region(cls, region: Region) -> Shape:
        """A region in mm, in several parts or with holes as it may be; may be empty."""
        parts = region.parts()
        upright = len(parts) == 1 and not parts[0][1] and is_rectangle(parts[0][0])
        return cls(region.bounds, upright=upright, region=region)

    def general(self) -> Shape:
        """The same shape, always measured in the general way: what the quick way is tested against."""
        box = Box(self.left_mm, self.top_mm, self._width_mm, self._height_mm)
        return Shape(box, upright=False, region=self.region)

    @cached_property
    def region(self) -> Region:
        """The shape as a region."""
        if self._region is not None:
            return self._region
        return Region.of(rectangle(self._width_mm, self._height_mm, self.left_mm, self.top_mm))

    @cached_property
    def rings(self) -> tuple[Ring, ...]:
        """Every outline and every hole; none when empty."""
        if self.upright:
            return (rectangle(self._width_mm, self._height_mm, self.left_mm, self.top_mm),)
        return tuple(ring for outer, holes in self.region.parts() for ring in (outer, *holes))

    @cached_property
    def _ready(self) -> BaseGeometry:
        shape = self.region.shape
        shapely.prepare(shape)
        return shape

    @cached_property
    def _edge(self) -> BaseGeometry:
        edge = self.region.shape.boundary
        shapely.prepare(edge)
        return edge

    @cached_property
    def _within(self) -> BaseGeometry:
        """The shape less the tolerance all round; a sliver thinner than that stays as it is."""
        inner = self.region.inset(SAME_LENGTH_MM).shape
        return self.region.shape if inner.is_empty else inner

    @property
    def is_empty(self) -> bool:
        """True when there is nothing to measure."""
        return not self.upright and self.region.is_empty

    @cached_property
    def area_mm2(self) -> float:
        """Area in square millimetres."""
        if self.upright:
            return (self.right_mm - self.left_mm) * (self.bottom_mm - self.top_mm)
        return self.region.area_mm2

    def apart_mm(self, other: Shape, beyond_mm: float = math.inf) -> float:
        """Least straight-line distance; 0 when the two touch or overlap, infinite when one is empty.

        Of shapes whose boxes are `beyond_mm` or more apart the boxes' distance is returned, which is no more.
        """
        across = max(other.left_mm - self.right_mm, self.left_mm - other.right_mm, 0.0)
        along = max(other.top_mm - self.bottom_mm, self.top_mm - other.bottom_mm, 0.0)
        boxes_mm = math.hypot(across, along) if across and along else across + along
        if self.upright and other.upright:
            return boxes_mm
        if self.is_empty or other.is_empty:
            return math.inf
        return boxes_mm if boxes_mm >= beyond_mm else float(self._ready.distance(other._ready))

    def overlap_mm(self, other: Shape) -> float:
        """Width of what two shapes share: the diameter of the largest circle that fits in it, 0 when they only touch.

        For upright rectangles it is the lesser of the shared lengths across and along.

        >>> Shape.of(rectangle(10.0, 10.0)).overlap_mm(Shape.of(rectangle(13.0, 26.0, 7.0, 4.0)))
        3.0
        """
        across = min(self.right_mm, other.right_mm) - max(self.left_mm, other.left_mm)
        along = min(self.bottom_mm, other.bottom_mm) - max(self.top_mm, other.top_mm)
        if (self.upright and other.upright) or min(across, along) <= 0:
            return max(0.0, min(across, along))
        return _widest_mm(self.region.meet(other.region))

    def lies_on(self, other: Shape) -> bool:
        """True when this shape, less SAME_LENGTH_MM all round, meets `other`: on a flaw, however thin that is."""
        if self.upright and other.upright and min(self._width_mm, self._height_mm) > 2 * SAME_LENGTH_MM:
            return (
                self.left_mm + SAME_LENGTH_MM < other.right_mm
                and self.right_mm - SAME_LENGTH_MM > other.left_mm
                and self.top_mm + SAME_LENGTH_MM < other.bottom_mm
                and self.bottom_mm - SAME_LENGTH_MM > other.top_mm
            )
        if self._boxes_apart(other):
            return False
        return bool(other._ready.intersects(self._within))

    def meets_line(self, start: Point, end: Point) -> bool:
        """True when the straight line between two points passes over the shape by more than its edge.

        >>> stain = Shape.of(rectangle(10.0, 10.0, 20.0, 0.0))
        >>> stain.meets_line((0.0, 5.0), (50.0, 5.0)), stain.meets_line((0.0, 5.0), (20.0, 5.0))
        (True, False)
        """
        (left, right), (top, bottom) = sorted((start[0], end[0])), sorted((start[1], end[1]))
        if right < self.left_mm or left > self.right_mm or bottom < self.top_mm or top > self.bottom_mm:
            return False
        line = shapely.LineString((start, end))
        return bool(self._ready.intersects(line)) and line.intersection(self.region.shape).length > SAME_LENGTH_MM

    def _boxes_apart(self, other: Shape) -> bool:
        """True when not even the boxes touch: most flaws are far away, and that is seen at once."""
        return (
            self.right_mm < other.left_mm
            or other.right_mm < self.left_mm
            or self.bottom_mm < other.top_mm
            or other.bottom_mm < self.top_mm
        )

    @property
    def _width_mm(self) -> float:
        return self.right_mm - self.left_mm

    @property
    def _height_mm(self) -> float:
        return self.bottom_mm - self.top_mm

    def shared_mm2(self, other: Shape) -> float:
        """Area that two shapes share, in square millimetres."""
        if self.upright and other.upright:
            across = min(self.right_mm, other.right_mm) - max(self.left_mm, other.left_mm)
            along = min(self.bottom_mm, other.bottom_mm) - max(self.top_mm, other.top_mm)
            return across * along if across > 0 and along > 0 else 0.0
        return self.region.meet(other.region).area_mm2

    def holds(self, other: Shape) -> bool:
        """True when `other` lies within this shape to SAME_LENGTH_MM; an empty shape holds nothing."""
        if self.upright and other.upright:
            return max(self._reach_mm(other)) <= SAME_LENGTH_MM
        if self.is_empty or other.is_empty:
            return False
        return bool(self._ready.covers(other._ready) or self._ready.covers(other._within))

    def _reach_mm(self, other: Shape) -> tuple[float, float]:
        """How far an upright rectangle reaches out of this one, across and along; 0 where it does not."""
        across = max(self.left_mm - other.left_mm, other.right_mm - self.right_mm, 0.0)
        along = max(self.top_mm - other.top_mm, other.bottom_mm - self.bottom_mm, 0.0)
        return across, along

    def beyond_mm(self, other: Shape) -> float:
        """How far `other` reaches out of this shape: the distance of its farthest point that is a corner.

        Over a hole that it covers whole, half the hole's width. 0 when it lies within; for an empty shape the lesser
        side of the other's box, since no distance can be told.
        """
        if self.upright and other.upright:
            across, along = self._reach_mm(other)
            return math.hypot(across, along)
        if self.is_empty:
            return min(other._width_mm, other._height_mm)
        out = other.region.minus(self.region)
        corners = [point for outer, holes in out.parts() for ring in (outer, *holes) for point in ring]
        farthest = max((float(self._ready.distance(shapely.Point(corner))) for corner in corners), default=0.0)
        return max(farthest, _widest_mm(out) / 2)

    def edge_mm(self, other: Shape) -> float:
        """Least distance of `other`, lying within, from this shape's edge; 0 when it reaches out.

        >>> cloth = Shape.of(rectangle(300.0, 200.0))
        >>> cloth.edge_mm(Shape.of(rectangle(90.0, 80.0, 5.0, 9.0)))
        5.0
        """
        if self.upright and other.upright:
            sides = (other.left_mm - self.left_mm, self.right_mm - other.right_mm)
            ends = (other.top_mm - self.top_mm, self.bottom_mm - other.bottom_mm)
            return max(0.0, min(*sides, *ends))
        if self.is_empty or not self._ready.covers(other._ready):
            return 0.0
        return float(self._edge.distance(other._ready))

    def nearest(self, other: Shape) -> tuple[Point, Point]:
        """A point of each with the least distance between them; of two rectangles side by side, half-way along.

        Neither may be empty.
        """
        if self.upright and other.upright:
            x, other_x = _facing(self.left_mm, self.right_mm, other.left_mm, other.right_mm)
            y, other_y = _facing(self.top_mm, self.bottom_mm, other.top_mm, other.bottom_mm)
            return (x, y), (other_x, other_y)
        return _ends(self.region.shape, other.region.shape)

    def nearest_edge(self, other: Shape) -> tuple[Point, Point]:
        """A point of `other`, lying within, and the point of this shape's edge nearest to it."""
        if self.upright and other.upright:
            x, y = (other.left_mm + other.right_mm) / 2, (other.top_mm + other.bottom_mm) / 2
            sides: tuple[tuple[Point, Point], ...] = (
                ((other.left_mm, y), (self.left_mm, y)),
                ((other.right_mm, y), (self.right_mm, y)),
                ((x, other.top_mm), (x, self.top_mm)),
                ((x, other.bottom_mm), (x, self.bottom_mm)),
            )
            return min(sides, key=lambda ends: math.dist(*ends))
        return _ends(other.region.shape, self._edge)


def _ends(first: BaseGeometry, second: BaseGeometry) -> tuple[Point, Point]:
    one, two = nearest_points(first, second)
    return (float(one.x), float(one.y)), (float(two.x), float(two.y))


def _facing(low: float, high: float, other_low: float, other_high: float) -> tuple[float, float]:
    """Where two stretches of one axis are nearest: their facing ends, or the middle of what they share."""
    if other_low > high:
        return high, other_low
    if other_high < low:
        return low, other_high
    middle = (max(low, other_low) + min(high, other_high)) / 2
    return middle, middle


def _widest_mm(region: Region) -> float:
    """Diameter of the largest circle that fits in, to a tenth of SAME_LENGTH_MM; 0 for an empty region."""
    box = region.bounds
    low, high = 0.0, min(box.width_mm, box.height_mm)
    if all(not holes and is_rectangle(outer) for outer, holes in region.parts()):
        return max((min(b.width_mm, b.height_mm) for b in (bounds(outer) for outer, _ in region.parts())), default=0.0)
    while high - low > _HALVING_MM:
        half = (low + high) / 2
        if region.shape.buffer(-half / 2, join_style="mitre").is_empty:
            high = half
        else:
            low = half
    return high
