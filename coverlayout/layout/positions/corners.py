"""The most room of a layout in which some pairs are apart only from corner to corner.

Seen along a direction, two corners are at most as far apart as they are: so asking for the room along the direction in
which they lie now is enough, and is linear. Solved, and asked again along the new directions, until nothing is gained.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from coverlayout.layout.positions.axes import Arc, Matrix
from coverlayout.layout.search.programs import LinearProgram

__all__ = ["Corner", "Order", "most_room_at_corners"]

# How far apart along an axis two nodes are at least, touching: the size of the one before, that one, the one after.
Order = tuple[float, int, int]
Arcs = tuple[list[Arc], list[Arc]]
Places = tuple[Matrix, Matrix]
_ROUNDS = 12
# Rounds end when they gain less than this, mm; the solver's own dust is taken off the room.
_GAIN_MM = 1e-4
_DUST_MM = 1e-6
# Rooms below 0 only come up within the tolerances.
_LEAST_ROOM_MM = 1.0


class Corner(NamedTuple):
    """A pair that is apart from corner to corner: its order across and along, and the least it must be apart, mm."""

    across: Order
    along: Order
    least_mm: float


def most_room_at_corners(
    arcs: Arcs, corners: list[Corner], places: Places, most_mm: float
) -> tuple[float, Matrix, Matrix]:
    """The room found, up to `most_mm`, and the x and y of all nodes then.

    `arcs` are those of the ground and of the other pairs along both axes; `places` satisfy everything with some room.
    """
    room, (x, y) = -math.inf, places
    for _ in range(_ROUNDS):
        wider, wide_x, wide_y = _along_directions(arcs, corners, (x, y), most_mm)
        if wider < room + _GAIN_MM:
            break
        room, x, y = wider, wide_x, wide_y
    return room, x, y


def _along_directions(
    arcs: Arcs, corners: list[Corner], places: Places, most_mm: float
) -> tuple[float, Matrix, Matrix]:
    """The most room when every corner's distance counts along the direction in which it lies now."""
    nodes = len(places[0])
    room = 2 * nodes
    free = [(0.0, 0.0) if node == 0 else (-math.inf, math.inf) for node in range(nodes)]
    program = LinearProgram([*free, *free, (-_LEAST_ROOM_MM, most_mm)])
    for axis, axis_arcs in enumerate(arcs):
        for arc in axis_arcs:
            row = {axis * nodes + arc.after: 1.0, axis * nodes + arc.before: -1.0}
            program.add_row({**row, room: -arc.per_room} if arc.per_room else row, (arc.least_mm, math.inf))
    for corner in corners:
        _add_corner(program, corner, places, room)
    best = program.best({room: 1.0})
    if best is None:
        return -math.inf, *places
    return best[room] - _DUST_MM, np.array(best[:nodes]), np.array(best[nodes:room])


def _add_corner(program: LinearProgram, corner: Corner, places: Places, room: int) -> None:
    nodes, (x, y) = len(places[0]), places
    (wide, a, b), (high, c, d) = corner.across, corner.along
    across, along = x[b] - x[a] - wide, y[d] - y[c] - high
    far = math.hypot(across, along)
    cos, sin = across / far, along / far
    program.add_row({b: 1.0, a: -1.0}, (wide, math.inf))
    program.add_row({nodes + d: 1.0, nodes + c: -1.0}, (high, math.inf))
    row = {b: cos, a: -cos, nodes + d: sin, nodes + c: -sin}
    program.add_row(row, (corner.least_mm + cos * wide + sin * high, math.inf))
    program.add_row({**row, room: -1.0}, (cos * wide + sin * high, math.inf))
