"""The largest upright box round one point that keeps clear of every edge, slanted ones too."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from coverlayout.geometry.empty.cells import Edges, Floats
from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["largest_round"]

# Ways to divide what lies left and right of the point: coarsely at first, then between the neighbours of the best.
_FIRST_PARTS = 48
_NEXT_PARTS = 16
_ROUNDS = 5
# More than any cloth has.
_NARROW_MM2 = 1e12


def largest_round(seed_mm: Point, edges: Edges, least_mm: float = 0.0) -> Floats:
    """Left, top, right and bottom of the largest box that holds the point and that no edge enters, mm.

    Boxes with a side below `least_mm` come last of all.

    The point lies inside the region whose edges these are, on none of them; the box then lies in the region. For any
    left and right side the highest top and the lowest bottom follow from the edges between them; left and right are
    searched, ever closer round the best pair, down to a hundredth of a millimetre or less.

    >>> slope = Edges.of_rings([((0.0, 0.0), (100.0, 0.0), (0.0, 100.0))])
    >>> [round(float(side), 2) for side in largest_round((20.0, 20.0), slope)]
    [0.0, 0.0, 50.0, 50.0]
    """
    sky = _Sky(seed_mm, edges)
    if not sky.left_mm < seed_mm[0] < sky.right_mm:
        return np.array([*seed_mm, *seed_mm])
    lefts, rights = sky.first_sides(_FIRST_PARTS)
    for _ in range(_ROUNDS):
        left_at, right_at = sky.best_pair(lefts, rights, least_mm)
        best = lefts[left_at], rights[right_at]
        lefts, rights = _between(lefts, left_at), _between(rights, right_at)
    left, right = best
    (top,), (bottom,) = sky.limits(np.array([left]), np.array([right]))
    return np.array([left, top[0], right, bottom[0]])


class _Sky:
    """The edges as seen from the point: how high a box may reach and how deep, whatever its left and right side."""

    def __init__(self, seed_mm: Point, edges: Edges) -> None:
        self.x_mm, self.y_mm = seed_mm
        ordered = edges.start[:, 0] <= edges.end[:, 0]
        self._a = np.where(ordered[:, None], edges.start, edges.end)
        self._b = np.where(ordered[:, None], edges.end, edges.start)
        self.left_mm, self.right_mm = self._reach()
        near = (self._b[:, 0] >= self.left_mm) & (self._a[:, 0] <= self.right_mm)
        self._a, self._b = self._a[near], self._b[near]
        wide = self._b[:, 0] - self._a[:, 0]
        rise = self._b[:, 1] - self._a[:, 1]
        self._slope = np.divide(rise, wide, out=np.zeros_like(rise), where=wide > 0)

    def _reach(self) -> tuple[float, float]:
        """How far left and right of the point the level line through it meets nothing."""
        low, high = np.minimum(self._a[:, 1], self._b[:, 1]), np.maximum(self._a[:, 1], self._b[:, 1])
        crosses = (low < self.y_mm) & (high > self.y_mm)
        a, b = self._a[crosses], self._b[crosses]
        at = a[:, 0] + (self.y_mm - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
        left, right = at[at <= self.x_mm], at[at >= self.x_mm]
        if not len(left) or not len(right):
            return self.x_mm, self.x_mm
        return float(left.max()), float(right.min())

    def first_sides(self, parts: int) -> tuple[Floats, Floats]:
        """Where to try the left and the right side first: at every corner, and evenly between."""
        corners = np.concatenate([self._a[:, 0], self._b[:, 0]])
        lefts = np.concatenate([corners, np.linspace(self.left_mm, self.x_mm, parts + 1)])
        rights = np.concatenate([corners, np.linspace(self.x_mm, self.right_mm, parts + 1)])
        return (
            np.unique(lefts[(lefts >= self.left_mm) & (lefts < self.x_mm)]),
            np.unique(rights[(rights > self.x_mm) & (rights <= self.right_mm)]),
        )

    def best_pair(self, lefts: Floats, rights: Floats, least_mm: float) -> tuple[int, int]:
        """Which left and which right side make the largest box; one that is too narrow only where all are."""
        top, bottom = self.limits(lefts, rights)
        wide, high = rights[None, :] - lefts[:, None], bottom - top
        area = wide * high
        area = np.where(np.minimum(wide, high) >= least_mm, area, area - _NARROW_MM2)
        return divmod(int(np.argmax(area)), len(rights))

    def limits(self, lefts: Floats, rights: Floats) -> tuple[Floats, Floats]:
        """The highest top and the lowest bottom for each pair of sides: one row a left, one column a right."""
        left_top, left_bottom = self._limit(lefts, np.full_like(lefts, self.x_mm))
        right_top, right_bottom = self._limit(np.full_like(rights, self.x_mm), rights)
        top = np.maximum(left_top[:, None], right_top[None, :])
        return top, np.minimum(left_bottom[:, None], right_bottom[None, :])

    def _limit(self, from_mm: Floats, to_mm: Floats) -> tuple[Floats, Floats]:
        """The lowest edge above and the highest below the point's level, over each stretch from left to right."""
        first = np.maximum(from_mm[:, None], self._a[None, :, 0])
        last = np.minimum(to_mm[:, None], self._b[None, :, 0])
        upright = self._a[:, 0] == self._b[:, 0]
        over = np.where(upright, (from_mm[:, None] < first) & (first < to_mm[:, None]), first < last - SNAP_MM)
        one = self._a[:, 1] + (first - self._a[:, 0]) * self._slope
        other = np.where(upright, self._b[:, 1], self._a[:, 1] + (last - self._a[:, 0]) * self._slope)
        above = self._side(np.maximum(one, other), over, above=True)
        return above, -self._side(-np.minimum(one, other), over, above=False)

    def _side(self, reach: Floats, over: npt.NDArray[np.bool_], *, above: bool) -> Floats:
        """The nearest reach of the edges on one side of the level, over every stretch."""
        level = self.y_mm if above else -self.y_mm
        counted = np.where(over & (reach <= level + SNAP_MM), reach, -np.inf)
        nearest: Floats = counted.max(axis=1, initial=-np.inf)
        return np.minimum(nearest, level)


def _between(sides: Floats, at: int) -> Floats:
    """Sides tried next: from the neighbour before the best to the one after it."""
    low, high = sides[max(at - 1, 0)], sides[min(at + 1, len(sides) - 1)]
    return np.unique(np.concatenate([np.linspace(low, high, _NEXT_PARTS + 1), [sides[at]]]))
