"""Where rectangles may lie along one axis when their order is known: systems of differences, solved by longest paths.

Node 0 is the cloth frame's origin. An *arc* (i, j, least, per_room) says: place j minus place i is at least
`least + per_room * room`, where the room is the clearance asked for. All places that satisfy some arcs are known from
the longest paths between the nodes; a path from a node back to itself that is longer than 0 means that there are none.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.tolerance import EXACT_MM

__all__ = ["Arc", "Matrix", "add_arc", "largest_room", "longest_paths"]

Matrix = NDArray[np.float64]


@dataclass(frozen=True)
class Arc:
    """Place `after` minus place `before` is at least `least_mm + per_room * room`."""

    before: int
    after: int
    least_mm: float
    per_room: float = 0.0


def add_arc(paths: Matrix, before: int, after: int, least_mm: float) -> bool:
    """Take one more difference into the longest paths, in place; False when it cannot be met (paths then spoiled)."""
    if paths[after, before] + least_mm > EXACT_MM:
        return False
    if paths[before, after] < least_mm:
        through = paths[:, before, None] + (paths[after] + least_mm)
        np.maximum(paths, through, out=paths)
    return True


def longest_paths(nodes: int, arcs: Iterable[Arc], room_mm: float) -> Matrix | None:
    """Longest paths between all nodes for this room, or None when the arcs contradict each other.

    >>> longest_paths(2, [Arc(0, 1, 5.0, 1.0), Arc(1, 0, -20.0, 1.0)], 2.0)[0, 1]
    np.float64(7.0)
    """
    paths = np.full((nodes, nodes), -np.inf)
    np.fill_diagonal(paths, 0.0)
    for arc in arcs:
        if not add_arc(paths, arc.before, arc.after, arc.least_mm + arc.per_room * room_mm):
            return None
    return paths


def largest_room(nodes: int, arcs: list[Arc], at_most_mm: float) -> float:
    """The largest room up to `at_most_mm` for which the arcs agree; minus infinity when none does.

    From above: each circle of arcs that is too long names the room it allows, until none is too long. Every such room
    is the exact ratio of a circle's lengths, so the last is the answer (parametric longest paths, Karp and Orlin 1981).

    >>> largest_room(2, [Arc(0, 1, 0.0, 1.0), Arc(1, 0, -20.0, 1.0)], 100.0)
    10.0
    """
    room = at_most_mm
    while True:
        circle = _circle_too_long(nodes, arcs, room)
        if circle is None:
            return room
        least, per_room = circle
        if per_room <= 0.0:
            return -np.inf
        lower = -least / per_room
        if lower >= room - EXACT_MM:
            return lower
        room = lower


def _circle_too_long(nodes: int, arcs: list[Arc], room_mm: float) -> tuple[float, float] | None:
    """The (least, per_room) sums of a circle longer than 0 at this room, or None when there is none."""
    length = [0.0] * nodes
    came_by: list[Arc | None] = [None] * nodes
    moved = 0
    for _ in range(nodes + 1):
        moved = -1
        for arc in arcs:
            longer = length[arc.before] + arc.least_mm + arc.per_room * room_mm
            if longer > length[arc.after] + EXACT_MM:
                length[arc.after], came_by[arc.after], moved = longer, arc, arc.after
        if moved < 0:
            return None
    for _ in range(nodes):
        moved = _arc_into(came_by, moved).before
    first, at, least, per_room = moved, moved, 0.0, 0.0
    while True:
        arc = _arc_into(came_by, at)
        least, per_room, at = least + arc.least_mm, per_room + arc.per_room, arc.before
        if at == first:
            return least, per_room


def _arc_into(came_by: list[Arc | None], node: int) -> Arc:
    arc = came_by[node]
    assert arc is not None, "every node behind a circle was reached by an arc"
    return arc
