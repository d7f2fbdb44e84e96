"""Regions covered by upright boxes, so that what is slanted can stand in the way of rectangles."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box, Region, ring_sides
from coverlayout.geometry.tolerance import EXACT_MM, SNAP_MM

__all__ = ["boxes_around", "covering_boxes"]

# A slanted edge is followed in so many steps at most over the height of a region, none lower than this.
_MOST_STEPS = 12
_LEAST_STEP_MM = 2.0

_Edge = tuple[Point, Point]


def covering_boxes(region: Region) -> tuple[Box, ...]:
    """Boxes that cover a region: exactly where its edges run across and along, in small steps where they are slanted.

    >>> ell = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0))
    >>> [(box.top_mm, box.width_mm, box.height_mm) for box in covering_boxes(Region.of(ell))]
    [(0.0, 4.0, 1.0), (1.0, 1.0, 2.0)]
    """
    return tuple(box for ring, holes in region.parts() for box in _cover_of((ring, *holes)))


def boxes_around(region: Region) -> tuple[Box, ...]:
    """Boxes that cover what of a region's bounding box does not belong to it; none for an upright rectangle."""
    if region.is_empty:
        return ()
    return covering_boxes(Region.of(region.bounds.ring()).minus(region))


def _cover_of(rings: tuple[Ring, ...]) -> Iterator[Box]:
    edges = [edge for ring in rings for edge in ring_sides(ring)]
    levels = _levels(edges)
    for top, bottom in itertools.pairwise(levels):
        spans = [_span(edge, top, bottom) for edge in edges if _crosses(edge, (top + bottom) / 2)]
        spans.sort(key=sum)
        for left, right in zip(spans[::2], spans[1::2], strict=True):
            yield Box(left[0], top, right[1] - left[0], bottom - top)


def _levels(edges: list[_Edge]) -> list[float]:
    """Where the boxes begin and end: at every corner, and in steps along slanted edges."""
    corners = sorted({start[1] for start, _ in edges})
    step_mm = max((corners[-1] - corners[0]) / _MOST_STEPS, _LEAST_STEP_MM)
    levels: list[float] = []
    for low, high in itertools.pairwise(corners):
        if high - low <= SNAP_MM:
            continue
        slanted = any(_crosses(edge, (low + high) / 2) and abs(edge[0][0] - edge[1][0]) > SNAP_MM for edge in edges)
        steps = math.ceil((high - low) / step_mm - EXACT_MM) if slanted else 1
        levels += [low + (high - low) * k / steps for k in range(steps)]
    return [*levels, corners[-1]]


def _crosses(edge: _Edge, y_mm: float) -> bool:
    return (edge[0][1] <= y_mm) != (edge[1][1] <= y_mm)


def _span(edge: _Edge, top_mm: float, bottom_mm: float) -> tuple[float, float]:
    """From where to where an edge runs across between two levels."""
    (x0, y0), (x1, y1) = edge
    slope = (x1 - x0) / (y1 - y0)
    ends = x0 + (top_mm - y0) * slope, x0 + (bottom_mm - y0) * slope
    low, high = min(x0, x1), max(x0, x1)
    return min(max(min(ends), low), high), max(min(max(ends), high), low)
