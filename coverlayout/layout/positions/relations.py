"""Every way a few rectangles can lie to each other: the largest room to spare, proved, or the proof that none fits.

Two pieces at least d apart are left of, right of, above or below each other by d, or diagonal: apart by less than d
both ways and yet, corner to corner, by d. So every pair has eight *relations*. A node of the search has some of them
chosen; each axis is then a system of differences (axes.py), and a node dies as soon as one pair has no relation left. A
diagonal relation holds for an interval of corner angles, in which it is a pair of differences too: dx >= d cos(end) and
dy >= d sin(start); halving the interval makes it as sharp as one likes. Nothing is rounded to a grid.

The search asks "is there more room than the best so far?" and raises the question with each layout it finds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.positions.axes import Matrix
from coverlayout.layout.positions.nodes import FIRST_DIAGONAL, RELATIONS, Asked, Held, Node
from coverlayout.layout.positions.seats import Seats
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.sheets import Pose

__all__ = ["STEP_MM", "Found", "Relations"]

# Asked beyond the best room found so far: a room is proved within this.
STEP_MM = 0.005
# A corner this much nearer than asked counts as found: the next question is a step further anyway.
_CORNER_MM = 0.002
# Steps of effort a node costs.
_NODE_STEPS = 4


@dataclass(frozen=True)
class Found:
    """A layout of the search: the room it has, and the pose and the top left (cloth frame) of each piece."""

    room_mm: float
    poses: tuple[Pose, ...]
    places: tuple[tuple[float, float], ...]


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
        self._allowed = _without_repeats(seats)
        if not diagonals:
            self._allowed[:, FIRST_DIAGONAL:] = False
        self._asked = Asked(seats, room_mm)

    def run(self) -> float:
        """Search all. Answers the room asked for last, mm: no layout of these poses has as much."""
        if self._asked.room_mm <= self._seats.most_room():
            self._explore(Node(self._asked))
        return self._asked.room_mm

    def _explore(self, node: Node) -> None:
        self._effort.spend(_NODE_STEPS)
        while True:
            if node.asked is not self._asked:
                node = Node(self._asked, node)
            pair = self._settle(node)
            if pair is None:
                return
            if pair >= 0:
                break
            if not self._rising:
                self._tell(self._asked.room_mm, node.paths[0][0], node.paths[1][0])
                return
            self._rise(node)
        for child in self._children(node, pair):
            self._explore(child)

    def _settle(self, node: Node) -> int | None:
        """Choose what has no alternative; the pair to branch on, -1 for a layout, None for a dead end."""
        while node.is_possible and node.sharpen():
            open_relations, implied = self._open(node)
            counts = open_relations.sum(axis=1)
            waiting = (node.chosen < 0) & ~implied
            if (counts[waiting] == 0).any():
                return None
            forced = np.flatnonzero(waiting & (counts == 1))
            if not len(forced):
                return self._to_branch(node, counts, waiting)
            if not node.choose(int(forced[0]), int(open_relations[forced[0]].argmax())):
                return None
        return None

    def _open(self, node: Node) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        open_relations, implied = node.open_relations()
        return open_relations & self._allowed, implied

    def _to_branch(self, node: Node, counts: NDArray[np.int64], waiting: NDArray[np.bool_]) -> int:
        """The pair with the fewest relations left among those too near each other in the earliest places; -1: none."""
        across, along = node.gaps()
        need = self._asked.need
        apart = (np.minimum(across, along) > 0.0) & (np.hypot(across, along) >= need - _CORNER_MM)
        near = (np.maximum(across, along) < need - EXACT_MM) & ~apart
        candidates = np.flatnonzero(near & waiting)
        if len(candidates):
            return int(candidates[np.argmin(counts[candidates])])
        candidates = np.flatnonzero(near & (node.chosen >= FIRST_DIAGONAL))
        return int(candidates[0]) if len(candidates) else -1

    def _rise(self, node: Node) -> None:
        """The earliest places are a layout: raise the question beyond the room its relations allow."""
        room, x, y = self._seats.widened(node.paths[0][0], node.paths[1][0], self._asked.needs)
        self._tell(room, x, y)
        self._asked = Asked(self._seats, max(room, self._asked.room_mm - STEP_MM / 2) + STEP_MM)

    def _tell(self, room_mm: float, x: Matrix, y: Matrix) -> None:
        pieces = range(1, self._seats.pieces + 1)
        self._found(Found(room_mm, self._seats.poses, tuple((float(x[k]), float(y[k])) for k in pieces)))

    def _children(self, node: Node, pair: int) -> Iterator[Node]:
        """The node with each relation of the pair in turn; later ones exclude the earlier: nothing is seen twice."""
        relation = int(node.chosen[pair])
        if relation >= FIRST_DIAGONAL:
            low, high = node.angles[pair]
            for angles in ((low, (low + high) / 2), ((low + high) / 2, high)):
                child = Node(self._asked, node)
                if child.is_possible and child.choose(pair, relation, angles):
                    yield child
            return
        open_relations, _ = self._open(node)
        excluded: list[Held] = []
        for relation in np.flatnonzero(open_relations[pair]).tolist():
            child = Node(self._asked, node)
            if child.is_possible and child.hold(excluded) and child.choose(pair, relation):
                yield child
            # By what is asked now: a layout that the child lost to a question raised meanwhile is not excluded here.
            excluded += self._asked.without(pair, relation)


def _without_repeats(seats: Seats) -> NDArray[np.bool_]:
    """By pair, the relations that may be taken: not those that only swap two equal pieces, taken from left to right."""
    allowed = np.ones((len(seats.pairs), len(RELATIONS)), dtype=np.bool_)
    for pair, (i, j) in enumerate(seats.pairs):
        if (i, j) in seats.alike:
            allowed[pair, [k for k, (across, _) in enumerate(RELATIONS) if across == 1]] = False
    return allowed
