"""One node of the exhaustive search: which relations are chosen, what they hold, and what is still open.

A diagonal relation holds for an interval of corner angles. Paths are those of the room asked when the node was made.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.positions.axes import Matrix, add_arc, longest_paths
from coverlayout.layout.positions.seats import Seats

__all__ = ["FIRST_DIAGONAL", "RELATIONS", "Asked", "Held", "Node"]

# The relations of a pair i, j: which of the two comes first along each axis (0: i, 1: j, None: either).
RELATIONS: tuple[tuple[int | None, int | None], ...] = (
    (0, None), (1, None), (None, 0), (None, 1), (0, 0), (0, 1), (1, 0), (1, 1),
)  # fmt: skip
FIRST_DIAGONAL = 4
_ALL_ANGLES = (0.0, math.pi / 2)
# Corner angles (radians) are narrowed by no less than this at a time.
_NARROWER = 0.02


class Held(NamedTuple):
    """A difference a node holds: place j minus place i is at least `least_mm` + `share` times what the pair needs."""

    axis: int
    i: int
    j: int
    least_mm: float
    share: float


class Asked:
    """The question of the search at a time: the room that every layout must have, and what that needs between pairs."""

    def __init__(self, seats: Seats, room_mm: float) -> None:
        """Work out once what every pair needs."""
        self.seats, self.room_mm = seats, room_mm
        self.needs = seats.needs(room_mm)
        self.need = self.needs[seats.firsts, seats.seconds]

    def order(self, pair: int, first: int) -> tuple[int, int]:
        """The two nodes of a pair, the one that comes first first."""
        i, j = self.seats.pairs[pair]
        return (i, j) if first == 0 else (j, i)

    def without(self, pair: int, relation: int) -> list[Held]:
        """What holds when the pair does not take a relation; nothing is known of that for diagonal ones."""
        if relation >= FIRST_DIAGONAL:
            return []
        return [self.not_far(pair, axis, first) for axis, first in enumerate(RELATIONS[relation]) if first is not None]

    def not_far(self, pair: int, axis: int, first: int) -> Held:
        """The pair is not in this order with all it needs between it along this axis."""
        i, j = self.order(pair, first)
        return Held(axis, j, i, -float(self.seats.size[axis, i, j] + self.needs[i, j]), 0.0)


class Node:
    """Longest paths along both axes, what is held, and for every pair its relation (-1: none) and corner angles."""

    def __init__(self, asked: Asked, before: Node | None = None) -> None:
        """The root, or a node that holds what `before` holds; `is_possible` tells whether the question allows that."""
        self.asked = asked
        self.held: tuple[Held, ...] = () if before is None else before.held
        self.angles: dict[int, tuple[float, float]] = {} if before is None else dict(before.angles)
        chosen = np.full(len(asked.seats.pairs), -1, dtype=np.int8) if before is None else before.chosen.copy()
        self.chosen: NDArray[np.int8] = chosen
        self.paths: list[Matrix] = []
        if before is not None and before.asked is asked:
            self.paths += [paths.copy() for paths in before.paths]
            self.is_possible: bool = before.is_possible
        else:
            self.is_possible = self._find_paths()

    def _find_paths(self) -> bool:
        seats = self.asked.seats
        for axis in (0, 1):
            arcs = seats.ground(axis) + seats.without_repeats(axis)
            paths = longest_paths(seats.nodes, arcs, self.asked.room_mm)
            if paths is None:
                return False
            self.paths.append(paths)
        return self._meet(self.held)

    def hold(self, held: list[Held]) -> bool:
        """Hold some more differences; False when that is impossible."""
        self.held += tuple(held)
        return self._meet(held)

    def _meet(self, held: list[Held] | tuple[Held, ...]) -> bool:
        needs = self.asked.needs
        return all(add_arc(self.paths[h.axis], h.i, h.j, h.least_mm + h.share * float(needs[h.i, h.j])) for h in held)

    def choose(self, pair: int, relation: int, angles: tuple[float, float] = _ALL_ANGLES) -> bool:
        """Let the pair take a relation, a diagonal one at some corner angles (radians); False when impossible."""
        self.chosen[pair] = relation
        diagonal = relation >= FIRST_DIAGONAL
        shares = (math.cos(angles[1]), math.sin(angles[0])) if diagonal else (1.0, 1.0)
        held = []
        for axis, first in enumerate(RELATIONS[relation]):
            if first is not None:
                i, j = self.asked.order(pair, first)
                held.append(Held(axis, i, j, float(self.asked.seats.size[axis, i, j]), shares[axis]))
        if diagonal:
            self.angles[pair] = angles
            held += [self.asked.not_far(pair, axis, first or 0) for axis, first in enumerate(RELATIONS[relation])]
        return self.hold(held)

    def sharpen(self) -> bool:
        """Narrow the corner angles of diagonal pairs to what the paths still allow; False for a dead end."""
        for pair, (low, high) in list(self.angles.items()):
            start = max(low, math.acos(min(1.0, self._most_between(pair, 0))))
            end = min(high, math.asin(min(1.0, self._most_between(pair, 1))))
            if start > end + EXACT_MM:
                return False
            narrower = start > low + _NARROWER or end < high - _NARROWER
            if narrower and not self.choose(pair, int(self.chosen[pair]), (start, max(start, end))):
                return False
        return True

    def _most_between(self, pair: int, axis: int) -> float:
        """The most that can lie between a diagonal pair along an axis, as a share of what it needs (0 or more)."""
        i, j = self.asked.order(pair, RELATIONS[self.chosen[pair]][axis] or 0)
        most = -self.paths[axis][j, i] - self.asked.seats.size[axis, i, j]
        return max(float(most / self.asked.needs[i, j]), 0.0)

    def open_relations(self) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        """Which relations every pair could still take, and which pairs are far enough apart already."""
        seats, need = self.asked.seats, self.asked.need
        strong, between, implied = [], [], np.zeros(len(need), dtype=np.bool_)
        for axis in (0, 1):
            paths, size = self.paths[axis], seats.size[axis]
            for a, b in ((seats.firsts, seats.seconds), (seats.seconds, seats.firsts)):
                back = paths[b, a] + size[a, b]
                ahead = paths[a, b] - size[a, b] - need
                strong.append(back + need <= EXACT_MM)
                between.append(np.where((back <= EXACT_MM) & (ahead < 0.0), np.minimum(-back, need), -np.inf))
                implied |= ahead >= -EXACT_MM
        diagonal = [_reach(between[a], between[2 + b], need) for a in (0, 1) for b in (0, 1)]
        return np.stack(strong + diagonal, axis=1), implied

    def gaps(self) -> tuple[Matrix, Matrix]:
        """How far apart every pair is along both axes, all pieces as far left and up as they can be."""
        seats = self.asked.seats
        gaps = []
        for axis in (0, 1):
            place, size = self.paths[axis][0], seats.size[axis]
            ahead = place[seats.seconds] - place[seats.firsts]
            gaps.append(
                np.maximum(ahead - size[seats.firsts, seats.seconds], -ahead - size[seats.seconds, seats.firsts])
            )
        return gaps[0], gaps[1]


def _reach(most_across: Matrix, most_along: Matrix, need: Matrix) -> NDArray[np.bool_]:
    """Whether corners can be as far apart as needed with no more than this between them both ways."""
    both = np.minimum(most_across, most_along)
    return (both >= 0.0) & (need > 0.0) & (np.hypot(most_across, most_along) >= need - EXACT_MM)
