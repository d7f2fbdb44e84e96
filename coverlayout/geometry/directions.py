"""Straight distances to the left, right, above and below, with both ends: what a ruler laid on the cloth would read."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from coverlayout.geometry.distance import Shape
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import ring_sides
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SNAP_MM

__all__ = ["SIDES", "Side", "Straight", "nearest_on_sides", "straight_to", "straight_to_edge"]

Side = Literal["left", "right", "above", "below"]
SIDES: tuple[Side, ...] = ("left", "right", "above", "below")

# For each side: the axis that is measured along (0 is x) and whether it runs to lesser or greater numbers.
_WAY: dict[Side, tuple[int, int]] = {"left": (0, -1), "right": (0, 1), "above": (1, -1), "below": (1, 1)}


@dataclass(frozen=True)
class Straight:
    """A distance along one axis in mm, from a point of the shape to the point it meets."""

    length_mm: float
    from_mm: Point
    to_mm: Point


def straight_to(shape: Shape, other: Shape, side: Side) -> Straight | None:
    """The least straight distance from `shape` to a neighbour on one side; None when it is not on that side.

    The two must share more than SAME_LENGTH_MM of the other axis, and must not overlap.

    >>> from coverlayout.geometry.shapes import rectangle
    >>> straight_to(Shape.of(rectangle(10.0, 8.0)), Shape.of(rectangle(7.0, 16.0, 13.0, 4.0)), "right")
    Straight(length_mm=3.0, from_mm=(10.0, 6.0), to_mm=(13.0, 6.0))
    """
    if shape.upright and other.upright:
        return _box_to_box(shape, other, side)
    if shape.overlap_mm(other) > SAME_LENGTH_MM:
        return None
    return _rings_to(shape, other, side)


def nearest_on_sides(shape: Shape, others: Sequence[Shape]) -> dict[Side, tuple[Straight, int]]:
    """On each side where there is a neighbour, the least straight distance and the number of that neighbour."""
    found: dict[Side, tuple[Straight, int]] = {}
    least: dict[Side, float] = dict.fromkeys(SIDES, math.inf)
    for index, other in enumerate(others):
        # No straight distance is less than that of the boxes, so most neighbours need no closer look.
        for side, box_mm in _boxes_apart_mm(shape, other):
            if box_mm >= least[side] or (straight := straight_to(shape, other, side)) is None:
                continue
            if straight.length_mm < least[side]:
                least[side] = straight.length_mm
                found[side] = straight, index
    return found


def straight_to_edge(shape: Shape, ground: Shape, side: Side) -> Straight | None:
    """The least straight distance from a shape to the edge of the ground it lies on; None when it reaches out there.

    >>> from coverlayout.geometry.shapes import rectangle
    >>> straight_to_edge(Shape.of(rectangle(20.0, 20.0, 5.0, 9.0)), Shape.of(rectangle(90.0, 80.0)), "left")
    Straight(length_mm=5.0, from_mm=(5.0, 19.0), to_mm=(0.0, 19.0))
    """
    if shape.upright and ground.upright:
        return _box_to_edge(shape, ground, side)
    return _rings_to(shape, ground, side)


def _ends(shape: Shape, axis: int) -> tuple[float, float]:
    return (shape.left_mm, shape.right_mm) if axis == 0 else (shape.top_mm, shape.bottom_mm)


def _shared(shape: Shape, other: Shape, axis: int) -> tuple[float, float] | None:
    """The stretch of an axis that two shapes share, when it is longer than the tolerance."""
    (low, high), (other_low, other_high) = _ends(shape, axis), _ends(other, axis)
    low, high = max(low, other_low), min(high, other_high)
    return (low, high) if high - low > SAME_LENGTH_MM else None


def _straight(length_mm: float, own: float, across: float, side: Side) -> Straight:
    axis, way = _WAY[side]
    length_mm = max(0.0, length_mm)
    met = own + way * length_mm
    if axis == 0:
        return Straight(length_mm, (own, across), (met, across))
    return Straight(length_mm, (across, own), (across, met))


def _boxes_apart_mm(shape: Shape, other: Shape) -> list[tuple[Side, float]]:
    """The sides on which some of a neighbour may lie, with the straight distance of the two boxes there."""
    found: list[tuple[Side, float]] = []
    if other.top_mm < shape.bottom_mm and other.bottom_mm > shape.top_mm:
        if other.left_mm < shape.left_mm:
            found.append(("left", shape.left_mm - other.right_mm))
        if other.right_mm > shape.right_mm:
            found.append(("right", other.left_mm - shape.right_mm))
    if other.left_mm < shape.right_mm and other.right_mm > shape.left_mm:
        if other.top_mm < shape.top_mm:
            found.append(("above", shape.top_mm - other.bottom_mm))
        if other.bottom_mm > shape.bottom_mm:
            found.append(("below", other.top_mm - shape.bottom_mm))
    return found


def _box_to_box(shape: Shape, other: Shape, side: Side) -> Straight | None:
    axis, way = _WAY[side]
    shared = _shared(shape, other, 1 - axis)
    (low, high), (other_low, other_high) = _ends(shape, axis), _ends(other, axis)
    length = low - other_high if way < 0 else other_low - high
    if shared is None or length < -SAME_LENGTH_MM:
        return None
    return _straight(length, low if way < 0 else high, (shared[0] + shared[1]) / 2, side)


def _box_to_edge(shape: Shape, ground: Shape, side: Side) -> Straight | None:
    axis, way = _WAY[side]
    shared = _shared(shape, ground, 1 - axis)
    own, edge = (_ends(shape, axis)[0 if way < 0 else 1], _ends(ground, axis)[0 if way < 0 else 1])
    length = (edge - own) * way
    if shared is None or length < -SAME_LENGTH_MM:
        return None
    return _straight(length, own, (shared[0] + shared[1]) / 2, side)


def _rings_to(shape: Shape, other: Shape, side: Side) -> Straight | None:
    """The least distance over all lines through a corner of either, and just inside both ends of what they share."""
    axis, way = _WAY[side]
    shared = _shared(shape, other, 1 - axis)
    if shared is None:
        return None
    own, met = shape.rings, other.rings
    first, last = shared[0] + 2 * SNAP_MM, shared[1] - 2 * SNAP_MM
    lines = {first, last} | {at[1 - axis] for ring in (*own, *met) for at in ring if first < at[1 - axis] < last}
    found = [(length, line) for line in lines if (length := _on_line(own, met, line, axis, way)) is not None]
    if not found:
        return None
    least = min(found)[0]
    nearest = [line for length, line in found if length - least <= SAME_LENGTH_MM / 2]
    middle = (min(nearest) + max(nearest)) / 2
    if (half := _on_line(own, met, middle, axis, way)) is None or half - least > SAME_LENGTH_MM / 2:
        middle = nearest[0]
    return _straight(least, _outermost(own, middle, axis, way), middle, side)


def _on_line(own: Sequence[Ring], met: Sequence[Ring], line: float, axis: int, way: int) -> float | None:
    """Distance on one line from the outermost point of the first to the next edge of the second."""
    start = _outermost(own, line, axis, way)
    ahead = [length for at in _crossings(met, line, axis) if (length := (at - start) * way) >= -SAME_LENGTH_MM]
    return min(ahead, default=None)


def _outermost(rings: Sequence[Ring], line: float, axis: int, way: int) -> float:
    return max(_crossings(rings, line, axis), key=lambda at: at * way)


def _crossings(rings: Iterable[Ring], line: float, axis: int) -> list[float]:
    """Where the edges of some outlines meet the line that runs along `axis` at `line` on the other axis."""
    found: list[float] = []
    for ring in rings:
        for start, end in ring_sides(ring):
            low, high = start[1 - axis], end[1 - axis]
            if not min(low, high) <= line <= max(low, high):
                continue
            if low == high:
                found += [start[axis], end[axis]]
            else:
                found.append(start[axis] + (line - low) / (high - low) * (end[axis] - start[axis]))
    return found
