"""Every way a few rectangles can lie to each other: the largest room to spare, proved, or the proof that none fits.

Two pieces at least d apart are left of, right of, above or below each other by d, or diagonal: apart by less than d
both ways and yet, corner to corner, by d. So every pair has eight *relations*. A node of the search has some of them
chosen; each axis is then a system of differences (axes.py), and a node dies as soon as one pair has no relation left. A
diagonal relation holds for an interval of corner angles, in which it is a pair of differences too: dx >= d cos(end) and
dy >= d sin(start); halving the interval makes it as sharp as one likes. Nothing is rounded to a grid.

The search asks "is there more room than the best so far?" and raises the question with each layout it finds.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.search.axes import Matrix, add_arc, longest_paths
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.seats import Seats
from coverlayout.layout.search.sheets import Pose

__all__ = ["STEP_MM", "Found", "Relations"]

# Asked beyond the best room found so far: a room is proved within this.
STEP_MM = 0.005
# A corner this much nearer than asked counts as found: the next question is a step further anyway.
_CORNER_MM = 0.002
# Steps of effort a node costs.
_NODE_STEPS = 4
_QUARTER = math.pi / 2
# Corner angles (radians) are narrowed by no less than this at a time.
_NARROWER = 0.02
# The relations of a pair i, j: which of the two comes first along each axis (0: i, 1: j, None: either).
_RELATIONS: tuple[tuple[int | None, int | None], ...] = (
    (0, None), (1, None), (None, 0), (None, 1), (0, 0), (0, 1), (1, 0), (1, 1),
)  # fmt: skip
_FIRST_DIAGONAL = 4


@dataclass(frozen=True)
class Found:
    """A layout of the search: the room it has, and the pose and the top left (cloth frame) of each piece."""

    room_mm: float
    poses: tuple[Pose, ...]
    places: tuple[tuple[float, float], ...]


class _Held(NamedTuple):
    """A difference a node holds: place j minus place i is at least `least` + `share` times what the pair needs."""

    axis: int
    i: int
    j: int
    least: float
    share: float


@dataclass
class _Node:
    """Longest paths along both axes, what is held, and for every pair its relation and interval of corner angles."""

    paths: tuple[Matrix, Matrix]
    held: tuple[_Held, ...]
    chosen: NDArray[np.int8]
    angles: dict[int, tuple[float, float]]
    room_mm: float


class Relations:
    """The exhaustive search over the relations of one choice of poses."""

    def __init__(
        self,
        seats: Seats,
        effort: Effort,
        room_mm: float,
        found: Callable[[Found], None],
        *,
        diagonals: bool = True,
        rising: bool = True,
    ) -> None:
        """Search for layouts with at least `room_mm`; `found` is called with each one.

        `rising`: more room is asked for after each; otherwise many layouts with that room are found, each as far left
        and up as it can be. Without `diagonals` it is quick and misses layouts in which two corners stand nearer both
        ways than the room.
        """
        self._seats, self._effort, self._found, self._rising = seats, effort, found, rising
        self._firsts = np.array([i for i, _ in seats.pairs], dtype=np.intp)
        self._seconds = np.array([j for _, j in seats.pairs], dtype=np.intp)
        self._never = self._without_repeats()
        if not diagonals:
            self._never[:, _FIRST_DIAGONAL:] = True
        self._ask(room_mm)

    def run(self) -> float:
        """Search all. Answers the room asked for last, mm: no layout of these poses has as much."""
        if self._room_mm <= self._seats.most_room():
            root = self._node((), np.full(len(self._seats.pairs), -1, dtype=np.int8), {})
            if root is not None:
                self._explore(root)
        return self._room_mm

    def _ask(self, room_mm: float) -> None:
        self._room_mm = room_mm
        self._needs = self._seats.needs(room_mm)

    def _without_repeats(self) -> NDArray[np.bool_]:
        """By pair, the relations that only swap two equal pieces: they are taken from left to right."""
        never = np.zeros((len(self._seats.pairs), len(_RELATIONS)), dtype=np.bool_)
        for p, (i, j) in enumerate(self._seats.pairs):
            if (i, j) in self._seats.alike:
                never[p, [relation for relation, (across, _) in enumerate(_RELATIONS) if across == 1]] = True
        return never

    def _node(
        self, held: tuple[_Held, ...], chosen: NDArray[np.int8], angles: dict[int, tuple[float, float]]
    ) -> _Node | None:
        """A node for the present question, from what it holds; None when that is impossible now."""
        paths = []
        for axis in (0, 1):
            arcs = self._seats.ground(axis) + self._seats.without_repeats(axis)
            ground = longest_paths(self._seats.nodes, arcs, self._room_mm)
            if ground is None or not all(
                add_arc(ground, h.i, h.j, h.least + h.share * self._needs[h.i, h.j]) for h in held if h.axis == axis
            ):
                return None
            paths.append(ground)
        return _Node((paths[0], paths[1]), held, chosen, angles, self._room_mm)

    def _explore(self, node: _Node) -> None:
        self._effort.spend(_NODE_STEPS)
        while True:
            if node.room_mm < self._room_mm:
                fresh = self._node(node.held, node.chosen, node.angles)
                if fresh is None:
                    return
                node = fresh
            pair = self._settle(node)
            if pair is None:
                return
            if pair >= 0:
                break
            if not self._rising:
                self._tell(self._room_mm, node.paths[0][0], node.paths[1][0])
                return
            self._take(node)
        for child in self._children(node, pair):
            self._explore(child)

    def _settle(self, node: _Node) -> int | None:
        """Choose what has no alternative; the pair to branch on, -1 for a layout, None for a dead end."""
        while True:
            if not self._sharpen(node):
                return None
            open_relations, implied = self._open(node)
            counts = open_relations.sum(axis=1)
            waiting = (node.chosen < 0) & ~implied
            if (counts[waiting] == 0).any():
                return None
            forced = np.flatnonzero(waiting & (counts == 1))
            if not len(forced):
                return self._to_branch(node, counts, waiting)
            pair = int(forced[0])
            if not self._choose(node, pair, int(open_relations[pair].argmax())):
                return None

    def _sharpen(self, node: _Node) -> bool:
        """Narrow the corner angles of diagonal pairs to what the paths still allow; False for a dead end."""
        for pair, (low, high) in list(node.angles.items()):
            across, along = _RELATIONS[node.chosen[pair]]
            start = max(low, math.acos(min(1.0, self._most_between(node, pair, 0, across))))
            end = min(high, math.asin(min(1.0, self._most_between(node, pair, 1, along))))
            if start > end + EXACT_MM:
                return False
            if (start > low + _NARROWER or end < high - _NARROWER) and not self._choose(
                node, pair, int(node.chosen[pair]), (start, max(start, end))
            ):
                return False
        return True

    def _most_between(self, node: _Node, pair: int, axis: int, first: int | None) -> float:
        """The most that can lie between a diagonal pair along an axis, as a share of what it needs (0 or more)."""
        i, j = self._order(pair, first or 0)
        most = -node.paths[axis][j, i] - self._seats.size[axis, i, j]
        return max(float(most / self._needs[i, j]), 0.0)

    def _open(self, node: _Node) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        """Which relations every pair could still take, and which pairs are far enough apart already."""
        i, j, needs = self._firsts, self._seconds, self._needs
        strong, weak, implied = [], [], np.zeros(len(i), dtype=np.bool_)
        need = needs[i, j]
        for axis in (0, 1):
            paths, size = node.paths[axis], self._seats.size[axis]
            for a, b in ((i, j), (j, i)):
                back = paths[b, a] + size[a, b]
                ahead = paths[a, b] - size[a, b] - need
                strong.append(back + need <= EXACT_MM)
                weak.append(np.where((back <= EXACT_MM) & (ahead < 0.0), np.minimum(-back, need), -np.inf))
                implied |= ahead >= -EXACT_MM
        diagonal = [self._reaches(weak[a], weak[2 + b], need) for a in (0, 1) for b in (0, 1)]
        return np.stack(strong + diagonal, axis=1) & ~self._never, implied

    @staticmethod
    def _reaches(most_across: Matrix, most_along: Matrix, need: Matrix) -> NDArray[np.bool_]:
        """Whether corners can be as far apart as needed with no more than this between them both ways."""
        both = np.minimum(most_across, most_along)
        return (both >= 0.0) & (need > 0.0) & (np.hypot(most_across, most_along) >= need - EXACT_MM)

    def _to_branch(self, node: _Node, counts: NDArray[np.int64], waiting: NDArray[np.bool_]) -> int:
        """The pair with the fewest relations left among those too near each other in the earliest places; -1: none."""
        across, along = self._gaps(node)
        need = self._needs[self._firsts, self._seconds]
        apart = (np.minimum(across, along) > 0.0) & (np.hypot(across, along) >= need - _CORNER_MM)
        near = (np.maximum(across, along) < need - EXACT_MM) & ~apart
        candidates = np.flatnonzero(near & waiting)
        if len(candidates):
            return int(candidates[counts[candidates].argmin()])
        candidates = np.flatnonzero(near & (node.chosen >= _FIRST_DIAGONAL))
        return int(candidates[0]) if len(candidates) else -1

    def _gaps(self, node: _Node) -> tuple[Matrix, Matrix]:
        """How far apart every pair is along both axes, all pieces as far left and up as they can be."""
        gaps = []
        for axis in (0, 1):
            place, size = node.paths[axis][0], self._seats.size[axis]
            ahead = place[self._seconds] - place[self._firsts]
            gaps.append(
                np.maximum(ahead - size[self._firsts, self._seconds], -ahead - size[self._seconds, self._firsts])
            )
        return gaps[0], gaps[1]

    def _take(self, node: _Node) -> None:
        """The earliest places are a layout: raise the question to the room its relations allow."""
        room, x, y = self._seats.widened(node.paths[0][0], node.paths[1][0], self._needs)
        self._tell(room, x, y)
        self._ask(max(room, self._room_mm - STEP_MM / 2) + STEP_MM)

    def _tell(self, room_mm: float, x: Matrix, y: Matrix) -> None:
        pieces = range(1, self._seats.pieces + 1)
        self._found(Found(room_mm, self._seats.poses, tuple((float(x[k]), float(y[k])) for k in pieces)))

    def _children(self, node: _Node, pair: int) -> Iterator[_Node]:
        """The node with each relation of the pair in turn; later ones exclude the earlier: nothing is seen twice."""
        if node.chosen[pair] >= _FIRST_DIAGONAL:
            low, high = node.angles[pair]
            for angles in ((low, (low + high) / 2), ((low + high) / 2, high)):
                child = self._copy(node)
                if child is not None and self._choose(child, pair, int(node.chosen[pair]), angles):
                    yield child
            return
        open_relations, _ = self._open(node)
        excluded: list[_Held] = []
        for relation in np.flatnonzero(open_relations[pair]):
            child = self._copy(node)
            if child is None:
                return
            if self._hold(child, excluded) and self._choose(child, pair, int(relation)):
                yield child
            excluded += self._not_this(pair, int(relation))

    def _copy(self, node: _Node) -> _Node | None:
        """A copy to go on from, brought up to the present question."""
        if node.room_mm < self._room_mm:
            return self._node(node.held, node.chosen.copy(), dict(node.angles))
        paths = node.paths[0].copy(), node.paths[1].copy()
        return _Node(paths, node.held, node.chosen.copy(), dict(node.angles), node.room_mm)

    def _choose(self, node: _Node, pair: int, relation: int, angles: tuple[float, float] = (0.0, _QUARTER)) -> bool:
        """Let the pair take a relation; False when that is impossible."""
        node.chosen[pair] = relation
        diagonal = relation >= _FIRST_DIAGONAL
        shares = (math.cos(angles[1]), math.sin(angles[0])) if diagonal else (1.0, 1.0)
        held = []
        for axis, first in enumerate(_RELATIONS[relation]):
            if first is not None:
                i, j = self._order(pair, first)
                held.append(_Held(axis, i, j, float(self._seats.size[axis, i, j]), shares[axis]))
        if diagonal:
            node.angles[pair] = angles
            for axis, first in enumerate(_RELATIONS[relation]):
                held += self._not_far(pair, axis, first or 0)
        return self._hold(node, held)

    def _order(self, pair: int, first: int) -> tuple[int, int]:
        i, j = self._seats.pairs[pair]
        return (i, j) if first == 0 else (j, i)

    def _not_far(self, pair: int, axis: int, first: int) -> list[_Held]:
        """The pair is not in this order with all it needs (as asked now) between along this axis."""
        i, j = self._order(pair, first)
        return [_Held(axis, j, i, -float(self._seats.size[axis, i, j] + self._needs[i, j]), 0.0)]

    def _not_this(self, pair: int, relation: int) -> list[_Held]:
        if relation >= _FIRST_DIAGONAL:
            return []
        across, along = _RELATIONS[relation]
        return self._not_far(pair, 0, across) if across is not None else self._not_far(pair, 1, along or 0)

    def _hold(self, node: _Node, held: list[_Held]) -> bool:
        node.held += tuple(held)
        return all(
            add_arc(node.paths[h.axis], h.i, h.j, h.least + h.share * float(self._needs[h.i, h.j])) for h in held
        )
