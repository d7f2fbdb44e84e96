"""The slice bound: however pieces lie, every line across the cloth cuts only what is beside each other on it.

Give each kind of piece a weight so that no set of pieces that fit side by side on one line weighs more than 1. Every
line across then carries at most 1; all lines together at most the cloth's length. But the lines over one piece carry
its weight times its height. So the sum of height times weight over all pieces must not exceed the length: where it
does, the pieces do not fit. The best weights come from a linear program; the proof does not rest on it, as the weights
are made whole numbers and checked exactly. The same lengthwise. Pieces that may turn are taken in every split into
turned and upright ones. Blind to what is in the way, which only makes it say less.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from coverlayout.geometry.tolerance import NO_LOOSER_MM
from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs.bounds import captives
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.programs import LinearProgram
from coverlayout.layout.search.sheets import Item, RectangularJob

__all__ = ["too_long_in_slices"]

# Whole numbers a millimetre, and the whole numbers a weight of 1 is worth.
_UNITS_A_MM = 10_000
_WEIGHT_UNITS = 1_000_000
# More splits are not begun, and more sets on one line are not listed.
_MOST_SPLITS = 400
_MOST_SETS = 5_000
# Steps of effort a split costs.
_SPLIT_STEPS = 4


@dataclass(frozen=True)
class _Kind:
    """Pieces of one shape lying one way: measure along the lines and across them, in units; how many there may be."""

    on_line: int
    across: int
    most: int


@dataclass(frozen=True)
class _Weights:
    """Weights of the kinds in whole numbers, and the most any set on one line weighs."""

    of_kind: tuple[int, ...]
    most: int


def too_long_in_slices(job: RectangularJob, effort: Effort) -> Proof | None:
    """A proof by slices that the pieces bound to one sheet do not fit on it, or None.

    The figures: the least length the pieces need (mm) of the split nearest to fitting, the length there is, which way
    the lines run, and the number of splits. OutOfSteps or CutShort from the effort.
    """
    for number, items in captives(job):
        proof = _Slicing(job, number, items).refute(effort) if items else None
        if proof is not None:
            return proof
    return None


class _Slicing:
    """Both ways of slicing one sheet. A kind that may turn is two kinds, of which each split takes some of each."""

    def __init__(self, job: RectangularJob, number: int, items: list[Item]) -> None:
        groups: dict[object, list[Item]] = {}
        for item in items:
            groups.setdefault(item.shape_key(), []).append(item)
        self._sizes = [
            sorted({(pose.width_mm, pose.height_mm) for pose in group[0].poses[number]}) for group in groups.values()
        ]
        self._counts = [len(group) for group in groups.values()]
        box, gap = job.sheets[number].box, max(job.gap_mm - NO_LOOSER_MM, 0.0)
        oriented = [(w, h, count) for sizes, count in zip(self._sizes, self._counts, strict=True) for w, h in sizes]
        self._ways = [
            _Lines("across", [_kind(w + gap, h, count) for w, h, count in oriented], box.width_mm + gap, box.height_mm),
            _Lines("along", [_kind(h + gap, w, count) for w, h, count in oriented], box.height_mm + gap, box.width_mm),
        ]

    def refute(self, effort: Effort) -> Proof | None:
        """The proof, when every split is refuted in one of the two ways."""
        if math.prod(count + 1 for sizes, count in self._choices() if len(sizes) > 1) > _MOST_SPLITS:
            return None
        ways = [way for way in self._ways if way.is_ready(effort)]
        least: tuple[float, _Lines] | None = None
        splits = 0
        for split in self._splits():
            effort.spend(_SPLIT_STEPS)
            splits += 1
            refuting = next(((length, way) for way in ways if (length := way.length_needed(split)) is not None), None)
            if refuting is None:
                return None
            if least is None or refuting[0] / refuting[1].length_mm < least[0] / least[1].length_mm:
                least = refuting
        if least is None:
            return None
        need_mm, way = least
        figures = ("need_mm", need_mm), ("have_mm", way.length_mm), ("way", way.name), ("splits", float(splits))
        return Proof("slice bound", figures)

    def _choices(self) -> Iterator[tuple[list[tuple[float, float]], int]]:
        return zip(self._sizes, self._counts, strict=True)

    def _splits(self) -> Iterator[tuple[int, ...]]:
        """How many pieces of every kind lie, for every split."""
        parts = [
            [(count,)] if len(sizes) == 1 else [(first, count - first) for first in range(count + 1)]
            for sizes, count in self._choices()
        ]
        for split in itertools.product(*parts):
            yield tuple(count for part in split for count in part)


def _kind(on_line_mm: float, across_mm: float, count: int) -> _Kind:
    """Sizes in whole units, looser by what a no must survive."""
    loose = [math.floor((length - NO_LOOSER_MM) * _UNITS_A_MM) for length in (on_line_mm, across_mm)]
    return _Kind(loose[0], loose[1], count)


class _Lines:
    """The lines one way over the sheet: what fits on one of them, and weights that refuted a split."""

    def __init__(self, name: str, kinds: list[_Kind], line_mm: float, length_mm: float) -> None:
        self.name, self.length_mm = name, length_mm
        self._kinds = kinds
        self._line = math.ceil((line_mm + 2 * NO_LOOSER_MM) * _UNITS_A_MM)
        self._length = math.ceil((length_mm + 2 * NO_LOOSER_MM) * _UNITS_A_MM)
        self._sets: list[tuple[int, ...]] = []
        self._known: list[_Weights] = []
        self._program: LinearProgram | None = None

    def is_ready(self, effort: Effort) -> bool:
        """List the sets that fit on a line; False when there are too many to look at."""
        for tried, counts in enumerate(self._sets_on_line(0, self._line, ())):
            effort.look()
            if tried >= _MOST_SETS:
                return False
            if self._is_full(counts):
                self._sets.append(counts)
        return True

    def _is_full(self, counts: tuple[int, ...]) -> bool:
        """True when nothing more can be added to a set: the others weigh no more."""
        pairs = list(zip(self._kinds, counts, strict=True))
        room = self._line - sum(one.on_line * count for one, count in pairs)
        return not any(one.on_line <= room and count < one.most for one, count in pairs)

    def _sets_on_line(self, kind: int, room: int, counts: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        if kind == len(self._kinds):
            yield counts
            return
        one = self._kinds[kind]
        for count in range(min(one.most, room // one.on_line if one.on_line > 0 else one.most), -1, -1):
            yield from self._sets_on_line(kind + 1, room - count * one.on_line, (*counts, count))

    def length_needed(self, split: tuple[int, ...]) -> float | None:
        """A length in mm the pieces of this split need at least, when it is more than there is; else None."""
        for weights in self._known:
            length = self._length_by(weights, split)
            if length is not None:
                return length
        weights = self._best_weights(split)
        length = self._length_by(weights, split)
        if length is not None:
            self._known.insert(0, weights)
        return length

    def _length_by(self, weights: _Weights, split: tuple[int, ...]) -> float | None:
        """The exact check, in whole numbers: what all pieces weigh over all lines against what the lines can carry."""
        carried = sum(
            count * kind.across * weight
            for count, kind, weight in zip(split, self._kinds, weights.of_kind, strict=True)
        )
        if carried <= self._length * weights.most:
            return None
        return carried / weights.most / _UNITS_A_MM

    def _best_weights(self, split: tuple[int, ...]) -> _Weights:
        """The weights that make the pieces of this split longest, from the linear program, made whole."""
        if self._program is None:
            self._program = LinearProgram([(0.0, 1.0)] * len(self._kinds))
            for counts in self._sets:
                self._program.add_row({k: float(count) for k, count in enumerate(counts) if count}, (0.0, 1.0))
        heights = zip(split, self._kinds, strict=True)
        gains = {k: float(count * kind.across) / _UNITS_A_MM for k, (count, kind) in enumerate(heights)}
        values = self._program.best(gains) or [0.0] * len(self._kinds)
        of_kind = tuple(max(round(value * _WEIGHT_UNITS), 0) for value in values)
        most = max(sum(n * w for n, w in zip(counts, of_kind, strict=True)) for counts in self._sets)
        return _Weights(of_kind, max(most, 1))
