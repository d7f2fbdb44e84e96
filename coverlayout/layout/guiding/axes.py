"""One cloth seen along axes of one turn: all stops across and along it, and what is in the way there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coverlayout.geometry.frames import Affine, Ring, turn
from coverlayout.geometry.shapes import Box, bounds, is_rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.guiding.body import Body, along_same
from coverlayout.layout.guiding.guide import GuideKind
from coverlayout.layout.guiding.neighbours import (
    Neighbour,
    Side,
    Stopping,
    equal_gaps,
    level_with,
    sides_of,
    stops_beside,
)
from coverlayout.layout.guiding.stops import Stop, Stops
from coverlayout.layout.placing import ClothReady

__all__ = ["Axes", "Keeping"]

# Axes frame with the direction first: as it is across, with x and y exchanged along.
_FIRST = (Affine(), Affine(xx=0.0, xy=1.0, yx=1.0, yy=0.0))


@dataclass(frozen=True)
class Keeping:
    """The least gap between pieces that was set, and the room the maker wishes, in mm."""

    gap_mm: float
    room_mm: float

    def beside_pieces(self) -> list[tuple[GuideKind, float]]:
        """What a stop beside a piece may keep."""
        gap: GuideKind = "gap" if self.gap_mm > SAME_LENGTH_MM else "touch"
        keeping = [(gap, self.gap_mm)]
        return [*keeping, ("room", self.room_mm)] if self.room_mm > self.gap_mm + SAME_LENGTH_MM else keeping

    def beside_edges(self, zoned: bool) -> list[tuple[GuideKind, float]]:
        """What a stop beside an edge of the ground may keep."""
        edge: list[tuple[GuideKind, float]] = [("zone" if zoned else "edge", 0.0)]
        return [*edge, ("room-edge", self.room_mm)] if self.room_mm > SAME_LENGTH_MM else edge


class Axes:
    """The stops of one cloth along axes turned by `turn_deg`, worked out once.

    `own`: these are the directions of the carried piece's own sides, so that it lines up with middles and edges; along
    other directions it is only stopped where one of its corners meets an edge.
    """

    def __init__(
        self, cloth: ClothReady, turn_deg: float, bodies: Sequence[Body], keeping: Keeping, *, own: bool
    ) -> None:
        """`bodies` are the pieces that rest on the cloth."""
        self.own = own
        self.from_axes = turn(turn_deg)
        self.to_axes = turn(-turn_deg)
        self._cloth, self._keeping = cloth, keeping
        parallel = [body for body in bodies if along_same(body.placed.turn_deg, turn_deg)]
        rings = [(body.name, self.to_axes.ring(body.ring_mm)) for body in parallel]
        slanted = [(body.name, self.to_axes.ring(body.ring_mm)) for body in bodies if body not in parallel]
        self._crowd = np.array([_ends(bounds(ring)) for _, ring in rings]).reshape(-1, 4)
        self._grounds = self._rooms()
        self.stops = tuple(Stops(self._stops(way, parallel, rings, slanted)) for way in (0, 1))

    def _rooms(self) -> list[tuple[float, float, float, float]]:
        """The grounds as boxes along the axes; none when one of them is no such box."""
        boxes = []
        for ground in self._cloth.grounds:
            parts = [(self.to_axes.ring(outer), holes) for outer, holes in ground.ground.usable.parts()]
            if len(parts) != 1 or parts[0][1] or not is_rectangle(parts[0][0]):
                return []
            boxes.append(_ends(bounds(parts[0][0])))
        return boxes

    def _stops(
        self, way: int, parallel: Sequence[Body], rings: Sequence[tuple[str, Ring]], slanted: Sequence[tuple[str, Ring]]
    ) -> Iterator[Stopping]:
        first, keeping = _FIRST[way], self._keeping.beside_pieces()
        yield from self._ground_stops(first)
        for name, ring in slanted:
            yield from stops_beside(sides_of(first.ring(ring)), keeping, (name,))
        row = []
        for body, (name, ring) in zip(parallel, rings, strict=True):
            turned = first.ring(ring)
            sides = sides_of(turned, extremes=True)
            yield from stops_beside(sides, keeping, (name,))
            if self.own:
                row.append(self._neighbour(body, first, turned))
                yield from level_with(row[-1], sides)
        yield from equal_gaps(row)

    def _neighbour(self, body: Body, first: Affine, ring: Ring) -> Neighbour:
        to_first = self.to_axes.then(first)
        board = None if body.board_ring_mm is None else bounds(to_first.ring(body.board_ring_mm))
        return Neighbour(body.name, bounds(ring), to_first.at(body.at_mm)[0], board)

    def _ground_stops(self, first: Affine) -> Iterator[Stopping]:
        """Edges of the usable ground, what to keep clear of, and the middles of ground and cloth."""
        to_first, cloth = self.to_axes.then(first), self._cloth
        at_edges = self._keeping.beside_edges(len(cloth.grounds) > 1)
        for ground in cloth.grounds:
            for outer, holes in ground.ground.usable.parts():
                yield from stops_beside(_inward(sides_of(to_first.ring(outer))), at_edges)
                for hole in holes:
                    yield from stops_beside(sides_of(to_first.ring(hole)), at_edges)
        for keep_out, shape in cloth.keep_outs:
            beside: list[tuple[GuideKind, float]] = [("touch", 0.0)]
            for ring in shape.rings:
                sides = sides_of(to_first.ring(ring))
                yield from stops_beside(
                    sides, self._keeping.beside_pieces() if keep_out.spoiled else beside, (keep_out.name,)
                )
        if self.own:
            yield from self._middles(to_first)

    def _middles(self, to_first: Affine) -> Iterator[Stopping]:
        outline = self._cloth.cloth.outline_mm
        yield "middle", _middle_stop("middle-cloth", bounds(outline), to_first)
        for ground in self._cloth.grounds:
            if not ground.ground.usable.is_empty:
                yield "middle", _middle_stop("middle-ground", ground.ground.usable.bounds, to_first)

    def in_the_way(self, box: tuple[float, float, float, float]) -> int:
        """With how much a box (left, right, top, bottom in this frame) collides: pieces too near, and the edge."""
        left, right, top, bottom = box
        off_mm = self._keeping.gap_mm - SAME_LENGTH_MM
        crowd = self._crowd
        hits = (crowd[:, 0] < right + off_mm) & (crowd[:, 1] > left - off_mm)
        hits &= (crowd[:, 2] < bottom + off_mm) & (crowd[:, 3] > top - off_mm)
        outside = bool(self._grounds) and not any(_holds(ground, box) for ground in self._grounds)
        return int(np.count_nonzero(hits)) + outside


def _ends(box: Box) -> tuple[float, float, float, float]:
    return box.left_mm, box.right_mm, box.top_mm, box.bottom_mm


def _holds(ground: tuple[float, float, float, float], box: tuple[float, float, float, float]) -> bool:
    return (
        ground[0] <= box[0] + SAME_LENGTH_MM
        and box[1] <= ground[1] + SAME_LENGTH_MM
        and ground[2] <= box[2] + SAME_LENGTH_MM
        and box[3] <= ground[3] + SAME_LENGTH_MM
    )


def _inward(sides: Iterable[Side]) -> Iterator[Side]:
    """The sides of a ground: what is free lies inside."""
    for side in sides:
        yield side._replace(faces=-side.faces)


def _middle_stop(kind: GuideKind, box: Box, to_first: Affine) -> Stop:
    around = bounds(to_first.ring(box.ring()))
    return Stop(to_first.at(box.middle)[0], kind, around.top_mm, around.bottom_mm)
