"""What lies beside a piece, measured between the true outlines, straight out from the piece's own sides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from coverlayout.geometry.directions import Side, Straight, straight_to, straight_to_edge
from coverlayout.geometry.distance import Shape
from coverlayout.geometry.frames import Point, Ring, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["Beside", "Neighbour"]


@dataclass(frozen=True)
class Neighbour:
    """The nearest other piece or edge of the cloth in one direction: its id (or "edge") and how far, 0 mm or more.

    `from_mm` on the piece and `to_mm` on its neighbour are the ends of the distance, in the view of the side.
    """

    name: str
    distance_mm: float
    from_mm: Point = field(default=(0.0, 0.0), compare=False)
    to_mm: Point = field(default=(0.0, 0.0), compare=False)


@dataclass(frozen=True)
class _Ready:
    """Everything turned back by one lean, so that pieces with that lean lie upright."""

    ground: Shape
    shapes: tuple[Shape, ...]


class Beside:
    """All that lies on one cloth, as seen from one side, ready to be asked what is nearest."""

    def __init__(self, ground: Region, lying: Sequence[tuple[str, Ring]]) -> None:
        """`ground` is the cloth, `lying` the ids and outlines of the pieces, all in the view of the side."""
        self._ground, self._lying = ground, tuple(lying)
        self._ready: dict[float, _Ready] = {}

    def nearest(self, number: int, lean_deg: float, side: Side) -> Neighbour:
        """What comes first straight out from one side of a piece that leans by that much, as seen.

        Pieces that lie over each other have no way between them. Of a piece that reaches over the cloth's edge the edge
        is 0 mm away.
        """
        ready = self._turned_back(lean_deg)
        shape = ready.shapes[number]
        others = [(each, self._lying[at][0]) for at, each in enumerate(ready.shapes) if at != number]
        ways = [(straight_to_edge(shape, ready.ground, side), ready.ground, "edge")]
        ways += [(straight_to(shape, other, side), other, name) for other, name in others]
        found = [(way, other, name) for way, other, name in ways if way is not None]
        back = turn(lean_deg)
        if not found:
            at = back.at((shape.left_mm, shape.top_mm))
            return Neighbour("edge", 0.0, at, at)
        way, other, name = min(found, key=lambda each: each[0].length_mm)
        start, end = _part_way(way, shape, other, side)
        return Neighbour(name, way.length_mm, back.at(start), back.at(end))

    def _turned_back(self, lean_deg: float) -> _Ready:
        if lean_deg not in self._ready:
            by = turn(-lean_deg)
            shapes = tuple(Shape.of(by.ring(outline)) for _, outline in self._lying)
            self._ready[lean_deg] = _Ready(Shape.of_region(self._ground.mapped(by)), shapes)
        return self._ready[lean_deg]


def _part_way(way: Straight, shape: Shape, other: Shape, side: Side) -> tuple[Point, Point]:
    """The distance a third of the way along what the two share, clear of the marks in the middle of an edge.

    Beside an edge that slants or bends, where it is nearest, unless it is as near there.
    """
    if not shape.upright:
        return way.from_mm, way.to_mm
    axis = 1 if side in ("left", "right") else 0
    low, high = (shape.top_mm, shape.bottom_mm) if axis else (shape.left_mm, shape.right_mm)
    if other.upright:
        low, high = max(low, (other.left_mm, other.top_mm)[axis]), min(high, (other.right_mm, other.bottom_mm)[axis])
    third = low + (high - low) / 3
    if not other.upright:
        there = straight_to_edge(_strip(shape, axis, third), other, side)
        if there is None or there.length_mm - way.length_mm > SAME_LENGTH_MM:
            return way.from_mm, way.to_mm
    if axis:
        return (way.from_mm[0], third), (way.to_mm[0], third)
    return (third, way.from_mm[1]), (third, way.to_mm[1])


def _strip(shape: Shape, axis: int, at: float) -> Shape:
    """A narrow strip of an upright rectangle, all across the other axis."""
    reach = 10 * SAME_LENGTH_MM
    if axis:
        return Shape.of(rectangle(shape.right_mm - shape.left_mm, 2 * reach, shape.left_mm, at - reach))
    return Shape.of(rectangle(2 * reach, shape.bottom_mm - shape.top_mm, at - reach, shape.top_mm))
