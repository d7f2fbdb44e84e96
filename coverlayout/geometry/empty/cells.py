"""A region cut into cells by lines across and along, and the boxes of empty cells that cannot grow on any side."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Region
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["Boxes", "Edges", "Floats", "edges_of", "maximal_boxes", "without"]

Floats = npt.NDArray[np.float64]
Boxes = npt.NDArray[np.float64]
"""One row a box: left, top, right, bottom in mm."""

# Lines that make the cells between slanted edges: the finest step, in mm, and how many lines an axis may have; the step
# is doubled until they fit, and where upright edges take that many already, slanted ones still get some.
_FINEST_MM = 0.5
_MOST_LINES = 110
_LEAST_SLANTED_LINES = 40
# An edge that strays less than this runs straight: twice what shapes are snapped to.
_STRAIGHT_MM = 2 * SNAP_MM


@dataclass(frozen=True, eq=False)
class Edges:
    """Every edge of a region's outlines and holes, as arrays of their ends in mm."""

    start: Floats
    end: Floats

    @classmethod
    def of_rings(cls, rings: Iterable[Ring]) -> Edges:
        """The edges of closed rings, each ring open in the list (its first point not repeated)."""
        kept = tuple(ring for ring in rings if len(ring) > 2)
        if not kept:
            return cls(np.empty((0, 2)), np.empty((0, 2)))
        starts = [np.asarray(ring, dtype=np.float64) for ring in kept]
        ends = [np.roll(points, -1, axis=0) for points in starts]
        return cls(np.concatenate(starts), np.concatenate(ends))

    def with_box(self, left_mm: float, top_mm: float, right_mm: float, bottom_mm: float) -> Edges:
        """These edges and those of a box that is no longer empty."""
        ring = ((left_mm, top_mm), (right_mm, top_mm), (right_mm, bottom_mm), (left_mm, bottom_mm))
        more = Edges.of_rings([ring])
        return Edges(np.concatenate([self.start, more.start]), np.concatenate([self.end, more.end]))

    @cached_property
    def slanted(self) -> npt.NDArray[np.bool_]:
        """Which edges run neither straight across nor straight along."""
        apart: Floats = np.abs(self.end - self.start)
        slanted: npt.NDArray[np.bool_] = apart.min(axis=1) > _STRAIGHT_MM
        return slanted


def edges_of(region: Region) -> Edges:
    """The edges of a region; none when it is empty."""
    return Edges.of_rings(ring for outer, holes in region.parts() for ring in (outer, *holes))


def maximal_boxes(edges: Edges, least_mm: float) -> tuple[Boxes, float]:
    """Every box of empty cells that cannot grow, no side below `least_mm`; and how far slanted edges may be off, mm.

    0 when no edge is slanted: then the boxes are exact. A cell that a slanted edge passes through is not empty, so no
    box ever reaches out.
    """
    if not len(edges.start):
        return np.empty((0, 4)), 0.0
    (xs, across_mm), (ys, along_mm) = _lines(edges, 0), _lines(edges, 1)
    free = _empty_cells(edges, xs, ys)
    found = _maximal(free, xs, ys, least_mm)
    return found, max(across_mm, along_mm)


def without(boxes: Boxes, taken: Floats, least_mm: float) -> Boxes:
    """The boxes once the box `taken` is no longer empty: those it meets give up to four parts beside it.

    >>> without(np.array([[0.0, 0.0, 100.0, 50.0]]), np.array([0.0, 0.0, 70.0, 30.0]), 10.0).tolist()
    [[70.0, 0.0, 100.0, 50.0], [0.0, 30.0, 100.0, 50.0]]
    """
    meets = (boxes[:, 0] < taken[2]) & (boxes[:, 2] > taken[0]) & (boxes[:, 1] < taken[3]) & (boxes[:, 3] > taken[1])
    parts = [boxes[~meets]]
    for side, other in ((2, 0), (0, 2), (3, 1), (1, 3)):
        part = boxes[meets].copy()
        part[:, side] = taken[other]
        parts.append(part)
    left = np.concatenate(parts)
    wide: Boxes = left[((left[:, 2] - left[:, 0]) >= least_mm) & ((left[:, 3] - left[:, 1]) >= least_mm)]
    return wide


def _lines(edges: Edges, axis: int) -> tuple[Floats, float]:
    """The lines of the grid on one axis, and their step between the ends of slanted edges (0 where there are none)."""
    straight, slanted = edges.start[~edges.slanted], edges.slanted
    exact = np.unique(np.concatenate([straight[:, axis], edges.end[~slanted][:, axis]]))
    if not slanted.any():
        return _apart(exact), 0.0
    low = np.minimum(edges.start[slanted][:, axis], edges.end[slanted][:, axis])
    high = np.maximum(edges.start[slanted][:, axis], edges.end[slanted][:, axis])
    room = max(_MOST_LINES - len(exact), _LEAST_SLANTED_LINES)
    step_mm = _FINEST_MM
    while len(between := _stepped(low, high, step_mm)) > room and step_mm < float(high.max() - low.min()):
        step_mm *= 2
    return _apart(np.unique(np.concatenate([exact, between]))), step_mm


