"""Straight lines over sheets: what fits side by side on one of them, and the best weights of pieces in whole numbers.

A piece weighs, on every line that cuts it, so much for the way it lies on that sheet; its load is the least its weight
times its measure across the lines comes to. No set of pieces on one line of a sheet weighs more than that sheet's top.
All lines together carry at most the sum of tops times lengths: where the loads come to more, not all pieces lie there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.programs import LinearProgram

__all__ = ["Kind", "Lines", "Stretch", "Way", "Weighing"]

# The whole numbers the heaviest weight is worth.
_WEIGHT_UNITS = 1_000_000
# More sets on the lines of a sheet are not listed; then the heaviest is worked out by a table of so many room units,
# fewer where it has many rows.
_MOST_SETS = 2_000
_TABLE_UNITS, _FEWER_UNITS, _MANY_ROWS = 16_384, 4_096, 60
# A set is heavier than its sheet's top from this share on; finer differences are float dust of the linear program.
_HEAVIER = 1e-7
# Of many kinds, weights are bettered so many times at the most: what they miss then is next to nothing.
_MANY_KINDS, _MOST_ROUNDS = 24, 48
# The best weights are near enough when the program promises no more than this share beyond them.
_NEAR = 1e-4
# Steps of effort: a linear program, and a row of a table with few rows; one with many takes a quarter of that.
_PROGRAM_STEPS, _ROW_STEPS = 8, 2


@dataclass(frozen=True)
class Way:
    """A way to lie on a stretch: measure along its lines and across them in whole units, and the true size in mm."""

    stretch: int
    on_line: int
    across: int
    size_mm: tuple[float, float]


@dataclass(frozen=True)
class Kind:
    """Pieces that are all alike, with their ways to lie."""

    pieces: tuple[str, ...]
    ways: tuple[Way, ...]


@dataclass(frozen=True)
class Stretch:
    """The lines of one sheet: how long each of them is, and over what length they are laid, in whole units."""

    line: int
    length: int


@dataclass(frozen=True)
class Weighing:
    """Weights by kind and way, the loads of one piece of each kind, and the top of each stretch: all whole numbers."""

    weights: tuple[tuple[int, ...], ...]
    loads: tuple[int, ...]
    tops: tuple[int, ...]

    def loaded(self, counts: Sequence[int]) -> int:
        """What so many pieces of every kind weigh over all lines that cut them."""
        return sum(count * load for count, load in zip(counts, self.loads, strict=True))

    def carried(self, stretches: Sequence[Stretch]) -> int:
        """The most that all lines of the stretches can carry."""
        return sum(top * stretch.length for top, stretch in zip(self.tops, stretches, strict=True))


_Set = tuple[tuple[int, int, int], ...]  # kind, way, how many


class Lines:
    """Kinds and stretches, the linear program for the best weights, and the exact look for the heaviest set."""

    def __init__(self, kinds: Sequence[Kind], stretches: Sequence[Stretch], effort: Effort) -> None:
        """List the sets that fit on the lines where they are few."""
        self.kinds, self.stretches, self._effort = tuple(kinds), tuple(stretches), effort
        self._packers = [self._packer(number) for number in range(len(stretches))]
        tops = [(0.0, float("inf"))] * len(stretches)
        self._program = LinearProgram([(0.0, float("inf"))] * len(kinds) + tops)
        shares = {len(kinds) + n: stretch.length / 1000.0 for n, stretch in enumerate(stretches)}
        self._program.add_row(shares, (0.0, 1.0))
        for kind, way, each in self._ways():
            if each.across > 0:
                self._add(each.stretch, ((kind, way, 1),))

    def _ways(self) -> Iterator[tuple[int, int, Way]]:
        for number, kind in enumerate(self.kinds):
            yield from ((number, way, each) for way, each in enumerate(kind.ways))

    def _packer(self, stretch: int) -> _Sets | _Table:
        offers = [_Offer(kind, way, each.on_line) for kind, way, each in self._ways() if each.stretch == stretch]
        counts = {offer.kind: len(self.kinds[offer.kind].pieces) for offer in offers}
        sets = _full_sets(offers, counts, self.stretches[stretch].line, self._effort)
        if sets is not None:
            return _Sets(offers, sets)
        return _Table(offers, counts, self.stretches[stretch].line, self._effort)

    def best(self, counts: Sequence[int], *, enough: bool) -> Weighing | None:
        """The weights under which so many pieces of every kind need most; None when the loads are no more than carried.

        `enough`: stop at the first weights under which the loads are more than the lines carry. Otherwise the best
        found are given whatever they say. OutOfSteps or CutShort from the effort.
        """
        gains = {kind: float(count) for kind, count in enumerate(counts)}
        found: tuple[float, Weighing] | None = None
        values, most = self._by_area(), float("inf")
        rounds = 0
        while True:
            rounds += 1
            weighing, sets = self._weighed(values)
            said = weighing.loaded(counts) / max(weighing.carried(self.stretches), 1)
            found = (said, weighing) if found is None or said > found[0] else found
            if enough and weighing.loaded(counts) > weighing.carried(self.stretches):
                return weighing
            given_up = rounds >= _MOST_ROUNDS and len(self.kinds) > _MANY_KINDS
            if (not self._grown(values, sets) and most < float("inf")) or given_up:
                return None if enough else found[1]
            self._effort.spend(_PROGRAM_STEPS)
            values = self._program.best(gains) or [0.0] * (len(self.kinds) + len(self.stretches))
            most = sum(gain * values[kind] for kind, gain in gains.items())
            if (enough and most <= 1.0 + _HEAVIER) or found[0] >= most * (1 - _NEAR):
                return None if enough else found[1]

    def _by_area(self) -> list[float]:
        """Values under which a piece weighs on a line what it is wide there, as near as its ways allow."""
        areas = [float(min((w.on_line * w.across for w in kind.ways), default=0)) for kind in self.kinds]
        return [*areas, *(0.0 for _ in self.stretches)]

    def named(
        self, weighing: Weighing
    ) -> tuple[tuple[tuple[str, ...], tuple[tuple[int, float, float, int], ...]], ...]:
        """The weights by the names of the pieces: stretch, width, height (mm) and weight of every way to lie."""
        return tuple(
            (kind.pieces, tuple((w.stretch, *w.size_mm, weight) for w, weight in zip(kind.ways, row, strict=True)))
            for kind, row in zip(self.kinds, weighing.weights, strict=True)
        )

    def _weighed(self, values: Sequence[float]) -> tuple[Weighing, list[_Set]]:
        """The program's values as whole weights, with the heaviest set of every stretch, found exactly."""
        shares = [
            [values[k] / w.across if w.across > 0 else 0.0 for w in kind.ways] for k, kind in enumerate(self.kinds)
        ]
        highest = max((share for row in shares for share in row), default=0.0)
        scale = _WEIGHT_UNITS / highest if highest > 0 else 0.0
        weights = tuple(tuple(max(int(share * scale), 0) for share in row) for row in shares)
        loads = tuple(
            min((weight * way.across for weight, way in zip(row, kind.ways, strict=True)), default=0)
            for row, kind in zip(weights, self.kinds, strict=True)
        )
        heaviest = [packer.heaviest(weights) for packer in self._packers]
        return Weighing(weights, loads, tuple(top for top, _ in heaviest)), [each for _, each in heaviest]

    def _grown(self, values: Sequence[float], sets: Sequence[_Set]) -> bool:
        """Give the program the sets that weigh more than it allowed for; False when there are none."""
        grown = False
        for number, counted in enumerate(sets):
            top = values[len(self.kinds) + number] / 1000.0
            weight = sum(n * values[k] / self.kinds[k].ways[w].across for k, w, n in counted if values[k] > 0.0)
            if weight > top * (1 + _HEAVIER) + 1e-15:
                self._add(number, counted)
                grown = True
        return grown

    def _add(self, stretch: int, counted: _Set) -> None:
        factors: dict[int, float] = {len(self.kinds) + stretch: -1.0}
        for kind, way, count in counted:
            across = self.kinds[kind].ways[way].across
            if across > 0:
                factors[kind] = factors.get(kind, 0.0) + 1000.0 * count / across
        self._program.add_row(factors, (-float("inf"), 0.0))


