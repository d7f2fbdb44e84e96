"""A layout of many pieces, looked for level by level: of all children only those go on that break the least.

Nothing is proved where some are left behind; where none ever was, the search was as good as one of all ways.
"""

from __future__ import annotations

import numpy as np

from coverlayout.layout.branching.looked import Layout, Looked
from coverlayout.layout.branching.nodes import Nodes, root
from coverlayout.layout.branching.search import AllWays, settled
from coverlayout.layout.branching.settling import Seen
from coverlayout.layout.exact.tables import Tables
from coverlayout.layout.search.effort import Effort

__all__ = ["first_found"]

# From so many pieces on beams are tried, in turn with the search of all ways: the steps that has before each of them,
# and how many nodes they keep.
_MANY = 9
_TURNS = ((6_000, 16), (0, 64), (0, 256), (30_000, 1024))
# Nodes settled together.
_TOGETHER = 256


def first_found(tables: Tables, effort: Effort) -> Layout | None:
    """The first layout found; None when there is none at all. OutOfSteps or CutShort from the effort."""
    ways = AllWays(tables)
    for steps, width in _TURNS if tables.pieces >= _MANY else ():
        until = effort.left - steps
        while effort.left > until:
            if ways.are_done:
                return None
            if found := ways.look(effort):
                return found[0]
        beam = _Beam(tables, effort, width)
        layout = beam.run()
        if layout is not None or not beam.left_behind:
            return layout
    while not ways.are_done:
        if found := ways.look(effort):
            return found[0]
    return None


class _Beam:
    """One beam of so many nodes. `left_behind`: some nodes were, so that finding nothing says nothing."""

    def __init__(self, tables: Tables, effort: Effort, width: int) -> None:
        self._tables, self._effort, self._width = tables, effort, width
        self.left_behind = False

    def run(self) -> Layout | None:
        """The first layout on the way down."""
        level = list(settled(root(self._tables), _TOGETHER))
        while level:
            nodes, seen = Nodes.joined([some for some, _ in level]), Seen.joined([some for _, some in level])
            looked = Looked(nodes, seen)
            if len(nodes) > self._width:
                self.left_behind = True
                kept = np.sort(np.argsort(looked.missing_mm(), kind="stable")[: self._width])
                looked = Looked(nodes.take(kept), seen.take(kept))
            self._effort.spend(looked.steps)
            layout = next(looked.layouts(), None)
            if layout is not None:
                return layout
            level = []
            for child in looked.children():
                for pair in settled(child, _TOGETHER):
                    self._effort.look()
                    level.append(pair)
        return None