def _stepped(low: Floats, high: Floats, step_mm: float) -> Floats:
    """Whole steps within any of the stretches, and one on each side of them."""
    first, last = np.floor(low / step_mm).astype(int), np.ceil(high / step_mm).astype(int)
    lowest = int(first.min())
    marked = np.zeros(int(last.max()) - lowest + 2, dtype=int)
    np.add.at(marked, first - lowest, 1)
    np.add.at(marked, last - lowest + 1, -1)
    steps: Floats = (np.flatnonzero(np.cumsum(marked) > 0) + lowest).astype(np.float64)
    return steps * step_mm


def _apart(lines: Floats) -> Floats:
    """The lines without those that are no more than dust apart from the one before."""
    kept: Floats = lines[np.concatenate([[True], np.diff(lines) > SNAP_MM / 2])]
    return kept


def _empty_cells(edges: Edges, xs: Floats, ys: Floats) -> npt.NDArray[np.bool_]:
    """Which cells (rows along y, columns along x) lie wholly inside the region."""
    inside = _middles_inside(edges, xs, ys)
    start, end = edges.start[edges.slanted], edges.end[edges.slanted]
    for (x0, y0), (x1, y1) in zip(start.tolist(), end.tolist(), strict=True):
        _close_crossed(inside, (x0, y0, x1, y1) if y0 < y1 else (x1, y1, x0, y0), xs, ys)
    return inside


def _middles_inside(edges: Edges, xs: Floats, ys: Floats) -> npt.NDArray[np.bool_]:
    """Which cells have their middle inside, told by how many edges lie to the left of it: an odd number."""
    middle_x, middle_y = (xs[:-1] + xs[1:]) / 2, (ys[:-1] + ys[1:]) / 2
    (x0, y0), (x1, y1) = edges.start.T, edges.end.T
    crossed = (y0 <= middle_y[:, None]) != (y1 <= middle_y[:, None])
    row, edge = np.nonzero(crossed)
    at = x0[edge] + (middle_y[row] - y0[edge]) / (y1[edge] - y0[edge]) * (x1[edge] - x0[edge])
    count = np.zeros((len(middle_y), len(middle_x) + 1), dtype=np.int64)
    np.add.at(count, (row, np.searchsorted(middle_x, at)), 1)
    odd: npt.NDArray[np.bool_] = np.cumsum(count, axis=1)[:, :-1] % 2 == 1
    return odd


def _close_crossed(free: npt.NDArray[np.bool_], edge: Sequence[float], xs: Floats, ys: Floats) -> None:
    """Close every cell that a slanted edge, given from its upper end to its lower, passes through."""
    x0, y0, x1, y1 = edge
    first, last = int(np.searchsorted(ys, y0, "right")) - 1, int(np.searchsorted(ys, y1, "left"))
    first, last = max(first, 0), min(last, len(ys) - 1)
    if first >= last:
        return
    slope = (x1 - x0) / (y1 - y0)
    upper = x0 + (np.clip(ys[first:last], y0, y1) - y0) * slope
    lower = x0 + (np.clip(ys[first + 1 : last + 1], y0, y1) - y0) * slope
    from_column = np.searchsorted(xs, np.minimum(upper, lower), "right") - 1
    to_column = np.searchsorted(xs, np.maximum(upper, lower), "left")
    columns = np.arange(len(xs) - 1)
    free[first:last] &= ~((columns >= from_column[:, None]) & (columns < to_column[:, None]))


def _maximal(free: npt.NDArray[np.bool_], xs: Floats, ys: Floats, least_mm: float) -> Boxes:
    """For each first row: the runs of columns that stay empty down to each last row, where they cannot grow.

    A run at its widest for its rows cannot grow sideways; it cannot grow up or down when the row above, and the row
    below, close some of it. So it begins where a row opens, and ends as deep as one of its columns goes.
    """
    walled = np.pad(~free, ((1, 1), (1, 0)), constant_values=((True, True), (False, False)))
    closed = np.cumsum(walled, axis=1)
    opens = (free & walled[:-2, 1:]).any(axis=1)
    depth = _depths(free)
    parts: list[Boxes] = []
    for top in np.flatnonzero(opens).tolist():
        ends = top + np.unique(depth[top])
        ends = ends[ends > max(int(np.searchsorted(ys, ys[top] + least_mm - SNAP_MM)) - 1, top)]
        run = top + depth[top] >= ends[:, None]
        change = np.diff(np.pad(run, ((0, 0), (1, 1))).astype(np.int8), axis=1)
        last, left = np.nonzero(change == 1)
        right = np.nonzero(change == -1)[1]
        bottom = ends[last] - 1
        # Row k of the cells is row k + 1 in `closed`: there is a wall above and below.
        above = closed[top, right] - closed[top, left]
        below: npt.NDArray[np.int64] = closed[bottom + 2, right] - closed[bottom + 2, left]
        keep = (above > 0) & (below > 0) & (xs[right] - xs[left] >= least_mm - SNAP_MM)
        sides = (xs[left], np.full(len(left), ys[top]), xs[right], ys[bottom + 1])
        parts.append(np.stack([side[keep] for side in sides], axis=1))
    return np.concatenate(parts) if parts else np.empty((0, 4))


def _depths(free: npt.NDArray[np.bool_]) -> npt.NDArray[np.int64]:
    """For each cell: how many cells from it on downward are empty without a break."""
    rows = len(free)
    at = np.where(free, rows, np.arange(rows)[:, None])
    next_closed: npt.NDArray[np.int64] = np.minimum.accumulate(at[::-1], axis=0)[::-1]
    return next_closed - np.arange(rows)[:, None]
