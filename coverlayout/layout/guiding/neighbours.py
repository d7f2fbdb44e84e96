"""The stops that a neighbour, an edge of the ground or a gap between two neighbours offers in one direction.

Everything here is given in the frame of the axes with the direction first: a point is (along the direction, across it).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

import numpy as np

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.guiding.guide import GuideKind
from coverlayout.layout.guiding.stops import Part, Stop

__all__ = ["Neighbour", "Side", "equal_gaps", "level_with", "sides_of", "stops_beside"]

# Chords of a rounded corner are no edges to lay a piece along.
_SHORTEST_SIDE_MM = 2.0
# A piece has this many next neighbours at most that a gap is measured to, the nearest first.
_NEXT = 3

Stopping = tuple[Part, Stop]


class Side(NamedTuple):
    """A straight edge square to the direction; `faces` 1 when what is free lies further on, -1 when before it."""

    at_mm: float
    low_mm: float
    high_mm: float
    faces: int


class Neighbour(NamedTuple):
    """A piece's box, its anchor and its board's box, with its name."""

    name: str
    box: Box
    anchor_mm: float
    board: Box | None = None


def sides_of(ring: Ring, *, extremes: bool = False) -> list[Side]:
    """The edges of an outline that are square to the direction; what is free lies outside of it.

    With `extremes` a corner or a curve that reaches farthest counts as an edge as long as the whole outline.

    >>> sides_of(((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)))
    [Side(at_mm=30.0, low_mm=0.0, high_mm=20.0, faces=1), Side(at_mm=0.0, low_mm=0.0, high_mm=20.0, faces=-1)]
    """
    ends = list(zip(ring, ring[1:] + ring[:1], strict=True))
    way_round = 1 if sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in ends) > 0 else -1
    sides = [
        Side((x0 + x1) / 2, min(y0, y1), max(y0, y1), way_round if y1 > y0 else -way_round)
        for (x0, y0), (x1, y1) in ends
        if abs(x1 - x0) <= SAME_LENGTH_MM and abs(y1 - y0) >= _SHORTEST_SIDE_MM
    ]
    return [*sides, *_extremes(ring, sides)] if extremes else sides


def _extremes(ring: Ring, sides: Sequence[Side]) -> Iterator[Side]:
    low_mm, high_mm = min(y for _, y in ring), max(y for _, y in ring)
    for faces, at_mm in ((1, max(x for x, _ in ring)), (-1, min(x for x, _ in ring))):
        if not any(side.faces == faces and abs(side.at_mm - at_mm) <= SAME_LENGTH_MM for side in sides):
            yield Side(at_mm, low_mm, high_mm, faces)


def stops_beside(
    sides: Iterable[Side], keeping: Sequence[tuple[GuideKind, float]], names: tuple[str, ...] = ()
) -> Iterator[Stopping]:
    """Stops beside these edges, one for each kind and the length in mm that it keeps."""
    for side in sides:
        part: Part = "low" if side.faces > 0 else "high"
        for kind, length_mm in keeping:
            at_mm = side.at_mm + side.faces * length_mm
            yield part, Stop(at_mm, kind, side.low_mm, side.high_mm, names, length_mm or None, beside=True)


def level_with(neighbour: Neighbour, sides: Iterable[Side]) -> Iterator[Stopping]:
    """Stops on one line with a neighbour: with its edges, its middle, its anchor and its board."""
    name, box, board = (neighbour.name,), neighbour.box, neighbour.board
    low_mm, high_mm = box.top_mm, box.bottom_mm
    for side in sides:
        yield "low" if side.faces < 0 else "high", Stop(side.at_mm, "level", low_mm, high_mm, name)
    yield "middle", Stop(box.middle[0], "middle", low_mm, high_mm, name)
    yield "anchor", Stop(neighbour.anchor_mm, "anchor", low_mm, high_mm, name)
    if board is not None:
        yield "board low", Stop(board.left_mm, "boards", low_mm, high_mm, name)
        yield "board high", Stop(board.right_mm, "boards", low_mm, high_mm, name)


def equal_gaps(row: Sequence[Neighbour]) -> Iterator[Stopping]:
    """Stops that make gaps equal: half-way between two pieces side by side, or repeating their gap beyond either."""
    for first, other in _side_by_side(row):
        one, two = row[first].box, row[other].box
        gap_mm = two.left_mm - one.right_mm
        pair_mm, names = (one.right_mm, two.left_mm), (row[first].name, row[other].name)
        low_mm, high_mm = max(one.top_mm, two.top_mm), min(one.bottom_mm, two.bottom_mm)
        half_way = (one.right_mm + two.left_mm) / 2
        yield "middle", Stop(half_way, "between", low_mm, high_mm, names, None, True, gap_mm, pair_mm)
        for part, at_mm, box in (("low", two.right_mm + gap_mm, two), ("high", one.left_mm - gap_mm, one)):
            stop = Stop(at_mm, "like", box.top_mm, box.bottom_mm, names, gap_mm, True, pair_mm=pair_mm)
            yield "low" if part == "low" else "high", stop


def _side_by_side(row: Sequence[Neighbour]) -> Iterator[tuple[int, int]]:
    """Pairs with a gap between them and nothing else in it, each pair in the order it lies."""
    if len(row) < 2:
        return
    low, high, top, bottom = np.array(
        [[each.box.left_mm, each.box.right_mm, each.box.top_mm, each.box.bottom_mm] for each in row]
    ).T
    gaps_mm = low[None, :] - high[:, None]
    shared_mm = np.minimum(bottom[None, :], bottom[:, None]) - np.maximum(top[None, :], top[:, None])
    gaps_mm = np.where((gaps_mm > SAME_LENGTH_MM) & (shared_mm > SAME_LENGTH_MM), gaps_mm, np.inf)
    nearest = np.argsort(gaps_mm, axis=1, kind="stable")[:, : 2 * _NEXT]
    for first, others in enumerate(nearest.tolist()):
        seen: list[int] = []
        for other in others:
            if not np.isfinite(gaps_mm[first, other]) or len(seen) == _NEXT:
                break
            if all(min(bottom[other], bottom[each]) - max(top[other], top[each]) <= SAME_LENGTH_MM for each in seen):
                seen.append(other)
                yield first, other
