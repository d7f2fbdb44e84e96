"""Where the end of a measure catches: at the corners and edges of what lies near it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box, bounds

__all__ = ["Caught", "Edging", "caught"]


@dataclass(frozen=True)
class Edging:
    """A line that ends catch at: an outline, or (not `closed`) a line from its first point to its last.

    A single point is an edging too. ValueError when it is looked at without any point.
    """

    name: str
    points_mm: Ring
    closed: bool = True

    @cached_property
    def box(self) -> Box:
        """The smallest upright box around it."""
        return bounds(self.points_mm)

    def edges(self) -> Iterator[tuple[Point, Point]]:
        """Every edge as its two ends."""
        after = self.points_mm[1:] + (self.points_mm[:1] if self.closed else ())
        return zip(self.points_mm, after, strict=False)

    def may_be_within(self, at_mm: Point, within_mm: float) -> bool:
        """False when no part of it can lie so near."""
        box, (x, y) = self.box, at_mm
        return (
            box.left_mm - within_mm <= x <= box.right_mm + within_mm
            and box.top_mm - within_mm <= y <= box.bottom_mm + within_mm
        )


@dataclass(frozen=True)
class Caught:
    """The place that caught, and whose corner or edge it is."""

    at_mm: Point
    kind: Literal["corner", "edge"]
    name: str


def caught(at_mm: Point, edgings: Iterable[Edging], within_mm: float) -> Caught | None:
    """The nearest corner within `within_mm`, else the nearest place on an edge within it, else None.

    Of equals the one named first counts. All in one frame.

    >>> swatch = Edging("swatch", ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)))
    >>> caught((98.5, 1.0), [swatch], 2.0)
    Caught(at_mm=(100.0, 0.0), kind='corner', name='swatch')
    >>> caught((60.0, 1.5), [swatch], 2.0)
    Caught(at_mm=(60.0, 0.0), kind='edge', name='swatch')
    >>> caught((60.0, 25.0), [swatch], 2.0) is None
    True
    """
    near = [edging for edging in edgings if edging.may_be_within(at_mm, within_mm)]
    corners = [Caught(point, "corner", edging.name) for edging in near for point in edging.points_mm]
    found = _nearest(at_mm, corners, within_mm)
    if found is not None:
        return found
    feet = [Caught(_foot(at_mm, *edge), "edge", edging.name) for edging in near for edge in edging.edges()]
    return _nearest(at_mm, feet, within_mm)


def _nearest(at_mm: Point, places: list[Caught], within_mm: float) -> Caught | None:
    best = min(places, key=lambda place: math.dist(at_mm, place.at_mm), default=None)
    return best if best is not None and math.dist(at_mm, best.at_mm) <= within_mm else None


def _foot(at_mm: Point, start_mm: Point, end_mm: Point) -> Point:
    """The place on a straight edge that lies nearest; its only place for an edge without length."""
    dx, dy = end_mm[0] - start_mm[0], end_mm[1] - start_mm[1]
    length_mm2 = dx * dx + dy * dy
    if length_mm2 == 0.0:
        return start_mm
    share = ((at_mm[0] - start_mm[0]) * dx + (at_mm[1] - start_mm[1]) * dy) / length_mm2
    share = min(max(share, 0.0), 1.0)
    return start_mm[0] + share * dx, start_mm[1] + share * dy
