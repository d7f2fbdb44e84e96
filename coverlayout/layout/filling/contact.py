"""Where one shape may not lie beside another: sums of convex parts as rings, half-planes and the points of contact.

A shape is told by its convex parts around its anchor, all rings running the same way round. A *barrier* is all places
of a moving shape's anchor at which it would overlap a standing one, counted from the standing one's anchor.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM
from coverlayout.layout.search.repeats import Points

__all__ = ["DEPTH_MM", "Barrier", "Floats", "Groups", "crossings", "oriented", "sum_of"]

Floats = npt.NDArray[np.float64]
# Shapes that share less depth than this count as touching: well within what the rules forgive.
DEPTH_MM = SAME_LENGTH_MM / 10
# So many pairs of a point and a half-plane are looked at in one go.
_AT_ONCE = 100_000


def oriented(ring: Ring) -> Points:
    """The ring as an array, running so that its inside lies to the left of every edge (x right, y up)."""
    points = np.asarray(ring, dtype=np.float64)
    x, y = points.T
    twice = float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    return points if twice >= 0 else np.ascontiguousarray(points[::-1])


def sum_of(standing: Points, moving: Points, apart_mm: float = 0.0) -> Points:
    """All places of the moving convex ring at which it overlaps the standing one, or comes nearer than `apart_mm`.

    Minkowski's sum of the one and the other seen through its origin; at its corners the distance is cut flat.
    """
    ring = _merged(standing, -moving)
    return _grown(ring, apart_mm) if apart_mm > 0 else ring


def _merged(one: Points, other: Points) -> Points:
    """The sum of two convex rings: their edges put after one another by direction."""
    (edges, turned), (others, others_turned) = _edges(one), _edges(other)
    # The edge of the least direction leaves the corner where the ring begins.
    start = one[int(np.argmin(turned))] + other[int(np.argmin(others_turned))]
    order = np.argsort(np.concatenate([turned, others_turned]), kind="stable")
    steps = np.concatenate([edges, others])[order]
    ring: Points = start + np.concatenate([np.zeros((1, 2)), np.cumsum(steps[:-1], axis=0)])
    return ring


def _edges(ring: Points) -> tuple[Floats, Floats]:
    """The edges of a ring and their directions; straight to the left is half a turn, never half a turn back."""
    edges = np.roll(ring, -1, axis=0) - ring
    turned = np.arctan2(edges[:, 1], edges[:, 0])
    return edges, np.where(turned < EXACT_MM - np.pi, turned + 2 * np.pi, turned)


def _grown(ring: Points, by_mm: float) -> Points:
    edges = np.roll(ring, -1, axis=0) - ring
    length = np.hypot(edges[:, 0], edges[:, 1])
    ring, edges = ring[length > EXACT_MM], edges[length > EXACT_MM] / length[length > EXACT_MM, None]
    into = np.roll(edges, 1, axis=0)
    bend = np.arctan2(into[:, 0] * edges[:, 1] - into[:, 1] * edges[:, 0], (into * edges).sum(axis=1))
    ahead = by_mm * np.tan(bend / 4)[:, None]
    before = ring + by_mm * _outward(into) + ahead * into
    after = ring + by_mm * _outward(edges) - ahead * edges
    grown: Points = np.stack([before, after], axis=1).reshape(-1, 2)
    return grown


def _outward(directions: Floats) -> Floats:
    return np.stack([directions[:, 1], -directions[:, 0]], axis=1)


@dataclass(frozen=True, eq=False)
class Groups:
    """Groups of half-planes: a point lies in a group where `normals` . x < `offsets` for all of its half-planes.

    `starts` says where each group begins, `lows` and `highs` are the corners of the boxes around them.
    """

    normals: Floats
    offsets: Floats
    starts: npt.NDArray[np.intp]
    lows: Points
    highs: Points

    @classmethod
    def none(cls) -> Groups:
        """No groups."""
        empty = np.empty((0, 2))
        return cls(empty, np.empty(0), np.empty(0, dtype=np.intp), empty, empty)

    def moved(self, at: Points) -> Groups:
        """The same groups elsewhere."""
        return Groups(self.normals, self.offsets + self.normals @ at, self.starts, self.lows + at, self.highs + at)

    @classmethod
    def joined(cls, some: Sequence[Groups]) -> Groups:
        """The groups of several."""
        before = np.cumsum([0, *(len(groups.offsets) for groups in some[:-1])])
        return cls(
            np.concatenate([groups.normals for groups in some]),
            np.concatenate([groups.offsets for groups in some]),
            np.concatenate([groups.starts + count for groups, count in zip(some, before, strict=True)]),
            np.concatenate([groups.lows for groups in some]),
            np.concatenate([groups.highs for groups in some]),
        )

    def clear(self, points: Points) -> npt.NDArray[np.bool_]:
        """Which points lie in none of the groups by more than DEPTH_MM."""
        if not len(self.starts) or not len(points):
            return np.ones(len(points), dtype=np.bool_)
        if len(points) * len(self.offsets) <= _AT_ONCE:
            return self._clear(points)
        near = ((points >= self.lows.min(axis=0)) & (points <= self.highs.max(axis=0))).all(axis=1)
        clear: npt.NDArray[np.bool_] = np.logical_not(near)
        if near.any():
            some = points[near]
            clear[near] = self._near(some.min(axis=0), some.max(axis=0))._in_portions(some)
        return clear

    def _in_portions(self, points: Points) -> npt.NDArray[np.bool_]:
        portion = max(_AT_ONCE // max(len(self.offsets), 1), 1)
        return np.concatenate([self._clear(points[k : k + portion]) for k in range(0, len(points), portion)])

    def _clear(self, points: Points) -> npt.NDArray[np.bool_]:
        if not len(self.starts):
            return np.ones(len(points), dtype=np.bool_)
        inside = self.offsets - points @ self.normals.T
        deep = np.minimum.reduceat(inside, self.starts, axis=1)
        return np.asarray((deep <= DEPTH_MM).all(axis=1), dtype=np.bool_)

    def _near(self, low: Floats, high: Floats) -> Groups:
        """The groups whose boxes meet a box."""
        met = ((self.lows <= high) & (self.highs >= low)).all(axis=1)
        sizes = np.diff(np.append(self.starts, len(self.offsets)))
        kept = np.repeat(met, sizes)
        starts = np.cumsum(sizes[met]) - sizes[met]
        return Groups(self.normals[kept], self.offsets[kept], starts, self.lows[met], self.highs[met])


@dataclass(frozen=True, eq=False)
class Barrier:
    """Blocked places as groups, `tails` and `heads` of the edges around them, and `corners` where a shape may touch."""

    groups: Groups
    tails: Points
    heads: Points
    corners: Points

    @classmethod
    def of(cls, rings: Sequence[Points]) -> Barrier:
        """The barrier of convex rings, at least one; corners that lie inside another ring are no places to touch."""
        tails = np.concatenate(rings)
        heads = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])
        owner = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
        edges = heads - tails
        length = np.hypot(edges[:, 0], edges[:, 1])
        kept = length > EXACT_MM
        tails, heads, edges, owner = tails[kept], heads[kept], edges[kept] / length[kept, None], owner[kept]
        normals = _outward(edges)
        starts = np.flatnonzero(np.concatenate([[True], np.diff(owner) > 0]))
        lows, highs = np.minimum.reduceat(tails, starts), np.maximum.reduceat(tails, starts)
        groups = Groups(normals, (normals * tails).sum(axis=1), starts, lows, highs)
        corners = tails
        if len(rings) > 1:
            corners = np.concatenate([tails, crossings(tails, heads, tails, heads)])
            corners = corners[groups.clear(corners)]
        return cls(groups, tails, heads, corners)


def crossings(tails: Points, heads: Points, other_tails: Points, other_heads: Points) -> Points:
    """Where edges of the first list cross edges of the second; none for parallel ones."""
    along, across = heads - tails, other_heads - other_tails
    det = along[:, :1] * across[:, 1] - along[:, 1:] * across[:, 0]
    dx = other_tails[:, 0] - tails[:, :1]
    dy = other_tails[:, 1] - tails[:, 1:]
    with np.errstate(divide="ignore", invalid="ignore"):
        first = (dx * across[:, 1] - dy * across[:, 0]) / det
        second = (dx * along[:, 1:] - dy * along[:, :1]) / det
    met = (first >= -EXACT_MM) & (first <= 1 + EXACT_MM) & (second >= -EXACT_MM) & (second <= 1 + EXACT_MM)
    row, column = np.nonzero(met & (np.abs(det) > EXACT_MM))
    points: Points = tails[row] + first[row, column, None] * along[row]
    return points
