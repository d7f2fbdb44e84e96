"""The slice bound: however pieces lie, every line across the cloth cuts only what is beside each other on it.

Give each piece a weight so that no set of pieces that fit side by side on one line weighs more than 1. Every line
across then carries at most 1; all lines together at most the cloth's length. But the lines over one piece carry its
weight times its height. So the sum of height times weight over all pieces must not exceed the length: where it does,
the pieces do not fit. The same lengthwise, and over several cloths together, each sliced its own way. The best weights
come from a linear program; the proof does not rest on it, as the weights are whole numbers and checked exactly. Pieces
that may turn are taken in every split into turned and upright ones; where those are too many, each lies on every line
the way that helps it more. Blind to what is in the way and to locks, which only makes it say less.

Without a gap the length that counts is often less than there is: pieces pushed up against each other end at a sum of
their heights, so what is left above the greatest such sum is of no use.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coverlayout.geometry.tolerance import NO_LOOSER_MM
from coverlayout.layout.answer import LineWeights, Proof
from coverlayout.layout.proofs.lines import Kind, Lines, Stretch, Way, Weighing
from coverlayout.layout.proofs.relaxing import confined
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.sheets import Item, RectangularJob

__all__ = ["least_length_by_slices", "too_long_in_slices"]

# Whole numbers a millimetre.
_UNITS_A_MM = 1000
# More splits are not begun: then each piece takes the way that helps it more.
_MOST_SPLITS = 400
# More kinds of piece are not weighed, and of more cloths than this only all across or all along.
_MOST_KINDS, _MOST_MIXED = 300, 2
# Sums of measures are not worked out for longer sheets (units).
_MOST_SUMS = 5_000_000
# Steps of effort a split costs.
_SPLIT_STEPS = 2
# A longer length is tried first by this part of the best known, and so many lengths in all, with so many steps.
_LONGER, _TRIES, _TRY_STEPS = 256, 12, 6_000

_Directions = tuple[str, ...]  # "across" or "along", one a sheet
_Sizes = tuple[tuple[tuple[float, float], ...], ...]  # a tuple of sizes a sheet


def too_long_in_slices(job: RectangularJob, effort: Effort) -> Proof | None:
    """A proof by slices that the pieces bound to some sheets do not fit on them, or None.

    The figures: the least length (mm) the pieces need in the split nearest to fitting, the length there is, which way
    the lines run, the number of splits, and the sheets. The weights are its certificate. OutOfSteps or CutShort from
    the effort.
    """
    for sheets, items in confined(job.items):
        proof = _Slicing.loose(job, sheets, items).refute(effort)
        if proof is not None:
            return proof
    return None


def least_length_by_slices(job: RectangularJob, sheet: int, effort: Effort) -> float:
    """A length (mm, rounded down) of the sheet that its pieces need at least, counted from its upper edge.

    All items that may lie there lie on this sheet alone, as wide as it is and as long as need be; what is in the way is
    not seen. Exact rules, no looser ones. 0.0 without pieces. OutOfSteps or CutShort from the effort.
    """
    items = [item for item in job.items if item.poses[sheet]]
    if not items:
        return 0.0
    exact = _Slicing(job, (sheet,), items, loose_mm=0.0)
    least = exact.at_a_sum(exact.least_length(effort))
    # Lines lengthwise depend on the length itself: longer ones are tried in growing steps, then in shrinking ones.
    first = step = max(least // _LONGER, 1)
    growing = True
    with effort.part(_TRY_STEPS):
        for _ in range(_TRIES):
            if exact.with_length(least + step).refuted(effort):
                least += step
                step = 2 * step if growing else step // 2
            elif growing and step == first:
                break
            else:
                growing, step = False, step // 2
    least = exact.at_a_sum(least)
    return least / _UNITS_A_MM


@dataclass(frozen=True)
class _Group:
    """Pieces of one shape with their sizes on each sheet."""

    pieces: tuple[str, ...]
    sizes: _Sizes

    def splits(self) -> int:
        """In how many ways its pieces can be parted by how they lie."""
        return math.comb(len(self.pieces) + len(self.shapes) - 1, len(self.shapes) - 1)

    @property
    def shapes(self) -> tuple[tuple[float, float], ...]:
        """The different sizes its pieces may take."""
        return tuple(sorted({size for sizes in self.sizes for size in sizes}))


class _Slicing:
    """All ways of slicing some sheets, with the pieces that lie on no other."""

    def __init__(
        self, job: RectangularJob, sheets: tuple[int, ...], items: Sequence[Item], loose_mm: float, length: int = 0
    ) -> None:
        self._job, self._sheets, self._items, self._loose_mm = job, sheets, items, loose_mm
        self._length = length
        groups: dict[_Sizes, list[str]] = {}
        for item in items:
            sizes = tuple(tuple(sorted({(p.width_mm, p.height_mm) for p in item.poses[n]})) for n in sheets)
            groups.setdefault(sizes, []).append(item.id)
        self._groups = [_Group(tuple(pieces), sizes) for sizes, pieces in groups.items()]
        parted = math.prod(group.splits() for group in self._groups) <= _MOST_SPLITS
        self._kinds = [self._kinds_of(group, parted) for group in self._groups]

    @classmethod
    def loose(cls, job: RectangularJob, sheets: tuple[int, ...], items: Sequence[Item]) -> _Slicing:
        """As a no must be proved: everything a little looser."""
        return cls(job, sheets, items, NO_LOOSER_MM)

    def with_length(self, length: int) -> _Slicing:
        """The same with one sheet of another length, in units."""
        return _Slicing(self._job, self._sheets, self._items, self._loose_mm, length)

    def _kinds_of(self, group: _Group, parted: bool) -> list[_Sizes]:
        """The group as one kind, or as a kind for each way its pieces may lie."""
        if not parted:
            return [group.sizes]
        return [tuple(tuple(s for s in sizes if s == shape) for sizes in group.sizes) for shape in group.shapes]

    def refute(self, effort: Effort) -> Proof | None:
        """The proof, when every split is refuted in one of the ways."""
        ways = self._all_lines(effort)
        least: tuple[float, _Sliced] | None = None
        splits = 0
        for split in self._splits():
            effort.spend(_SPLIT_STEPS)
            splits += 1
            refuting = next(((over, way) for way in ways if (over := way.over(split)) is not None), None)
            if refuting is None:
                return None
            least = refuting if least is None or refuting[0] < least[0] else least
        if least is None:
            return None
        over, way = least
        return Proof("slice bound", self._figures(over, way, splits), certificate=self._certificate(ways))

    def refuted(self, effort: Effort) -> bool:
        """True when every split is refuted in one of the ways."""
        return self.refute(effort) is not None

    def least_length(self, effort: Effort) -> int:
        """The length in units that the lines across ask for in the split that needs least; one sheet."""
        lines = self._lines(("across",), effort, length=_UNITS_A_MM)
        least: int | None = None
        known: list[Weighing] = []
        for split in self._splits():
            effort.spend(_SPLIT_STEPS)
            said = max((_length_by(each, split) for each in known), default=0)
            if least is not None and said >= least:
                continue
            weighing = lines.best(split, enough=False)
            if weighing is not None:
                known.append(weighing)
                said = max(said, _length_by(weighing, split))
            least = said if least is None else min(least, said)
        return least or 0

    def at_a_sum(self, length: int) -> int:
        """The least length no shorter than this at which pieces pushed up against each other can end; one sheet."""
        return length if self._job.gap_mm > 0.0 or length > _MOST_SUMS else _next_sum(self.measures(1), length)

    def measures(self, side: int) -> list[tuple[int, tuple[int, ...]]]:
        """How many pieces there are of every group, and the widths (0) or heights (1) they may have, in units."""
        return [
            (len(group.pieces), tuple({self._measure(size[side]) for sizes in group.sizes for size in sizes}))
            for group in self._groups
        ]

    def _figures(self, over: float, way: _Sliced, splits: int) -> tuple[tuple[str, float | str], ...]:
        boxes = [self._job.sheets[n].box for n in self._sheets]
        lengths = (b.height_mm if d == "across" else b.width_mm for b, d in zip(boxes, way.directions, strict=True))
        have_mm = math.fsum(lengths)
        names = dict.fromkeys(way.directions)
        need_mm = over * way.length_mm
        if len(boxes) == 1 and self._job.gap_mm <= 0.0 and need_mm * _UNITS_A_MM <= _MOST_SUMS:
            side = 1 if way.directions[0] == "across" else 0
            exact = _Slicing(self._job, self._sheets, self._items, loose_mm=0.0)
            # The lines need more than the longest sum of pieces that there is length for, so at least the next one.
            least = max(math.ceil(need_mm * _UNITS_A_MM), math.floor(have_mm * _UNITS_A_MM) + 1)
            need_mm = _next_sum(exact.measures(side), least) / _UNITS_A_MM
        figures = ("need_mm", need_mm), ("have_mm", have_mm), ("way", " and ".join(names))
        pieces = sum(len(group.pieces) for group in self._groups)
        return (*figures, ("splits", float(splits)), ("count", float(pieces)), ("sheets", float(len(boxes))))

    def _certificate(self, ways: Sequence[_Sliced]) -> tuple[LineWeights, ...]:
        sheets = [self._job.sheets[number] for number in self._sheets]
        names = tuple((sheet.cloth_id, sheet.ground_id) for sheet in sheets)
        return tuple(
            LineWeights(names, way.directions, way.lines.named(weighing)) for way in ways for weighing in way.used
        )

    def _splits(self) -> Iterator[tuple[int, ...]]:
        """How many pieces of every kind lie, for every split."""
        parts = [_parted(len(g.pieces), len(kinds)) for g, kinds in zip(self._groups, self._kinds, strict=True)]
        for split in itertools.product(*parts):
            yield tuple(count for part in split for count in part)

    def _all_lines(self, effort: Effort) -> list[_Sliced]:
        """Every way of slicing that is worth trying; none when there are too many kinds."""
        if len(self._groups) > _MOST_KINDS:
            return []
        many = len(self._sheets)
        mixed = itertools.product(("across", "along"), repeat=many if many <= _MOST_MIXED else 1)
        directions = [each if len(each) == many else each * many for each in mixed]
        return [_Sliced(each, self._lines(each, effort)) for each in directions]

    def _lines(self, directions: _Directions, effort: Effort, length: int | None = None) -> Lines:
        gap_mm = max(self._job.gap_mm - self._loose_mm, 0.0)
        kinds = [
            Kind(group.pieces, tuple(self._ways(sizes, directions, gap_mm)))
            for group, own in zip(self._groups, self._kinds, strict=True)
            for sizes in own
        ]
        stretches = []
        for number, direction in zip(self._sheets, directions, strict=True):
            box = self._job.sheets[number].box
            height = self._length / _UNITS_A_MM if self._length else box.height_mm
            line_mm, length_mm = (box.width_mm, height) if direction == "across" else (height, box.width_mm)
            stretches.append(Stretch(self._room(line_mm + gap_mm), length or self._useful(length_mm, direction)))
        return Lines(kinds, stretches, effort)

    def _ways(self, sizes: _Sizes, directions: _Directions, gap_mm: float) -> Iterator[Way]:
        for stretch, (own, direction) in enumerate(zip(sizes, directions, strict=True)):
            for width_mm, height_mm in own:
                on_line, across = (width_mm, height_mm) if direction == "across" else (height_mm, width_mm)
                yield Way(stretch, self._measure(on_line + gap_mm), self._measure(across), (width_mm, height_mm))

    def _measure(self, length_mm: float) -> int:
        """A piece's measure in whole units: never too long."""
        return max(math.floor((length_mm - self._loose_mm) * _UNITS_A_MM + 1e-4), 0)

    def _room(self, length_mm: float) -> int:
        """A sheet's measure in whole units: never too short."""
        return math.ceil((length_mm + 2 * self._loose_mm) * _UNITS_A_MM - 1e-4)

    def _useful(self, length_mm: float, direction: str) -> int:
        """The length that pieces pushed up against each other can use, in units: without a gap a sum of their own."""
        whole = self._room(length_mm)
        if self._job.gap_mm > 0.0 or whole > _MOST_SUMS:
            return whole
        return _sums(self.measures(1 if direction == "across" else 0), whole).bit_length() - 1


