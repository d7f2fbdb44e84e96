"""A layout in one strip by a beam: piece after piece, the most promising of all half-filled strips kept at each.

Beam search over skylines; what is lost for good is bounded at every strip, so that those that cannot end within the
length are dropped at once. Repeatable: it has no chance in it, and equal promises are taken in order.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coverlayout.layout.search.effort import Effort
from coverlayout.layout.strips.kinds import Floats, Kinds, Numbers, Spot
from coverlayout.layout.strips.skylines import Children, Niches, Skylines

__all__ = ["Promise", "search_beam"]

# So many times as many strips are looked at closely as are kept.
_CLOSELY = 2
# Strips kept times ways of lying: more at once would take too long between two looks at the watch, and much memory.
_MOST_AT_ONCE = 450_000
# What one step of effort buys: the fixed cost of a level, and numbers worked through.
_LEVEL_STEPS, _NUMBERS_A_STEP = 8, 1_000


@dataclass(frozen=True)
class Promise:
    """How promising a half-filled strip is, counted in pieces of average size that are covered.

    `part_price` is the cost of each part of its skyline, `exact_price` the worth of each niche that a piece fills
    exactly, `loss_price` the cost of all the area that may be lost, by number of pieces.
    """

    part_price: float
    exact_price: float
    loss_price: float


def search_beam(kinds: Kinds, length: int, keep: int, promise: Promise, effort: Effort) -> tuple[Spot, ...] | None:
    """Spots for all pieces within `length` units, the shortest found, or None; at most `keep` are kept at a time.

    OutOfSteps or CutShort from the effort.
    """
    search = _Beam(kinds, length, keep, promise)
    return search.spots() if all(search.put_one(effort) for _ in range(kinds.pieces)) else None


class _Beam:
    """One run: the strips as they now are, and how each came to be."""

    def __init__(self, kinds: Kinds, length: int, keep: int, promise: Promise) -> None:
        self._kinds, self._promise = kinds, promise
        self._keep = min(keep, max(_MOST_AT_ONCE // len(kinds.width), 1))
        self._may_lose = kinds.strip_width * length - kinds.area
        self._lines = Skylines.start(kinds, length)
        self._past: list[tuple[Numbers, Numbers, Numbers, Numbers]] = []

    def put_one(self, effort: Effort) -> bool:
        """Put one more piece into every strip; False when no strip can take one."""
        niches, fits = self._lines.fitting(self._may_lose)
        effort.spend(_LEVEL_STEPS + fits.size // _NUMBERS_A_STEP)
        children = self._best_at_a_glance(niches, *np.nonzero(fits))
        if not len(children.parent):
            return False
        effort.look()
        grown = self._lines.with_pieces(niches, children)
        effort.spend(grown.left.size * 2 // _NUMBERS_A_STEP)
        best = self._best(grown)
        effort.look()
        if not len(best):
            return False
        self._remember(niches, children, best)
        self._lines = grown.only(best)
        return True

    def _best_at_a_glance(self, niches: Niches, parent: Numbers, way: Numbers) -> Children:
        """The children with the most covered and the fewest parts in their skylines."""
        kinds, lines = self._kinds, self._lines
        at_left = (niches.left_wall >= niches.right_wall)[parent]
        walls = niches.left_wall[parent], niches.right_wall[parent]
        height, as_wide = kinds.height[way], kinds.width[way] == niches.width[parent]
        flush = (height == np.where(at_left, *walls)).astype(np.int64)
        flush += as_wide & (height == np.where(at_left, *walls[::-1]))
        parts = lines.parts()[parent] + 1 - as_wide - flush
        score = self._promise.part_price * parts - self._average(lines.covered[parent] + kinds.width[way] * height)
        best = _least(score, _CLOSELY * self._keep)
        return Children(parent[best], way[best], at_left[best])

    def _best(self, grown: Skylines) -> Numbers:
        """The most promising strips, the best first, none twice; none that must lose too much."""
        lost = grown.lost_at_least()
        score = self._promise.part_price * grown.parts() - self._average(grown.covered)
        score -= self._promise.exact_price * grown.filled_exactly()
        score += self._promise.loss_price * self._kinds.pieces * lost / max(self._may_lose, 1)
        last = not grown.waiting[0].any()
        possible = np.flatnonzero(lost <= self._may_lose)
        ranked = possible[np.argsort((grown.reach if last else score)[possible], kind="stable")]
        return ranked[grown.only(ranked).first_of_equals()[: self._keep]]

    def _average(self, covered: Numbers) -> Floats:
        """An area in average pieces."""
        return covered.astype(np.float64) * (self._kinds.pieces / self._kinds.area)

    def _remember(self, niches: Niches, children: Children, best: Numbers) -> None:
        parent, way = children.parent[best], children.way[best]
        at_right = niches.left[parent] + niches.width[parent] - self._kinds.width[way]
        left = np.where(children.at_left[best], niches.left[parent], at_right)
        self._past.append((parent, way, left, niches.top[parent]))

    def spots(self) -> tuple[Spot, ...]:
        """How the best strip came to be."""
        row, spots = 0, []
        for parent, way, left, top in reversed(self._past):
            spots.append(Spot(int(way[row]), int(left[row]), int(top[row])))
            row = int(parent[row])
        return tuple(reversed(spots))


def _least(score: Floats, most: int) -> Numbers:
    """The places of the least scores, in order of place; of equal ones the first, on every machine."""
    if len(score) <= most:
        return np.arange(len(score))
    limit = np.partition(score, most - 1)[most - 1]
    below, equal = np.flatnonzero(score < limit), np.flatnonzero(score == limit)
    return np.sort(np.concatenate([below, equal[: most - len(below)]]))
