"""Many nodes of the search at once: what is known in each of them, and what follows from it.

A node knows for every two places how far they are apart at least, across and along (longest paths between them, a
system of differences), which seats its pieces have, and which slanted lines it keeps. Everything is an array with one
row a node, so that thousands of them cost little more than one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.exact.apart import Floats
from coverlayout.layout.exact.tables import Tables

__all__ = ["OPEN", "Flags", "Nodes", "Numbers", "root"]

Flags = NDArray[np.bool_]
Numbers = NDArray[np.intp]
OPEN = -1
"""No seat chosen; no slanted line kept."""


@dataclass
class Nodes:
    """Nodes of one search: `paths` (axis, node, place, place), `seat` (node, piece), `slant` and `barred` by choice.

    `paths[axis][n, i, j]` is the least of place j minus place i, mm. `slant` is the slanted normal a choice keeps;
    `barred` (normal, node, choice) what it may not take any more, since another node has it. `left`: by held piece the
    places it still has; `told`: which of them have but one, and have told the others. `blame`, shared by all nodes of a
    search: how many nodes died of a choice.
    """

    tables: Tables
    paths: list[Floats]
    seat: NDArray[np.int16]
    slant: NDArray[np.int16]
    barred: Flags
    left: Flags
    told: Flags
    alive: Flags
    blame: Floats

    def __len__(self) -> int:
        """How many nodes there are."""
        return len(self.seat)

    @classmethod
    def joined(cls, some: list[Nodes]) -> Nodes:
        """Nodes of one search together."""
        return cls(
            some[0].tables,
            [np.concatenate([nodes.paths[axis] for nodes in some]) for axis in (0, 1)],
            np.concatenate([nodes.seat for nodes in some]),
            np.concatenate([nodes.slant for nodes in some]),
            np.concatenate([nodes.barred for nodes in some], axis=1),
            np.concatenate([nodes.left for nodes in some]),
            np.concatenate([nodes.told for nodes in some]),
            np.concatenate([nodes.alive for nodes in some]),
            some[0].blame,
        )

    def take(self, rows: Numbers | Flags | slice) -> Nodes:
        """Some of the nodes, as nodes of their own."""
        return Nodes(
            self.tables,
            [paths[rows].copy() for paths in self.paths],
            self.seat[rows].copy(),
            self.slant[rows].copy(),
            self.barred[:, rows].copy(),
            self.left[rows].copy(),
            self.told[rows].copy(),
            self.alive[rows].copy(),
            self.blame,
        )

    def add(self, axis: int, rows: Numbers, i: Numbers | int, j: Numbers | int, least: Floats | float) -> None:
        """Place j is at least so much beyond place i in these nodes (each named once); those that contradict it die."""
        paths = self.paths[axis]
        dead = paths[rows, j, i] + least > EXACT_MM
        news = ~dead & (paths[rows, i, j] < least)
        self.alive[rows[dead]] = False
        if not news.any():
            return
        rows = rows[news]
        i, j = (node if isinstance(node, int) else node[news] for node in (i, j))
        more = least if isinstance(least, float) else least[news, None]
        through = paths[rows, :, i][:, :, None] + (more + paths[rows, j, :])[:, None, :]
        paths[rows] = np.maximum(paths[rows], through)

    def seat_at(self, piece: int, rows: Numbers, seats: Numbers) -> None:
        """Give a piece its seat in these nodes, with what follows: its range, its order among equals, its half."""
        tables, node = self.tables, piece + 1
        self.seat[rows, piece] = seats
        for axis in (0, 1):
            low, high = tables.low[piece, seats, axis], tables.high[piece, seats, axis]
            self.add(axis, rows, 0, node, low)
            self.add(axis, rows, node, 0, -high)
            if tables.middle[piece, axis]:
                self.add(axis, rows, node, 0, -(low + high) / 2)
        earlier = int(tables.before[piece])
        if earlier:
            same = rows[self.seat[rows, earlier - 1] == seats]
            self.add(0, same, earlier, node, 0.0)
        self._keep_areas(piece, rows, seats)

    def _keep_areas(self, piece: int, rows: Numbers, seats: Numbers) -> None:
        tables = self.tables
        parts = tables.part[piece, seats]
        seated = self.seat[rows]
        theirs = tables.part[np.arange(tables.pieces)[None, :], np.maximum(seated, 0)]
        here = (seated >= 0) & (theirs == parts[:, None])
        full = (here * tables.areas).sum(axis=1) > tables.part_areas[parts]
        self.alive[rows[full]] = False


def root(tables: Tables) -> Nodes:
    """The one node in which nothing is chosen but what can be chosen only one way."""
    places, choices = tables.pieces + 1, len(tables.apart.first)
    paths = []
    for axis in (0, 1):
        start = np.full((1, places, places), -np.inf)
        start[0, range(places), range(places)] = 0.0
        for k, count in enumerate(tables.seats.tolist()):
            start[0, 0, k + 1] = tables.low[k, :count, axis].min()
            start[0, k + 1, 0] = -tables.high[k, :count, axis].max()
        through = start[:, :, 0, None] + start[:, None, 0, :]
        paths.append(np.maximum(start, through))
    nodes = Nodes(
        tables,
        paths,
        np.full((1, tables.pieces), OPEN, dtype=np.int16),
        np.full((1, choices), OPEN, dtype=np.int16),
        np.zeros((len(tables.apart.normals), 1, choices), dtype=np.bool_),
        tables.held.there[None].copy(),
        np.zeros((1, len(tables.held.piece)), dtype=np.bool_),
        np.ones(1, dtype=np.bool_),
        np.ones(choices),
    )
    rows = np.zeros(1, dtype=np.intp)
    for piece in tables.order.tolist():
        if tables.seats[piece] == 1:
            nodes.seat_at(piece, rows, rows)
    return nodes