class _Sliced:
    """The lines of one way of slicing, and the weights that have refuted a split so far."""

    def __init__(self, directions: _Directions, lines: Lines) -> None:
        self.directions, self.lines = directions, lines
        self.used: list[Weighing] = []
        self.length_mm = sum(stretch.length for stretch in lines.stretches) / _UNITS_A_MM

    def over(self, split: Sequence[int]) -> float | None:
        """How many times as much the pieces of a split weigh as the lines carry, where that is above 1; else None.

        This is the exact check, in whole numbers.
        """
        for weighing in self.used:
            if weighing.loaded(split) > weighing.carried(self.lines.stretches):
                return self._share(weighing, split)
        found = self.lines.best(split, enough=True)
        if found is None:
            return None
        self.used.insert(0, found)
        return self._share(found, split)

    def _share(self, weighing: Weighing, split: Sequence[int]) -> float:
        return weighing.loaded(split) / max(weighing.carried(self.lines.stretches), 1)


def _length_by(weighing: Weighing, split: Sequence[int]) -> int:
    """The whole length that so many pieces need by these weights, rounded down."""
    return weighing.loaded(split) // max(weighing.tops[0], 1)


def _parted(count: int, ways: int) -> list[tuple[int, ...]]:
    """All ways to part a count.

    >>> _parted(2, 2)
    [(0, 2), (1, 1), (2, 0)]
    """
    if ways == 1:
        return [(count,)]
    return [(first, *rest) for first in range(count + 1) for rest in _parted(count - first, ways - 1)]


def _sums(measures: Sequence[tuple[int, tuple[int, ...]]], most: int) -> int:
    """The sums of measures, each piece taken once or not at all, up to `most`: bit n is set for a sum of n."""
    within, sums = (1 << (most + 1)) - 1, 1
    for count, own in measures:
        for _ in range(min(count, most // max(min(own, default=1), 1))):
            longer = sums
            for measure in own:
                longer |= sums << measure
            longer &= within
            if longer == sums:
                break
            sums = longer
    return sums


def _next_sum(measures: Sequence[tuple[int, tuple[int, ...]]], least: int) -> int:
    """The smallest sum of measures, each piece taken once or not at all, that is no less than `least`."""
    tallest = max((max(own) for _, own in measures), default=0)
    above = _sums(measures, least + tallest) >> least
    return least if not above else least + (above & -above).bit_length() - 1
