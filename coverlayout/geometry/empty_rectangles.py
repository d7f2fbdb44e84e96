"""The largest rectangles that are still empty in a region: what can be cut from the ground between and beside pieces.

Where every edge of the region runs straight across or along, the rectangles are exact. Where some are slanted, one may
be smaller than the largest there is, but by less than a rim of SLANT_MM all round; none ever reaches out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from coverlayout.geometry.empty.cells import Boxes, Edges, Floats, edges_of, maximal_boxes, without
from coverlayout.geometry.empty.growth import largest_round
from coverlayout.geometry.frames import Point, Ring, piece_to_cloth, turn
from coverlayout.geometry.shapes import Box, Region, rectangle

__all__ = ["SLANT_MM", "EmptyRectangle", "each_empty_rectangle", "empty_rectangles", "maximal_rectangles"]

# The largest rectangle between slanted edges, with a rim of this width taken off, is no larger than the one found.
SLANT_MM = 0.05
# Between slanted edges so many of the promising places are looked at closely, the one with most ground first.
_LOOKED_AT = 3
_HOPEFUL = 200


@dataclass(frozen=True)
class EmptyRectangle:
    """An empty rectangle: its middle in the frame of the region, width and height in mm, and its clockwise turn.

    >>> strip = EmptyRectangle((50.0, 20.0), 30.0, 10.0, 90.0)
    >>> strip.ring(), strip.area_mm2
    (((55.0, 5.0), (55.0, 35.0), (45.0, 35.0), (45.0, 5.0)), 300.0)
    """

    middle_mm: Point
    width_mm: float
    height_mm: float
    turn_deg: float = 0.0

    @property
    def area_mm2(self) -> float:
        """Area in square millimetres."""
        return self.width_mm * self.height_mm

    def at(self, point_mm: Point) -> Point:
        """A point counted from the rectangle's top-left corner, in the frame of the region."""
        half = self.width_mm / 2, self.height_mm / 2
        return piece_to_cloth(half, self.middle_mm, self.turn_deg).at(point_mm)

    def shared_mm2(self, other: EmptyRectangle) -> float:
        """Area shared with another that is turned alike; 0 with one that is not.

        >>> EmptyRectangle((0.0, 0.0), 20.0, 10.0).shared_mm2(EmptyRectangle((15.0, 3.0), 20.0, 10.0))
        35.0
        """
        if other.turn_deg != self.turn_deg:
            return 0.0
        apart = other.middle_mm[0] - self.middle_mm[0], other.middle_mm[1] - self.middle_mm[1]
        x_mm, y_mm = turn(-self.turn_deg).at(apart)
        return _shared_mm(self.width_mm, other.width_mm, x_mm) * _shared_mm(self.height_mm, other.height_mm, y_mm)

    def ring(self) -> Ring:
        """The four corners, clockwise from its own top left."""
        return tuple(self.at(corner) for corner in rectangle(self.width_mm, self.height_mm))


def _shared_mm(length_mm: float, other_mm: float, apart_mm: float) -> float:
    """What two lengths share whose middles lie so far apart."""
    return max(0.0, min(length_mm, other_mm, (length_mm + other_mm) / 2 - abs(apart_mm)))


def empty_rectangles(
    region: Region, *, turn_deg: float = 0.0, least_mm: float = 10.0, most: int = 8
) -> tuple[EmptyRectangle, ...]:
    """The largest empty rectangles that share no ground, largest first: each is the largest in what those before leave.

    Their sides run along `turn_deg` (clockwise; a print that lies crooked). None has a side below `least_mm` (above 0),
    and there are at most `most`. Empty for an empty region, or one that is nowhere wide enough.

    >>> corner = Region.of(rectangle(100.0, 80.0)).minus(Region.of(rectangle(70.0, 50.0)))
    >>> [(one.width_mm, one.height_mm) for one in empty_rectangles(corner)]
    [(100.0, 30.0), (30.0, 50.0)]
    """
    return tuple(each_empty_rectangle(region, turn_deg=turn_deg, least_mm=least_mm, most=most))


