"""How far a layout can be stretched while its pieces keep their order: the most room, or their largest size.

A piece stays on the side of each neighbour on which it lies, so that every distance is a sum of places and of the one
figure that grows; the rest is a linear program. What comes out is exact for that order, with no tolerance in it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from coverlayout.geometry.frames import Point, Ring, turn
from coverlayout.geometry.shapes import Box, bounds, is_rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, PieceAsked, Placed, Question
from coverlayout.layout.search.programs import LinearProgram
from coverlayout.layout.search.sheets import allowed_on

__all__ = ["Stretched", "largest_alike", "most_room"]

# Beyond so many pieces the rows, one for each pair, cost more than they bring.
_MOST_PIECES = 60
# Sides may change between two neighbours that lie across a corner: so the stretched layout is stretched again.
_ROUNDS = 3
# The second size at which pieces are looked at, to learn how their edges move as the size grows.
_STEP_MM = 1.0
_LOW, _HIGH = (0, 1), (2, 3)

Edges = tuple[float, ...]  # left, top, right, bottom
QuestionAt = Callable[[float], Question]


@dataclass(frozen=True)
class Stretched:
    """How far it went (the room, or the size, in mm) and where the pieces then lie."""

    amount_mm: float
    placed: tuple[Placed, ...]


@dataclass(frozen=True)
class _Part:
    """A piece, or something in its way: edges from its anchor with the figure at 0, and what each gains with it."""

    edges: Edges
    gains: Edges
    at_mm: Point = (0.0, 0.0)
    number: int | None = None

    def edge(self, side: int, figure_mm: float) -> float:
        """Where an edge lies on the cloth now."""
        return self.at_mm[side % 2] + self.edges[side] + self.gains[side] * figure_mm


def most_room(question: Question, placed: tuple[Placed, ...]) -> Stretched | None:
    """The layout with the most room between pieces and to the edges that its order allows; None when it has no order.

    That is so when a ground is no upright rectangle, or when the boxes of two pieces overlap. Wishes stay as they are
    met, and pieces across a corner from each other keep the room along one axis: a little more may be possible.
    """
    return _stretched(lambda _room_mm: question, placed, 0.0, math.inf, room_gain=1.0)


def largest_alike(
    question_at: QuestionAt, size_mm: float, placed: tuple[Placed, ...], most_mm: float
) -> Stretched | None:
    """The largest size up to `most_mm` at which the pieces can lie as they do at `size_mm`; None as in `most_room`.

    `question_at` asks for the same pieces at any size near this; their edges must move evenly with it.
    """
    return _stretched(question_at, placed, size_mm, most_mm, room_gain=0.0)


def _stretched(
    question_at: QuestionAt, placed: tuple[Placed, ...], low_mm: float, most_mm: float, room_gain: float
) -> Stretched | None:
    best: Stretched | None = None
    if not 0 < len(placed) <= _MOST_PIECES:
        return None
    for _ in range(_ROUNDS):
        found = _Stretch(question_at, placed, low_mm, room_gain).run(most_mm)
        if found is None or (best is not None and found.amount_mm <= best.amount_mm + SAME_LENGTH_MM):
            break
        best, placed, low_mm = found, found.placed, found.amount_mm
    return best


class _Stretch:
    """One layout with the figure that grows: the size of its pieces, or (with `room_gain` 1) the room they keep."""

    def __init__(self, question_at: QuestionAt, placed: tuple[Placed, ...], figure: float, room_gain: float) -> None:
        self.question, self.placed, self.room_gain = question_at(figure), placed, room_gain
        larger = self.question if room_gain else question_at(figure + _STEP_MM)
        self.figure = figure
        self._now = {piece.id: piece for piece in self.question.pieces}
        self._then = {piece.id: piece for piece in larger.pieces}
        self._larger = larger
        self._last = 2 * len(placed)
        self._parts = [self._part(number, lambda piece: piece.outline_mm) for number in range(len(placed))]

    def run(self, most_mm: float) -> Stretched | None:
        """The layout stretched; None when its order cannot be told."""
        least_mm = 0.0 if self.room_gain else -math.inf
        self._program = LinearProgram([(-math.inf, math.inf)] * self._last + [(least_mm, most_mm)])
        if not all(self._keep_on(cloth) for cloth in self.question.cloths):
            return None
        self._keep_wishes()
        values = self._program.best({self._last: 1.0})
        if values is None or not math.isfinite(values[self._last]):
            return None
        places = [(values[2 * k], values[2 * k + 1]) for k in range(len(self.placed))]
        moved = (replace(one, x_mm=x, y_mm=y) for one, (x, y) in zip(self.placed, places, strict=True))
        return Stretched(values[self._last], tuple(moved))

    def _part(self, number: int, ring_of: Callable[[PieceAsked], Ring]) -> _Part:
        one = self.placed[number]
        rings = [ring_of(pieces[one.piece]) for pieces in (self._now, self._then)]
        anchors = [pieces[one.piece].anchor_mm for pieces in (self._now, self._then)]
        now, then = (_edges(ring, anchor, one.turn_deg) for ring, anchor in zip(rings, anchors, strict=True))
        return _Part(*_evenly(now, then, self.figure), (one.x_mm, one.y_mm), number)

    def _keep_on(self, cloth: ClothAsked) -> bool:
        """Rows for what lies on one cloth: within the ground, beside each other, clear of what is in the way."""
        here = [part for part, one in zip(self._parts, self.placed, strict=True) if one.cloth == cloth.id]
        for part in here:
            box = self._ground(cloth, part)
            if box is None:
                return False
            self._keep_within(part, box)
        beside = [bounds(outline_on_cloth(*fixed)) for fixed in cloth.fixed]
        beside += [keep_out.region.bounds for keep_out in cloth.keep_outs if keep_out.spoiled]
        pairs = [*combinations(here, 2), *((part, _lying(box)) for part in here for box in beside)]
        kept = all(self._keep_apart(*pair, self.question.gap_mm, self.room_gain) for pair in pairs)
        return kept and all(self._keep_apart(*pair, 0.0, 0.0) for pair in self._flaws(cloth, here))

    def _flaws(self, cloth: ClothAsked, here: list[_Part]) -> Iterator[tuple[_Part, _Part]]:
        for keep_out in cloth.keep_outs:
            if keep_out.spoiled or keep_out.region.is_empty:
                continue
            for part in here:
                assert part.number is not None, "only pieces lie here"
                seen = self._part(part.number, lambda piece: piece.seen_mm or piece.outline_mm)
                yield (seen if keep_out.seen_only else part), _lying(keep_out.region.bounds)

    def _ground(self, cloth: ClothAsked, part: _Part) -> Box | None:
        """The upright rectangle of ground with most room around the piece; None when there is none."""
        assert part.number is not None, "only pieces lie on ground"
        piece = self._now[self.placed[part.number].piece]
        boxes = [
            ground.usable.bounds
            for ground in cloth.grounds
            if allowed_on(piece, cloth, ground) and _is_box(ground.usable.parts())
        ]
        ranked = sorted((min(self._margins(part, box)), k) for k, box in enumerate(boxes))
        if not ranked or ranked[-1][0] < -SAME_LENGTH_MM:
            return None
        return boxes[ranked[-1][1]]

    def _margins(self, part: _Part, box: Box) -> tuple[float, ...]:
        left, top, right, bottom = (part.edge(side, self.figure) for side in range(4))
        return left - box.left_mm, top - box.top_mm, box.right_mm - right, box.bottom_mm - bottom

    def _keep_within(self, part: _Part, box: Box) -> None:
        for side, limit_mm in zip(_LOW, (box.left_mm, box.top_mm), strict=True):
            self._row({}, part, side, limit_mm, self.room_gain)
        for side, limit_mm in zip(_HIGH, (box.right_mm, box.bottom_mm), strict=True):
            self._row({}, part, side, limit_mm, self.room_gain)

    def _row(self, factors: dict[int, float], part: _Part, side: int, limit_mm: float, room: float) -> None:
        """An edge of a piece stays inside a limit of its ground, with room where room is what grows."""
        inward = 1.0 if side in _LOW else -1.0
        assert part.number is not None, "only pieces move"
        factors[2 * part.number + side % 2] = inward
        factors[self._last] = inward * part.gains[side] - room
        self._program.add_row(factors, (inward * (limit_mm - part.edges[side]), math.inf))

    def _keep_apart(self, one: _Part, other: _Part, gap_mm: float, room: float) -> bool:
        """Two neighbours stay apart the way they now are farthest apart; False when their boxes overlap."""
        ways = [
            (second.edge(axis, self.figure) - first.edge(axis + 2, self.figure), k, axis)
            for k, (first, second) in enumerate(((one, other), (other, one)))
            for axis in (0, 1)
        ]
        apart_mm, swapped, axis = max(ways)
        if apart_mm < -SAME_LENGTH_MM:
            return False
        first, second = (other, one) if swapped else (one, other)
        self._keep_behind(first, second, axis, gap_mm, 0.0)
        if room:
            self._keep_behind(first, second, axis, 0.0, room)
        return True

    def _keep_behind(self, first: _Part, second: _Part, axis: int, gap_mm: float, room: float) -> None:
        factors = {self._last: second.gains[axis] - first.gains[axis + 2] - room}
        need_mm = gap_mm + first.edges[axis + 2] - second.edges[axis]
        for part, sign in ((second, 1.0), (first, -1.0)):
            if part.number is not None:
                factors[2 * part.number + axis] = sign
        self._program.add_row(factors, (need_mm, math.inf))

    def _keep_wishes(self) -> None:
        """The points that locks and links speak of stay where they lie, to the cloth and to each other."""
        numbers = {one.piece: k for k, one in enumerate(self.placed)}
        for now, then in zip(self.question.locks, self._larger.locks, strict=True):
            if now.piece in numbers:
                gain = self._gain(now.piece, now.point_mm, then.point_mm)
                self._hold({numbers[now.piece]: 1.0}, gain)
        for link, larger in zip(self.question.links, self._larger.links, strict=True):
            gains = [self._gain(*point) for point in zip(link.pieces, link.points_mm, larger.points_mm, strict=True)]
            for k, (now_mm, then_mm) in enumerate(zip(link.differences_mm, larger.differences_mm, strict=True), 1):
                if link.pieces[0] not in numbers or link.pieces[k] not in numbers:
                    continue
                first, further = numbers[link.pieces[0]], numbers[link.pieces[k]]
                to_cloth = turn(self.placed[first].turn_deg)
                apart = to_cloth.vector(((then_mm[0] - now_mm[0]) / _STEP_MM, (then_mm[1] - now_mm[1]) / _STEP_MM))
                x, y = (gains[k][axis] - gains[0][axis] - apart[axis] for axis in (0, 1))
                self._hold({first: -1.0, further: 1.0}, (x, y))

    def _gain(self, name: str, now_mm: Point, then_mm: Point) -> Point:
        """How a point of a piece moves from its anchor, on the cloth, as the figure grows."""
        one = next((one for one in self.placed if one.piece == name), None)
        if one is None:
            return 0.0, 0.0
        (ax, ay), (bx, by) = self._now[name].anchor_mm, self._then[name].anchor_mm
        moved = (then_mm[0] - now_mm[0] - bx + ax) / _STEP_MM, (then_mm[1] - now_mm[1] - by + ay) / _STEP_MM
        return turn(one.turn_deg).vector(moved)

    def _hold(self, signs: dict[int, float], gain: Point) -> None:
        """A sum of anchors, and what their points gain with the figure, stays what it now is."""
        for axis in (0, 1):
            factors = {2 * number + axis: sign for number, sign in signs.items()} | {self._last: gain[axis]}
            now = sum(sign * self._parts[number].at_mm[axis] for number, sign in signs.items())
            there = now + gain[axis] * self.figure
            self._program.add_row(factors, (there, there))


def _edges(ring: Ring, anchor_mm: Point, turn_deg: float) -> Edges:
    box = bounds(turn(turn_deg).vector((x - anchor_mm[0], y - anchor_mm[1])) for x, y in ring)
    return box.left_mm, box.top_mm, box.right_mm, box.bottom_mm


def _evenly(now: Edges, then: Edges, figure: float) -> tuple[Edges, Edges]:
    """Numbers with the figure at 0, and what each gains with it, from their values now and a step later."""
    gains = tuple((b - a) / _STEP_MM for a, b in zip(now, then, strict=True))
    return tuple(a - gain * figure for a, gain in zip(now, gains, strict=True)), gains


def _lying(box: Box) -> _Part:
    """Something that lies for good."""
    return _Part((box.left_mm, box.top_mm, box.right_mm, box.bottom_mm), (0.0,) * 4)


def _is_box(parts: tuple[tuple[Ring, tuple[Ring, ...]], ...]) -> bool:
    return len(parts) == 1 and not parts[0][1] and is_rectangle(parts[0][0])
