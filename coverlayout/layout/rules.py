"""The rules of a layout and their one judge.

It shares nothing with the search: whatever is shown or exported has passed it.

Amounts of breaches are mm, of `turn` degrees: outside and zone, how far the piece reaches out of the ground it may use
(0 when there is no such ground on that cloth); overlap and flaw, the width of what is shared; gap, how much is missing;
lock and link, how far off the place in the repeat. Where the place in the repeat cannot be known (a cloth whose print's
origin is unknown, or pieces on different prints), a lock or link counts as broken by the most it could be off.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from coverlayout.geometry.directions import SIDES, Side, Straight, nearest_on_sides, straight_to_edge
from coverlayout.geometry.distance import Shape
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Region
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Breach, CheckVerdict, Report
from coverlayout.layout.measuring.nearby import Nearby
from coverlayout.layout.phase_rules import Pair, link_breach, lock_breach, pairs_of
from coverlayout.layout.placing import ClothReady, Laid, outline_on_cloth
from coverlayout.layout.question import Lock, Placed, Question, unseen

__all__ = ["Distance", "Judge", "Live", "Rest", "outline_on_cloth"]

DistanceKind = Literal[
    "left", "right", "above", "below", "edge-left", "edge-right", "edge-above", "edge-below", "nearest"
]
_EDGE_KIND: dict[Side, DistanceKind] = {
    "left": "edge-left",
    "right": "edge-right",
    "above": "edge-above",
    "below": "edge-below",
}


@dataclass(frozen=True)
class Distance:
    """A distance to show while dragging, in mm, with both ends in the cloth frame.

    `left` and the like lead to a neighbour or a flaw in the way, `edge-left` to the edge of the usable ground;
    `nearest` is the least that counts as room, slanted where it must be: drawn flaws are no part of it, but none lies
    on its line. `to` is the neighbour's id or the flaw's name, empty for an edge.
    """

    kind: DistanceKind
    from_mm: Point
    to_mm: Point
    length_mm: float
    to: str = ""


@dataclass(frozen=True)
class Live:
    """The judgement while pieces move: what Report says of the whole layout, and the distances of the moving pieces."""

    verdict: CheckVerdict
    breaches: tuple[Breach, ...]
    waiting: tuple[str, ...]
    used_percent: float
    clearance_mm: float | None
    distances: tuple[Distance, ...] = ()


# So many pieces are judged between two looks at the clock.
_LOOK_EVERY = 64


class Judge:
    """Judges placements of one question. A wish that is no must is never judged."""

    def __init__(self, question: Question) -> None:
        """Make the cloths ready once; every report after that only looks at pieces."""
        self.question = question
        self.pieces = {piece.id: piece for piece in question.pieces}
        self.cloths = {cloth.id: ClothReady(cloth) for cloth in question.cloths}
        self.fixed = {cloth_id: Nearby(cloth.fixed) for cloth_id, cloth in self.cloths.items()}
        self.locks = [lock for lock in question.locks if lock.must]
        self.locks_of: dict[str, list[Lock]] = {}
        for lock in self.locks:
            self.locks_of.setdefault(lock.piece, []).append(lock)
        # Two pieces that lie for good are as they are; a link speaks of pieces still to be laid.
        pairs = (pair for link in question.links if link.must for pair in pairs_of(link))
        self.pairs = [pair for pair in pairs if not self.pieces.keys().isdisjoint(pair.pieces)]
        self.bought_mm2 = sum(cloth.outline.area_mm2 - cloth.cloth.gone_mm2 for cloth in self.cloths.values())
        # The pieces that rested last: an edit moves one or two, and what was worked out for the others still holds.
        self._rested: dict[Placed, Laid] = {}

    def report(self, placed: Iterable[Placed], look: Callable[[], None] = unseen) -> Report:
        """Every breach, what waits, used % and clearance of a layout.

        Pieces already cut count as neighbours and as used; distances among themselves and to the edge do not count.
        `look` is called now and then while there are many pieces, and may raise to end it.
        """
        live = self.rest(placed, look).judge(())
        return Report(live.verdict, live.breaches, live.waiting, live.used_percent, live.clearance_mm)

    def rest(self, placed: Iterable[Placed], look: Callable[[], None] = unseen) -> Rest:
        """What stays where it is during a drag, made ready once so that each move is judged at once."""
        rest = Rest(self, tuple(placed), look)
        self._rested = {laid.placed: laid for laid in rest.laid}
        return rest

    def laid(self, placed: Placed, taken: Iterable[str]) -> Laid | Breach:
        """A placement made ready for measuring, or why it cannot be."""
        piece = self.pieces.get(placed.piece)
        if piece is None:
            return Breach("unknown piece", (placed.piece,), 0.0, cloth=placed.cloth)
        if placed.piece in taken:
            return Breach("placed twice", (placed.piece,), 0.0, cloth=placed.cloth)
        if not all(math.isfinite(number) for number in (placed.x_mm, placed.y_mm, placed.turn_deg)):
            return Breach("not a number", (placed.piece,), 0.0, cloth=placed.cloth)
        if placed.cloth not in self.cloths:
            return Breach("outside", (placed.piece,), 0.0, cloth=placed.cloth)
        return self._rested.get(placed) or Laid(piece, placed, self.cloths[placed.cloth])


class _Tally:
    """Breaches, clearance and covered area, gathered piece by piece."""

    def __init__(self, judge: Judge, before: _Tally | None = None) -> None:
        self.judge = judge
        self.breaches: list[Breach] = [] if before is None else list(before.breaches)
        self.laid: dict[str, Laid] = {} if before is None else dict(before.laid)
        self._before = {} if before is None else before._near
        self._near: dict[str, Nearby] = {}
        self.clearance_mm: float = math.inf if before is None else before.clearance_mm
        self.covered_mm2: float = 0.0 if before is None else before.covered_mm2

    def add(self, placed: Placed) -> Laid | None:
        """Judge one more piece by itself and against all that lie there already."""
        laid = self.judge.laid(placed, self.laid)
        if isinstance(laid, Breach):
            self.breaches.append(laid)
            return None
        self.breaches += laid.alone
        self.breaches += _lock_breaches(self.judge, laid)
        self.clearance_mm = min(self.clearance_mm, laid.edge_mm)
        self._beside_holes(laid)
        covered = [other for other in self._neighbours(laid) if self._beside(laid, other)]
        self.covered_mm2 += laid.shape.area_mm2 - _shared_mm2(laid.shape, [other.shape for other in covered])
        self.laid[placed.piece] = laid
        self._near.setdefault(placed.cloth, Nearby()).add(laid)
        return laid

    def _neighbours(self, laid: Laid) -> list[Laid]:
        """The pieces on its cloth that may be too near, share area with it, or be nearer than any two yet."""
        cloth_id, reach_mm = laid.placed.cloth, max(self.judge.question.gap_mm, self.clearance_mm)
        near = (self.judge.fixed[cloth_id], self._before.get(cloth_id), self._near.get(cloth_id))
        return [other for some in near if some is not None for other in some.within(laid.shape, reach_mm)]

    def _beside(self, laid: Laid, other: Laid) -> bool:
        """Judge two pieces on one cloth; True when they share area."""
        gap_mm = self.judge.question.gap_mm
        apart_mm = laid.shape.apart_mm(other.shape, max(gap_mm, self.clearance_mm))
        self.clearance_mm = min(self.clearance_mm, apart_mm)
        if apart_mm >= gap_mm - SAME_LENGTH_MM and apart_mm > 0:
            return False
        overlap_mm = laid.shape.overlap_mm(other.shape) if apart_mm <= 0 else 0.0
        pieces = tuple(sorted((laid.piece.id, other.piece.id)))
        if overlap_mm > SAME_LENGTH_MM:
            self.breaches.append(Breach("overlap", pieces, overlap_mm, cloth=laid.placed.cloth))
        elif apart_mm < gap_mm - SAME_LENGTH_MM:
            self.breaches.append(Breach("gap", pieces, gap_mm - apart_mm, cloth=laid.placed.cloth))
        return overlap_mm > 0

    def _beside_holes(self, laid: Laid) -> None:
        """A hole left by a spoiled piece keeps the gap like a neighbour; lying on it is told as a flaw."""
        gap_mm = self.judge.question.gap_mm
        for keep_out, hole in laid.cloth.holes:
            apart_mm = laid.shape.apart_mm(hole, max(gap_mm, self.clearance_mm))
            self.clearance_mm = min(self.clearance_mm, apart_mm)
            if apart_mm < gap_mm - SAME_LENGTH_MM and not laid.shape.lies_on(hole):
                self.breaches.append(
                    Breach("gap", (laid.piece.id,), gap_mm - apart_mm, against=keep_out.name, cloth=laid.placed.cloth)
                )


def _lock_breaches(judge: Judge, laid: Laid) -> list[Breach]:
    """The locks of one piece that do not hold."""
    own = judge.locks_of.get(laid.piece.id, ())
    return [breach for lock in own if (breach := lock_breach(lock, laid)) is not None]


def _shared_mm2(shape: Shape, others: list[Shape]) -> float:
    """The area a shape shares with all others together, counted once."""
    if not others:
        return 0.0
    upright = shape.upright and all(other.upright for other in others)
    if len(others) == 1 or (upright and not any(one.overlap_mm(other) for one, other in combinations(others, 2))):
        return sum(shape.shared_mm2(other) for other in others)
    return shape.shared_mm2(Shape.of_region(Region.union(other.region for other in others)))


class Rest:
    """What stays where it is during a drag. Judging a move costs one look at each neighbour of the moving pieces."""

    def __init__(self, judge: Judge, placed: tuple[Placed, ...], look: Callable[[], None] = unseen) -> None:
        """Judge the resting pieces among themselves."""
        self._judge = judge
        self._tally = _Tally(judge)
        for cloth in judge.cloths.values():
            self._tally.covered_mm2 += cloth.fixed_mm2
        for number, one in enumerate(placed):
            if number % _LOOK_EVERY == 0:
                look()
            self._tally.add(one)
        self._fixed = {laid.piece.id: laid for cloth in judge.cloths.values() for laid in cloth.fixed}
        self._resting = [breach for pair in judge.pairs if (breach := self._link(pair, self._tally.laid)) is not None]

    @property
    def laid(self) -> Iterable[Laid]:
        """The resting pieces that lie on a cloth, ready for measuring."""
        return self._tally.laid.values()

    def _link(self, pair: Pair, laid: dict[str, Laid]) -> Breach | None:
        first, other = (laid.get(piece) or self._fixed.get(piece) for piece in pair.pieces)
        return None if first is None or other is None else link_breach(pair, first, other)

    def judge(self, moving: Iterable[Placed]) -> Live:
        """The judgement of the resting pieces with the moving ones where they are now: the same as a report of all.

        Distances are those of the moving pieces to the nearest neighbour or usable edge on each side, and the least.
        """
        tally = _Tally(self._judge, self._tally)
        moved = [laid for placed in moving if (laid := tally.add(placed)) is not None]
        names = {laid.piece.id for laid in moved}
        links = [
            breach
            for pair in self._judge.pairs
            if not names.isdisjoint(pair.pieces) and (breach := self._link(pair, tally.laid)) is not None
        ]
        breaches = tuple(sorted(tally.breaches + self._resting + links, key=_order))
        waiting = tuple(piece for piece in self._judge.pieces if piece not in tally.laid)
        clearance_mm = tally.clearance_mm if math.isfinite(tally.clearance_mm) else None
        bought_mm2 = self._judge.bought_mm2
        return Live(
            self._verdict(breaches, waiting, clearance_mm),
            breaches,
            waiting,
            100 * tally.covered_mm2 / bought_mm2 if bought_mm2 else 0.0,
            clearance_mm,
            _distances(moved, tally) if moved else (),
        )

    def _verdict(
        self, breaches: tuple[Breach, ...], waiting: tuple[str, ...], clearance_mm: float | None
    ) -> CheckVerdict:
        if breaches:
            return "not valid"
        if waiting:
            return "incomplete"
        wish_mm = self._judge.question.spare_wish_mm
        return "valid" if clearance_mm is None or clearance_mm >= wish_mm - SAME_LENGTH_MM else "valid, tight"


def _order(breach: Breach) -> tuple[str, tuple[str, ...], str]:
    return breach.rule, breach.pieces, breach.against


def _distances(moved: list[Laid], tally: _Tally) -> tuple[Distance, ...]:
    """The least distance on each side, and the least of all, over the moving pieces."""
    still = [laid for laid in tally.laid.values() if laid not in moved]
    sides: dict[Side, Distance] = {}
    nearest: tuple[float, Laid, Shape | None, str] | None = None
    for laid in moved:
        neighbours = [
            (other.piece.id, other.shape) for other in (*laid.cloth.fixed, *still) if other.cloth is laid.cloth
        ]
        flaws = [(keep_out.name, shape) for keep_out, shape in laid.cloth.keep_outs if not keep_out.spoiled]
        neighbours += [(keep_out.name, hole) for keep_out, hole in laid.cloth.holes]
        _keep_least(sides, laid, [*neighbours, *flaws])
        edge_mm = laid.edge_mm
        least: tuple[float, Laid, Shape | None, str] = (edge_mm, laid, None, "")
        for name, other in neighbours:
            if (apart_mm := laid.shape.apart_mm(other, least[0])) < least[0]:
                least = (apart_mm, laid, other, name)
        nearest = least if nearest is None or least[0] < nearest[0] else nearest
    found = [sides[side] for side in SIDES if side in sides]
    if nearest is None or nearest[0] <= 0:
        return tuple(found)
    least_of_all = _nearest(*nearest)
    return tuple(found) if _runs_over_flaw(nearest[1], least_of_all) else (*found, least_of_all)


def _keep_least(sides: dict[Side, Distance], laid: Laid, neighbours: list[tuple[str, Shape]]) -> None:
    if laid.ground is not None:
        for side in SIDES:
            if (edge := straight_to_edge(laid.shape, laid.ground.shape, side)) is not None:
                _keep(sides, side, _EDGE_KIND[side], edge, "")
    for side, (straight, index) in nearest_on_sides(laid.shape, [shape for _, shape in neighbours]).items():
        _keep(sides, side, side, straight, neighbours[index][0])


def _keep(sides: dict[Side, Distance], side: Side, kind: DistanceKind, straight: Straight, name: str) -> None:
    if side not in sides or straight.length_mm < sides[side].length_mm:
        sides[side] = Distance(kind, straight.from_mm, straight.to_mm, straight.length_mm, name)


def _nearest(length_mm: float, laid: Laid, other: Shape | None, name: str) -> Distance:
    if other is not None:
        ends = laid.shape.nearest(other)
    else:
        assert laid.ground is not None, "a piece without ground has no room to its edge"
        ends = laid.ground.shape.nearest_edge(laid.shape)
    return Distance("nearest", *ends, length_mm, name)


def _runs_over_flaw(laid: Laid, distance: Distance) -> bool:
    """True when a flaw beside the piece lies on the line of a distance: the way to the flaw is shown instead."""
    return any(
        shape.meets_line(distance.from_mm, distance.to_mm) and not laid.shape.lies_on(shape)
        for _, shape in laid.cloth.keep_outs
    )
