"""Layouts of any outlines on any grounds: crooked swatches, polygons, slanted flaws, locks and links.

Pieces are put one after another where the room for their anchor, worked out exactly (geometry/sweep.py), has a corner;
a locked or linked piece only where its repeat allows it.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from coverlayout.geometry.frames import Point, Ring, shift, turn
from coverlayout.geometry.shapes import Box, Region, area_mm2, bounds
from coverlayout.geometry.sweep import places_clear_of, places_within
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Placed, Question
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.repeats import Holds, lying_for_good, points_in_boxes
from coverlayout.layout.search.sheets import allowed_on

__all__ = ["fill_outlines"]

# Turns tried for a piece that may lie at any angle.
_ANY_TURN_DEG = tuple(float(deg) for deg in range(0, 360, 15))
# Working a piece's room out costs about as much as this many steps.
_PLACE_STEPS = 40
# Outlines shrink by this before their room is worked out, so that one exactly as wide as the ground finds its place.
_SHRINK_MM = SAME_LENGTH_MM / 4
# In a random order each piece lies in one of so many best places.
_BEST_FEW = 4
_SEED = 20240229


@dataclass
class _Bench:
    """What lies on the cloths so far in one try."""

    lies: dict[str, tuple[Placed, Ground]] = field(default_factory=dict)
    taken: dict[str, list[Region]] = field(default_factory=dict)


@dataclass(frozen=True)
class _Try:
    """One place for a piece, with the box it fills there."""

    box: Box
    cloth: ClothAsked
    ground: Ground
    anchor_mm: Point
    turn_deg: float


_Rank = Callable[[_Try], tuple[float, ...]]
_Choose = Callable[[Iterator[_Try]], _Try | None]


def fill_outlines(
    question: Question, effort: Effort, room_mm: float = 0.0, *, orders: int
) -> tuple[Placed, ...] | None:
    """Places for all pieces, `room_mm` apart and from the edges, or None when no order tried leads to a layout.

    `orders`: how many random ones after the sorted ones. The same question gives the same layout. OutOfSteps when the
    effort is spent before.
    """
    filler = _Filler(question, effort, room_mm)
    ranks = (_topmost, _leftmost, _nearest_to_corner, _nearest_to_edges)
    for order in _sorted_orders(question):
        for rank in ranks:
            # mypy infers no type for a lambda with a default; the default keeps what this round of the loop has.
            placed = filler.fill(order, lambda tries, rank=rank: min(tries, key=rank, default=None))  # type: ignore[misc]
            if placed is not None:
                return placed
    rng = random.Random(_SEED)
    for number in range(orders if len(question.pieces) > 1 else 0):
        rank = ranks[number % len(ranks)]
        # mypy infers no type for a lambda with a default, as above.
        placed = filler.fill(_shaken(question, rng), lambda tries, rank=rank: _one_of_the_best(tries, rank, rng))  # type: ignore[misc]
        if placed is not None:
            return placed
    return None


def _topmost(one: _Try) -> tuple[float, ...]:
    return one.box.bottom_mm, one.box.left_mm


def _leftmost(one: _Try) -> tuple[float, ...]:
    return one.box.right_mm, one.box.top_mm


def _nearest_to_corner(one: _Try) -> tuple[float, ...]:
    return one.box.right_mm + one.box.bottom_mm, one.box.left_mm


def _nearest_to_edges(one: _Try) -> tuple[float, ...]:
    """Close to two edges of the ground, whichever they are."""
    ground = one.ground.usable.bounds
    across = min(one.box.left_mm - ground.left_mm, ground.right_mm - one.box.right_mm)
    along = min(one.box.top_mm - ground.top_mm, ground.bottom_mm - one.box.bottom_mm)
    return across + along, one.box.top_mm, one.box.left_mm


def _one_of_the_best(tries: Iterable[_Try], rank: _Rank, rng: random.Random) -> _Try | None:
    best = sorted(tries, key=rank)[:_BEST_FEW]
    return rng.choice(best) if best else None


def _sorted_orders(question: Question) -> Iterator[list[PieceAsked]]:
    """Locked pieces first, linked ones together, large ones early."""
    locked = {lock.piece for lock in question.locks if lock.must}
    group = {piece: number for number, link in enumerate(question.links, 1) if link.must for piece in link.pieces}

    def first(piece: PieceAsked) -> tuple[bool, int]:
        return piece.id not in locked, -group.get(piece.id, 0)

    pieces = sorted(question.pieces, key=lambda piece: piece.id)
    yield sorted(pieces, key=lambda piece: (*first(piece), -area_mm2(piece.outline_mm)))
    yield sorted(pieces, key=lambda piece: (*first(piece), -bounds(piece.outline_mm).height_mm))
    yield sorted(pieces, key=lambda piece: (*first(piece), -bounds(piece.outline_mm).width_mm))


def _shaken(question: Question, rng: random.Random) -> list[PieceAsked]:
    """The order by size with one piece moved."""
    shaken = next(_sorted_orders(question))
    shaken.insert(rng.randrange(len(shaken)), shaken.pop(rng.randrange(len(shaken))))
    return shaken


class _Filler:
    """Puts the pieces of one question down in a given order; rooms that stay the same are worked out once."""

    def __init__(self, question: Question, effort: Effort, room_mm: float) -> None:
        self._question, self._effort, self._room_mm = question, effort, room_mm
        self._apart_mm = max(question.gap_mm, room_mm)
        self._rooms: dict[tuple[object, ...], Region] = {}
        self._for_good = lying_for_good(question)
        self._holds = Holds(question)

    def fill(self, order: list[PieceAsked], choose: _Choose) -> tuple[Placed, ...] | None:
        """All pieces placed in this order, each where `choose` likes it best, or None."""
        bench = _Bench(dict(self._for_good))
        for piece in order:
            best = choose(self._tries(piece, bench))
            if best is None:
                return None
            placed = Placed(piece.id, best.cloth.id, *best.anchor_mm, best.turn_deg)
            bench.lies[piece.id] = placed, best.ground
            outline = Region.of(outline_on_cloth(piece, placed)).inset(-self._apart_mm)
            bench.taken.setdefault(best.cloth.id, []).append(outline)
        return tuple(bench.lies[piece.id][0] for piece in self._question.pieces)

    def _tries(self, piece: PieceAsked, bench: _Bench) -> Iterator[_Try]:
        """Every place worth trying, on the first cloth that has one."""
        for cloth in self._question.cloths:
            found = False
            for ground in cloth.grounds:
                if allowed_on(piece, cloth, ground):
                    for one in self._tries_on(piece, cloth, ground, bench):
                        found = True
                        yield one
            if found:
                return

    def _tries_on(self, piece: PieceAsked, cloth: ClothAsked, ground: Ground, bench: _Bench) -> Iterator[_Try]:
        turns = _ANY_TURN_DEG if piece.turns_deg is None else piece.turns_deg
        for turn_deg in turns:
            whole_deg = (ground.up_deg + turn_deg) % 360.0
            self._effort.spend(_PLACE_STEPS)
            to_anchor = shift(-piece.anchor_mm[0], -piece.anchor_mm[1]).then(turn(whole_deg))
            outline = to_anchor.ring(piece.outline_mm)
            room = self._room(piece, cloth, ground, whole_deg, outline)
            room = places_clear_of(room, _shrunk(outline), bench.taken.get(cloth.id, ()))
            if room.is_empty:
                continue
            box = bounds(outline)
            for anchor in self._anchors(piece, ground, whole_deg, room, bench):
                there = Box(anchor[0] + box.left_mm, anchor[1] + box.top_mm, box.width_mm, box.height_mm)
                yield _Try(there, cloth, ground, anchor, whole_deg)

    def _room(self, piece: PieceAsked, cloth: ClothAsked, ground: Ground, turn_deg: float, outline: Ring) -> Region:
        """Room for the anchor as if no other piece were laid yet."""
        key = (piece.outline_mm, piece.anchor_mm, piece.seen_mm, cloth.id, ground.id, turn_deg)
        if key not in self._rooms:
            small = _shrunk(outline)
            room = places_within(ground.usable.inset(self._room_mm) if self._room_mm else ground.usable, small)
            fixed = [Region.of(outline_on_cloth(other, placed)) for other, placed in cloth.fixed]
            holes = [keep_out.region for keep_out in cloth.keep_outs if keep_out.spoiled]
            near = [region.inset(-self._apart_mm) for region in (*fixed, *holes)]
            flaws = [k.region for k in cloth.keep_outs if not k.spoiled and not k.seen_only]
            room = places_clear_of(room, small, [*near, *flaws])
            if any(keep_out.seen_only for keep_out in cloth.keep_outs):
                to_anchor = shift(-piece.anchor_mm[0], -piece.anchor_mm[1]).then(turn(turn_deg))
                seen = _shrunk(to_anchor.ring(piece.seen_mm or piece.outline_mm))
                room = places_clear_of(room, seen, [k.region for k in cloth.keep_outs if k.seen_only])
            self._rooms[key] = room
        return self._rooms[key]

    def _anchors(
        self, piece: PieceAsked, ground: Ground, turn_deg: float, room: Region, bench: _Bench
    ) -> Iterator[Point]:
        """Where in its room the anchor may lie: the corners of the room, or the points of the repeat in it."""
        held = self._holds.anchors(piece, ground, turn_deg, bench.lies)
        if held is None:
            return
        if held:
            assert ground.lattice_mm is not None, "an anchor is only held where there is a repeat"
            grown = room.inset(-_SHRINK_MM)
            boxes = [bounds(ring) for ring, _ in room.parts()]
            places = points_in_boxes(ground.lattice_mm, held[0], boxes).tolist()
            yield from ((x, y) for x, y in places if grown.contains((x, y)))
        else:
            yield from (corner for ring, holes in room.parts() for one in (ring, *holes) for corner in one)


def _shrunk(outline: Ring) -> Ring:
    parts = Region.of(outline).inset(_SHRINK_MM).parts()
    return parts[0][0] if len(parts) == 1 and not parts[0][1] else outline