def each_empty_rectangle(
    region: Region, *, turn_deg: float = 0.0, least_mm: float = 10.0, most: int = 8
) -> Iterator[EmptyRectangle]:
    """The same one at a time, for a window that has other things to do between them."""
    turned = region.mapped(turn(-turn_deg)) if turn_deg else region
    for box in _greedy(turned, least_mm, most):
        yield _as_rectangle(box, turn_deg)


def maximal_rectangles(region: Region, *, least_mm: float = 10.0) -> tuple[EmptyRectangle, ...]:
    """Every upright empty rectangle that cannot grow on any side, largest first; they share ground where they can.

    Exact where all edges are upright; elsewhere a rectangle may stop short of a slanted edge (see `empty_rectangles`).

    >>> corner = Region.of(rectangle(100.0, 80.0)).minus(Region.of(rectangle(70.0, 50.0)))
    >>> [(one.width_mm, one.height_mm) for one in maximal_rectangles(corner)]
    [(100.0, 30.0), (30.0, 80.0)]
    """
    boxes, _ = maximal_boxes(edges_of(region), least_mm)
    order = np.argsort(-_areas(boxes), kind="stable")
    return tuple(_as_rectangle(_box(boxes[k]), 0.0) for k in order)


def _greedy(region: Region, least_mm: float, most: int) -> Iterator[Box]:
    edges = edges_of(region)
    boxes, step_mm = maximal_boxes(edges, least_mm)
    for _ in range(most):
        if not len(boxes):
            return
        found = boxes[int(np.argmax(_areas(boxes)))]
        if step_mm > 0:
            found = _closely(boxes, edges, step_mm, least_mm)
            edges = edges.with_box(*(float(side) for side in found))
        yield _box(found)
        boxes = without(boxes, found, least_mm)


def _closely(boxes: Boxes, edges: Edges, step_mm: float, least_mm: float) -> Floats:
    """The largest box between slanted edges, grown from the boxes found on a grid of `step_mm`."""
    areas = _areas(boxes)
    best: Floats = boxes[int(np.argmax(areas))]
    best_mm2 = float(areas.max())
    hopeful = np.flatnonzero(_areas(boxes + step_mm * np.array([-1.0, -1.0, 1.0, 1.0])) > best_mm2)
    hopeful = hopeful[np.argsort(-areas[hopeful], kind="stable")][:_HOPEFUL]
    looked: list[Point] = []
    for box in boxes[hopeful]:
        seed = float(box[0] + box[2]) / 2, float(box[1] + box[3]) / 2
        if any(_near(seed, other, step_mm) for other in looked):
            continue
        looked.append(seed)
        found = largest_round(seed, edges, least_mm)
        if min(found[2] - found[0], found[3] - found[1]) < least_mm:
            continue
        area_mm2 = float((found[2] - found[0]) * (found[3] - found[1]))
        if area_mm2 > best_mm2:
            best, best_mm2 = found, area_mm2
        if len(looked) == _LOOKED_AT:
            break
    return best


def _near(one: Point, other: Point, step_mm: float) -> bool:
    return max(abs(one[0] - other[0]), abs(one[1] - other[1])) <= 2 * step_mm


def _areas(boxes: Boxes) -> Floats:
    areas: Floats = np.prod(boxes[:, 2:] - boxes[:, :2], axis=1)
    return areas


def _box(sides: Floats) -> Box:
    left, top, right, bottom = (float(side) for side in sides)
    return Box(left, top, right - left, bottom - top)


def _as_rectangle(box: Box, turn_deg: float) -> EmptyRectangle:
    return EmptyRectangle(turn(turn_deg).at(box.middle), box.width_mm, box.height_mm, turn_deg)