@dataclass(frozen=True)
class _Offer:
    """One way of one kind on the lines of a stretch."""

    kind: int
    way: int
    on_line: int


def _full_sets(
    offers: Sequence[_Offer], counts: dict[int, int], line: int, effort: Effort
) -> list[tuple[int, ...]] | None:
    """Every set of offers to which nothing can be added on a line; None when there are too many."""
    sets: list[tuple[int, ...]] = []
    tried = 0

    def extend(at: int, room: int, taken: tuple[int, ...], left: dict[int, int]) -> bool:
        nonlocal tried
        tried += 1
        effort.look()
        if tried > 4 * _MOST_SETS or len(sets) > _MOST_SETS:
            return False
        if at == len(offers):
            if not any(left[o.kind] and o.on_line <= room for o in offers):
                sets.append(taken)
            return True
        offer = offers[at]
        most = min(left[offer.kind], room // offer.on_line if offer.on_line > 0 else left[offer.kind])
        for count in range(most, -1, -1):
            rest = left | {offer.kind: left[offer.kind] - count}
            if not extend(at + 1, room - count * offer.on_line, (*taken, count), rest):
                return False
        return True

    return sets if len(offers) <= 12 and extend(0, line, (), dict(counts)) else None


class _Sets:
    """All full sets of a stretch, listed."""

    def __init__(self, offers: Sequence[_Offer], sets: Sequence[tuple[int, ...]]) -> None:
        self._offers, self._sets = offers, np.array(sets, dtype=np.int64).reshape(len(sets), len(offers))

    def heaviest(self, weights: Sequence[Sequence[int]]) -> tuple[int, _Set]:
        """The top weight of a set, and the set."""
        own = np.array([weights[offer.kind][offer.way] for offer in self._offers], dtype=np.int64)
        sums = self._sets @ own
        if not len(sums):
            return 0, ()
        at = int(sums.argmax())
        counted = zip(self._offers, self._sets[at], strict=True)
        return int(sums[at]), tuple((o.kind, o.way, int(count)) for o, count in counted if count)


class _Table:
    """The heaviest set by a table over the room on a line, in units so coarse that the table stays small.

    Pieces are taken a little narrower and the line a little wider by that: sets only come out heavier.
    """

    def __init__(self, offers: Sequence[_Offer], counts: dict[int, int], line: int, effort: Effort) -> None:
        self._effort = effort
        few = sum(counts.values()) <= _MANY_ROWS
        self._row_steps = _ROW_STEPS if few else _ROW_STEPS // 2
        unit = -(-line // (_TABLE_UNITS if few else _FEWER_UNITS))
        self._room = -(-line // max(unit, 1))
        # Of one piece only one way may be taken; of several alike, so many of each way at most.
        self._rounds: list[list[tuple[_Offer, int, int]]] = []
        for kind in sorted(counts):
            own = [(offer, offer.on_line // max(unit, 1)) for offer in offers if offer.kind == kind]
            if counts[kind] == 1:
                self._rounds.append([(offer, 1, width) for offer, width in own])
                continue
            for offer, width in own:
                most = min(counts[kind], self._room // width if width else counts[kind])
                self._rounds += [[(offer, copies, copies * width)] for copies in _doubling(most)]

    def heaviest(self, weights: Sequence[Sequence[int]]) -> tuple[int, _Set]:
        """The top weight of a set, and the set."""
        best = np.zeros(self._room + 1, dtype=np.int64)
        taken: list[npt.NDArray[np.uint8]] = []
        for offers in self._rounds:
            self._effort.spend(self._row_steps)
            after, took = best.copy(), np.zeros(self._room + 1, dtype=np.uint8)
            for number, (offer, copies, width) in enumerate(offers, start=1):
                weight = weights[offer.kind][offer.way] * copies
                if not weight or width > self._room:
                    continue
                with_it = best[: self._room + 1 - width] + weight
                better = with_it > after[width:]
                after[width:][better] = with_it[better]
                took[width:][better] = number
            best = after
            taken.append(took)
        return int(best[-1]), self._set_of(taken)

    def _set_of(self, taken: Sequence[npt.NDArray[np.uint8]]) -> _Set:
        room, found = self._room, dict[tuple[int, int], int]()
        for offers, took in zip(reversed(self._rounds), reversed(taken), strict=True):
            if number := int(took[room]):
                offer, copies, width = offers[number - 1]
                room -= width
                found[offer.kind, offer.way] = found.get((offer.kind, offer.way), 0) + copies
        return tuple((kind, way, count) for (kind, way), count in sorted(found.items()))


def _doubling(most: int) -> Iterator[int]:
    """Numbers whose sums are all the numbers up to `most`.

    >>> list(_doubling(6))
    [1, 2, 3]
    """
    step = 1
    while most > 0:
        yield min(step, most)
        most -= step
        step *= 2
