"""Many half-filled strips at once, each as its skyline: how far down every part of its width is taken.

A row of the tables is one strip. `left` and `top` hold the parts of its skyline from left to right; the first column
is the left edge, which is as long as the strip, and columns after the last part repeat the right edge. Two parts next
to each other always differ in height. The *niche* of a strip is its highest part, the one nearest to the start: it
is filled next, by a piece at the side of its longer wall.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from coverlayout.layout.strips.kinds import Kinds, Numbers

__all__ = ["Children", "Niches", "Skylines"]

Truths = NDArray[np.bool_]

# Larger than any length, for the least width of no pieces.
_NONE_LEFT = 2**40
_HASH_SEED = 20240229


@dataclass(frozen=True, eq=False)
class Niches:
    """The niche of every strip: its column, left, top, width, and how far its two walls reach beyond it."""

    column: Numbers
    left: Numbers
    top: Numbers
    width: Numbers
    left_wall: Numbers
    right_wall: Numbers


@dataclass(frozen=True, eq=False)
class Children:
    """One more piece in some strips: from which strip, which way it lies, at the left of the niche or at its right."""

    parent: Numbers
    way: Numbers
    at_left: Truths


@dataclass(eq=False)
class Skylines:
    """Half-filled strips: their skylines, pieces left by kind, area lost for good, area covered, and longest reach."""

    kinds: Kinds
    length: int
    left: Numbers
    top: Numbers
    waiting: Numbers
    lost: Numbers
    covered: Numbers
    reach: Numbers

    @classmethod
    def start(cls, kinds: Kinds, length: int) -> Self:
        """One empty strip of this length."""
        width = kinds.strip_width
        none = np.zeros(1, dtype=np.int64)
        left = np.array([[0, 0, width, width]], dtype=np.int64)
        top = np.array([[length, 0, length, length]], dtype=np.int64)
        return cls(kinds, length, left, top, kinds.count[None, :].copy(), none.copy(), none.copy(), none.copy())

    def __len__(self) -> int:
        """How many strips there are."""
        return len(self.left)

    def niches(self) -> Niches:
        """The niche of every strip."""
        rows = np.arange(len(self))
        column = self.top.argmin(axis=1)
        left, top = self.left[rows, column], self.top[rows, column]
        walls = self.top[rows, np.maximum(column - 1, 0)] - top, self.top[rows, column + 1] - top
        return Niches(column, left, top, self.left[rows, column + 1] - left, *walls)

    def fitting(self, most_lost: int) -> tuple[Niches, Truths]:
        """The niches, and which way of lying fits which, after giving up niches in which nothing fits any more.

        A strip that thereby loses more than `most_lost` has nothing that fits.
        """
        kinds, dead = self.kinds, np.zeros(len(self), dtype=np.bool_)
        waits = self.waiting[:, kinds.kind] > 0
        while True:
            niches = self.niches()
            fits = waits & (kinds.width <= niches.width[:, None])
            fits &= kinds.height <= (self.length - niches.top)[:, None]
            rows = np.flatnonzero(~fits.any(axis=1) & ~dead)
            if not len(rows):
                fits[dead] = False
                return niches, fits
            by = np.minimum(niches.left_wall, niches.right_wall)[rows]
            self.lost[rows] += by * niches.width[rows]
            self.top[rows, niches.column[rows]] += by
            dead[rows] = (self.lost[rows] > most_lost) | (self.top[rows, niches.column[rows]] >= self.length)
            self.left[rows], self.top[rows] = _merged(self.left[rows], self.top[rows], self.kinds.strip_width)

    def with_pieces(self, niches: Niches, children: Children) -> Self:
        """The strips with one more piece each."""
        kinds, parent, way = self.kinds, children.parent, children.way
        rows, column = np.arange(len(parent)), niches.column[parent]
        at = np.arange(self.left.shape[1] + 1)[None, :]
        source = np.where(at > column[:, None], at - 1, at)
        left, top = self.left[parent[:, None], source], self.top[parent[:, None], source]
        start, level, room = niches.left[parent], niches.top[parent], niches.width[parent]
        low = level + kinds.height[way]
        between = np.where(children.at_left, start + kinds.width[way], start + room - kinds.width[way])
        left[rows, column + 1] = np.where(kinds.width[way] == room, start + room, between)
        # A piece as wide as the niche leaves a part without width beside it, which takes its height and so vanishes.
        top[rows, column] = np.where(children.at_left | (kinds.width[way] == room), low, level)
        top[rows, column + 1] = np.where(children.at_left & (kinds.width[way] < room), level, low)
        left, top = _merged(left, top, kinds.strip_width)
        needed = int((left < kinds.strip_width).sum(axis=1).max()) + 2
        left, top = left[:, :needed], top[:, :needed]
        waiting = self.waiting[parent]
        waiting[rows, kinds.kind[way]] -= 1
        covered = self.covered[parent] + kinds.width[way] * kinds.height[way]
        reach = np.maximum(self.reach[parent], low)
        return type(self)(kinds, self.length, left, top, waiting, self.lost[parent], covered, reach)

    def only(self, rows: Numbers) -> Self:
        """These strips alone."""
        tables = (self.left, self.top, self.waiting, self.lost, self.covered, self.reach)
        return type(self)(self.kinds, self.length, *(table[rows] for table in tables))

    def parts(self) -> Numbers:
        """How many parts each skyline has that do not yet reach the end."""
        return _count(self.top < self.length)

    def lost_at_least(self) -> Numbers:
        """What each strip loses at least: niches too narrow for all that waits, and ends too short for it."""
        kinds, waits = self.kinds, self.waiting[:, self.kinds.kind] > 0
        narrowest = np.where(waits, kinds.width, _NONE_LEFT).min(axis=1)
        shortest = np.where(waits, kinds.height, _NONE_LEFT).min(axis=1)
        width, wall, to_end = self._widths(), self._walls(), self.length - self.top[:, :-1]
        too_narrow = np.where(width < narrowest[:, None], np.maximum(wall, 0), 0)
        lost = (width * np.where(to_end < shortest[:, None], to_end, too_narrow)).sum(axis=1)
        at_least: Numbers = self.lost + np.where(narrowest < _NONE_LEFT, lost, 0)
        return at_least

    def filled_exactly(self) -> Numbers:
        """How many niches of each skyline are as wide as some piece that waits."""
        kinds, width = self.kinds, self._widths()
        waits = self.waiting[:, kinds.kind] > 0
        first = np.flatnonzero(np.diff(kinds.width, prepend=-1))
        of_width = np.logical_or.reduceat(waits, first, axis=1)
        number = np.minimum(np.searchsorted(kinds.width[first], width), len(first) - 1)
        same = (kinds.width[first][number] == width) & np.take_along_axis(of_width, number, axis=1)
        return _count(same & (self._walls() > 0) & (self.top[:, :-1] < self.length))

    def _widths(self) -> Numbers:
        widths: Numbers = self.left[:, 1:] - self.left[:, :-1]
        return widths

    def _walls(self) -> Numbers:
        """How far the lower of its two walls reaches beyond each part; negative where one is shorter than it."""
        before = np.full((len(self), 1), self.length, dtype=np.int64)
        lower: Numbers = np.minimum(np.concatenate([before, self.top[:, :-2]], axis=1), self.top[:, 1:])
        beyond: Numbers = lower - self.top[:, :-1]
        return beyond

    def first_of_equals(self) -> Numbers:
        """The rows of strips that are like none before them, by a number made of all that counts."""
        columns, kinds = self.left.shape[1], self.waiting.shape[1]
        factors = np.random.default_rng(_HASH_SEED).integers(1, 2**62, size=2 * columns + kinds) | 1
        number = self.left @ factors[:columns] + self.top @ factors[columns : 2 * columns]
        number += self.waiting @ factors[2 * columns :]
        first: Numbers = np.sort(np.unique(number, return_index=True)[1])
        return first


def _count(truths: Truths) -> Numbers:
    counted: Numbers = np.count_nonzero(truths, axis=1).astype(np.int64)
    return counted


def _merged(left: Numbers, top: Numbers, width: int) -> tuple[Numbers, Numbers]:
    """Parts of equal height next to each other made one, in as many columns."""
    kept = np.ones(left.shape, dtype=np.bool_)
    kept[:, 1:] = top[:, 1:] != top[:, :-1]
    column = np.cumsum(kept, axis=1) - 1
    shape = len(left), left.shape[1]
    merged_left = np.full(shape, width, dtype=np.int64)
    merged_top = np.repeat(top[:, -1:], shape[1], axis=1)
    rows = np.broadcast_to(np.arange(len(left))[:, None], left.shape)[kept]
    merged_left[rows, column[kept]] = left[kept]
    merged_top[rows, column[kept]] = top[kept]
    return merged_left, merged_top
