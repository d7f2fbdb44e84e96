"""Layouts of any outlines on any grounds: crooked swatches, polygons, slanted flaws, locks and links.

Pieces are put one after another where the room for their anchor, worked out exactly (geometry/sweep.py), has a corner;
a locked or linked piece only where its repeat allows it.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from coverlayout.geometry.frames import Point, Ring, shift, turn
from coverlayout.geometry.shapes import Box, Region, area_mm2, bounds
from coverlayout.geometry.sweep import places_clear_of, places_within
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.search.effort import Effort
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
# A piece locked to a very fine repeat is tried at no more than this many places.
_MOST_LATTICE_POINTS = 4000


@dataclass
class _Bench:
    """What lies on the cloths so far in one try."""

    room_mm: float
    placed: dict[str, Placed] = field(default_factory=dict)
    grounds: dict[str, tuple[ClothAsked, Ground]] = field(default_factory=dict)
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
            placed = filler.fill(order, lambda tries, rank=rank: min(tries, key=rank, default=None))  # type: ignore[misc]
            if placed is not None:
                return placed
    rng = random.Random(_SEED)
    for number in range(orders if len(question.pieces) > 1 else 0):
        rank = ranks[number % len(ranks)]
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

    def rank(piece: PieceAsked, size: float) -> tuple[bool, int, float, str]:
        return piece.id not in locked, -group.get(piece.id, 0), -size, piece.id

    yield sorted(question.pieces, key=lambda piece: rank(piece, area_mm2(piece.outline_mm)))
    yield sorted(question.pieces, key=lambda piece: rank(piece, bounds(piece.outline_mm).height_mm))
    yield sorted(question.pieces, key=lambda piece: rank(piece, bounds(piece.outline_mm).width_mm))


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
        self._locks = [lock for lock in question.locks if lock.must]
        self._links = [link for link in question.links if link.must]
        self._rooms: dict[tuple[object, ...], Region] = {}

    def fill(self, order: list[PieceAsked], choose: _Choose) -> tuple[Placed, ...] | None:
        """All pieces placed in this order, each where `choose` likes it best, or None."""
        bench = _Bench(self._room_mm)
        for piece in order:
            best = choose(self._tries(piece, bench))
            if best is None:
                return None
            placed = Placed(piece.id, best.cloth.id, *best.anchor_mm, best.turn_deg)
            bench.placed[piece.id] = placed
            bench.grounds[piece.id] = best.cloth, best.ground
            outline = Region.of(outline_on_cloth(piece, placed)).inset(-self._apart_mm)
            bench.taken.setdefault(best.cloth.id, []).append(outline)
        return tuple(bench.placed[piece.id] for piece in self._question.pieces)

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
        lattices = [*self._lock_points(piece, ground, turn_deg), *self._link_points(piece, ground, turn_deg, bench)]
        if None in lattices:
            return
        offsets = [offset for offset in lattices if offset is not None]
        if not offsets:
            yield from (corner for ring, holes in room.parts() for one in (ring, *holes) for corner in one)
            return
        assert ground.lattice_mm is not None, "an offset is only told where there is a repeat"
        for anchor in _lattice_points(ground, offsets[0], room):
            others = ((anchor[0] - x, anchor[1] - y) for x, y in offsets[1:])
            if all(ground.lattice_mm.off_mm(other) <= SAME_LENGTH_MM for other in others):
                yield anchor

    def _lock_points(self, piece: PieceAsked, ground: Ground, turn_deg: float) -> Iterator[Point | None]:
        """For each lock one anchor that holds it, whole repeats aside; None: it can hold nowhere here for sure."""
        for lock in self._locks:
            if lock.piece == piece.id:
                yield _lock_anchor(lock, piece, ground, turn_deg)

    def _link_points(self, piece: PieceAsked, ground: Ground, turn_deg: float, bench: _Bench) -> Iterator[Point | None]:
        """For each link to a piece already laid one anchor that holds it; None: not on this ground or at this turn."""
        for link in self._links:
            for number, other in enumerate(link.pieces):
                if piece.id in link.pieces and other != piece.id and other in bench.placed:
                    same = bench.grounds[other][1] is ground and ground.lattice_mm is not None
                    lies = bench.placed[other]
                    if not same or abs((lies.turn_deg - turn_deg + 180.0) % 360.0 - 180.0) > SAME_LENGTH_MM:
                        yield None
                    else:
                        yield self._link_anchor(link, piece, number, lies)

    def _link_anchor(self, link: Link, piece: PieceAsked, number: int, lies: Placed) -> Point:
        own = link.pieces.index(piece.id)
        other = next(one for one in self._question.pieces if one.id == lies.piece)
        steps = ((0.0, 0.0), *link.differences_mm)
        turned = turn(lies.turn_deg)
        ahead = turned.vector((steps[own][0] - steps[number][0], steps[own][1] - steps[number][1]))
        there = turned.vector(_from(other.anchor_mm, link.points_mm[number]))
        here = turned.vector(_from(piece.anchor_mm, link.points_mm[own]))
        return lies.x_mm + there[0] + ahead[0] - here[0], lies.y_mm + there[1] + ahead[1] - here[1]


def _lock_anchor(lock: Lock, piece: PieceAsked, ground: Ground, turn_deg: float) -> Point | None:
    if ground.print_to_cloth is None or ground.lattice_mm is None or not ground.origin_known:
        return None
    place = ground.print_to_cloth.at(lock.place_mm)
    ahead = turn(turn_deg).vector(_from(piece.anchor_mm, lock.point_mm))
    return place[0] - ahead[0], place[1] - ahead[1]


def _from(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]


def _shrunk(outline: Ring) -> Ring:
    parts = Region.of(outline).inset(_SHRINK_MM).parts()
    return parts[0][0] if len(parts) == 1 and not parts[0][1] else outline


def _lattice_points(ground: Ground, offset: Point, room: Region) -> Iterator[Point]:
    """The points `offset` + whole repeats that lie in the room; for stripes, where their lines cross its corners."""
    lattice = ground.lattice_mm
    assert lattice is not None, "asked only where there is a repeat"
    if lattice.b_mm is None:
        yield from _on_stripes(lattice.a_mm, offset, room)
        return
    box = room.bounds
    corners = [lattice.coordinates(_from(offset, corner)) for corner in box.ring()]
    across = range(math.floor(min(i for i, _ in corners)), math.ceil(max(i for i, _ in corners)) + 1)
    along = range(math.floor(min(k for _, k in corners)), math.ceil(max(k for _, k in corners)) + 1)
    if len(across) * len(along) > _MOST_LATTICE_POINTS:
        across, along = across[:60], along[:60]
    grown = room.inset(-_SHRINK_MM)
    for i in across:
        for k in along:
            ahead = lattice.point(i, k)
            point = (offset[0] + ahead[0], offset[1] + ahead[1])
            if grown.contains(point):
                yield point


def _on_stripes(step: Point, offset: Point, room: Region) -> Iterator[Point]:
    """Corners of the room brought to the nearest stripe line, across the stripes, where they stay in the room."""
    length2 = step[0] ** 2 + step[1] ** 2
    grown = room.inset(-_SHRINK_MM)
    for ring, holes in room.parts():
        for corner in (point for one in (ring, *holes) for point in one):
            ahead = _from(offset, corner)
            repeats = (ahead[0] * step[0] + ahead[1] * step[1]) / length2
            for whole in (math.floor(repeats), math.ceil(repeats)):
                point = (corner[0] + (whole - repeats) * step[0], corner[1] + (whole - repeats) * step[1])
                if grown.contains(point):
                    yield point
