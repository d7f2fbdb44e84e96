"""The exhaustive search: a first layout that keeps all needs, or the certainty that there is none.

A node that is no layout is replaced by one child for each possibility there is in it, until no node is left. Depth
first, many at a time.
"""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.layout.branching.looked import Layout, Looked
from coverlayout.layout.branching.nodes import Nodes, root
from coverlayout.layout.branching.settling import Seen, settle
from coverlayout.layout.exact.tables import Tables
from coverlayout.layout.search.effort import Effort

__all__ = ["AllWays", "layouts", "settled"]

# Nodes looked at together: a few at first, as a layout may be near, then more and more.
_FIRST_WIDTH, _MOST_WIDTH = 4, 256
# A table of so many numbers at a time is quick; wider jobs look at fewer nodes together.
_MOST_NUMBERS = 400_000


def layouts(tables: Tables, effort: Effort) -> Iterator[Layout]:
    """Layouts of every kind, each with its places as far left and up as the kind allows; after the last there is none.

    OutOfSteps or CutShort from the effort: then there may be more.
    """
    ways = AllWays(tables)
    while not ways.are_done:
        yield from ways.look(effort)


class AllWays:
    """The search of all ways, which may be left and taken up again; `are_done` when nothing is left to look at."""

    def __init__(self, tables: Tables) -> None:
        self._most = int(min(max(_MOST_NUMBERS // tables.numbers, 8), _MOST_WIDTH))
        self._stack = list(settled(root(tables), self._most))
        self._width = min(_FIRST_WIDTH, self._most)

    @property
    def are_done(self) -> bool:
        """True when all has been looked at."""
        return not self._stack

    def look(self, effort: Effort) -> list[Layout]:
        """Look at the next nodes; the layouts among them."""
        nodes, seen = _popped(self._stack, self._width)
        if len(nodes) > self._width:
            rest = slice(self._width, None)
            self._stack.append((nodes.take(rest), seen.take(rest)))
            nodes, seen = nodes.take(slice(0, self._width)), seen.take(slice(0, self._width))
        looked = Looked(nodes, seen)
        effort.spend(looked.steps)
        self._stack += reversed([pair for child in looked.children() for pair in settled(child, self._most)])
        self._width = min(2 * self._width, self._most)
        return list(looked.layouts())


def _popped(stack: list[tuple[Nodes, Seen]], width: int) -> tuple[Nodes, Seen]:
    """The nodes on top of the stack, about as many as are looked at together."""
    some = [stack.pop()]
    while stack and sum(len(nodes) for nodes, _ in some) + len(stack[-1][0]) <= width:
        some.append(stack.pop())
    if len(some) == 1:
        return some[0]
    return Nodes.joined([nodes for nodes, _ in some]), Seen.joined([seen for _, seen in some])


def settled(children: Nodes, most: int) -> Iterator[tuple[Nodes, Seen]]:
    """The children that live after settling, so many at a time, with what they look like."""
    for start in range(0, len(children), most):
        some, seen = settle(children.take(slice(start, start + most)))
        if len(some):
            yield some, seen
