"""All numbers of one search: the job's choices, seats and steps as arrays, for one need of room and one slack."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.shapes import area_mm2, ring_sides
from coverlayout.geometry.tolerance import EXACT_MM, LOCK_MM, NO_LOOSER_MM
from coverlayout.layout.branching.symmetry import equals_before, mirrors
from coverlayout.layout.exact.apart import Apart, Floats, Needs
from coverlayout.layout.exact.held import HeldTogether, held_of
from coverlayout.layout.exact.job import ExactJob
from coverlayout.layout.exact.steps import Step
from coverlayout.layout.question import unseen

__all__ = ["LEVEL_NORMALS", "HeldTable", "Tables", "WaysTable", "tables_of"]

# The normals every list begins with: right, left, below, above; between them nothing slanted.
LEVEL_NORMALS = 4


@dataclass(frozen=True)
class WaysTable:
    """The ways of a step as arrays: `ways` by row and number, NaN where one does not matter; `there`: no padding."""

    first: int
    second: int
    width: int
    ways: Floats
    there: NDArray[np.bool_]

    @classmethod
    def of(cls, step: Step) -> WaysTable:
        """All rows as long as the longest, one way at least."""
        longest = max(1, *map(len, step.ways))
        ways = np.zeros((len(step.ways), longest, 2))
        there = np.zeros((len(step.ways), longest), dtype=np.bool_)
        for row, own in enumerate(step.ways):
            ways[row, : len(own)], there[row, : len(own)] = own, True
        return cls(step.first, step.second, step.width, ways, there)


@dataclass(frozen=True)
class HeldTable:
    """The held pieces as arrays: `piece`, then `seat`, `place` and `there` (no padding) by held piece and number.

    `musts`: how many tolerances each may be off its places.
    """

    piece: tuple[int, ...]
    musts: tuple[int, ...]
    seat: NDArray[np.intp]
    place: Floats
    there: NDArray[np.bool_]
    together: dict[tuple[int, int], NDArray[np.bool_]]

    @classmethod
    def of(cls, known: HeldTogether) -> HeldTable:
        """All lists as long as the longest; of two pieces the table is there both ways round."""
        longest = max(1, *(len(table.seat) for table in known.held)) if known.held else 1
        shape = len(known.held), longest
        seat, place, there = np.zeros(shape, dtype=np.intp), np.zeros((*shape, 2)), np.zeros(shape, dtype=np.bool_)
        for number, table in enumerate(known.held):
            own = number, slice(0, len(table.seat))
            seat[own], place[own], there[own] = table.seat, table.place, True
        together = {}
        for (a, b), fit in known.together.items():
            whole = np.zeros((longest, longest), dtype=np.bool_)
            whole[: fit.shape[0], : fit.shape[1]] = fit
            together[a, b], together[b, a] = whole, whole.T.copy()
        pieces, musts = tuple(table.piece for table in known.held), tuple(table.musts for table in known.held)
        return cls(pieces, musts, seat, place, there, together)


@dataclass(frozen=True)
class Tables:
    """The arrays of a search. Pieces are counted from 1 where they are nodes, from 0 where they index arrays.

    `low` and `high` (piece, seat, axis): where a place may lie. `before` (piece): the node of the piece before it that
    is its equal, 0 for none. `middle` (piece, axis): True where the piece keeps to the left or upper half, since the
    mirrored layouts need not be looked at. `order`: in which order pieces get their seats. `loose_mm`: how far a step
    may be off; `edge_mm`: how far places are kept from the edge.
    """

    apart: Apart
    bounds: Floats
    held: HeldTable
    steps: tuple[WaysTable, ...]
    low: Floats
    high: Floats
    seats: NDArray[np.intp]
    part: NDArray[np.intp]
    areas: Floats
    part_areas: Floats
    before: NDArray[np.intp]
    middle: NDArray[np.bool_]
    order: NDArray[np.intp]
    loose_mm: float
    edge_mm: float

    @cached_property
    def bounds_by_normal(self) -> Floats:
        """The bounds by normal and row, which is quicker to look at."""
        return np.ascontiguousarray(self.bounds.T)

    @property
    def pieces(self) -> int:
        """How many pieces there are."""
        return len(self.seats)

    @property
    def numbers(self) -> int:
        """About how many numbers a node needs when all is looked at."""
        most_ways = max((step.ways.shape[1] for step in self.steps), default=0)
        choices = len(self.apart.first) * len(self.apart.normals)
        return max(choices, 16 * (self.pieces + 1) ** 2, 4 * most_ways, 2 * self.held.seat.size)

    @property
    def is_level(self) -> bool:
        """True when nothing in the job is slanted."""
        return len(self.apart.normals) == LEVEL_NORMALS


def tables_of(
    job: ExactJob,
    apart: Apart,
    steps: tuple[Step, ...],
    needs: Needs,
    slack_mm: float,
    *,
    look: Callable[[], None] = unseen,
) -> Tables:
    """The arrays of a job for these needs; with a slack the steps may be off by what a lock may be.

    `look` is called every few ten milliseconds.
    """
    count, most = len(job.seats), max(map(len, job.seats))
    low, high = np.zeros((count, most, 2)), np.zeros((count, most, 2))
    part = np.zeros((count, most), dtype=np.intp)
    areas = np.zeros(count)
    for k, seats in enumerate(job.seats):
        for s, seat in enumerate(seats):
            low[k, s], high[k, s] = seat.low_mm, seat.high_mm
            part[k, s] = seat.part
        areas[k] = _least_area(job, k)
    low, high = low + needs.edge_mm, high - needs.edge_mm
    bounds = apart.bounds(needs)
    loose_mm = LOCK_MM if slack_mm > 0.0 else 0.0
    held, left = held_of(job, steps, apart, bounds, loose_mm, look=look)
    before = equals_before(job)
    for earlier, later in held.alike:
        before[later] = earlier + 1
    return Tables(
        apart=apart,
        bounds=bounds,
        held=HeldTable.of(held),
        steps=tuple(WaysTable.of(_sifted(step, apart, bounds, loose_mm)) for step in left),
        low=low,
        high=high,
        seats=np.array([len(seats) for seats in job.seats], dtype=np.intp),
        part=part,
        areas=areas,
        part_areas=np.array(job.areas_mm2),
        before=before,
        middle=mirrors(job, apart, before),
        order=np.argsort(-areas, kind="stable"),
        loose_mm=loose_mm,
        edge_mm=needs.edge_mm,
    )


def _least_area(job: ExactJob, k: int) -> float:
    """The piece's area, as much smaller as a no must be looser."""
    seat = job.seats[k][0]
    around = sum(math.dist(a, b) for ring in seat.parts for a, b in ring_sides(ring))
    area = sum(area_mm2(ring) for ring in seat.parts)
    return max(area - around * NO_LOOSER_MM, 0.0)


def _sifted(step: Step, apart: Apart, bounds: Floats, loose_mm: float) -> Step:
    """The step without the ways on which its two nodes lie on each other (or on what is in the way)."""
    between = np.flatnonzero((apart.first == step.first) & (apart.second == step.second))
    turned_round = np.flatnonzero((apart.first == step.second) & (apart.second == step.first))
    kept = []
    for number, ways in enumerate(step.ways):
        first, second = divmod(number, step.width)
        keep = np.ones(len(ways), dtype=np.bool_)
        if not np.isnan(ways).any():
            for p in between:
                keep &= _holds(ways, apart, bounds[apart.base[p] + first * apart.width[p] + second], loose_mm)
            for p in turned_round:
                keep &= _holds(-ways, apart, bounds[apart.base[p] + second * apart.width[p] + first], loose_mm)
        kept.append(ways[keep])
    return Step(step.first, step.second, step.width, tuple(kept))


def _holds(ways: Floats, apart: Apart, bounds: Floats, loose_mm: float) -> NDArray[np.bool_]:
    reach = ways @ apart.normals.T
    return np.asarray((reach >= bounds - 2 * loose_mm - EXACT_MM).any(axis=1))
