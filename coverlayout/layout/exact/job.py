"""A question as plain numbers for the exhaustive search: every way each piece may lie, and what is in the way.

Lengths are in *frames*: a cloth turned so that its print runs level, set far aside from all other frames, so that
pieces in two of them never meet. The *place* of a piece is the top left of its box there. A *seat* is one way a piece
may lie: on one part of one ground, turned one way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from coverlayout.geometry.convex import convex_parts, hull, is_convex
from coverlayout.geometry.frames import Affine, Point, Ring, lean_deg, shift, turn
from coverlayout.geometry.shapes import Region, bounds, ring_sides
from coverlayout.geometry.tolerance import NO_LOOSER_MM
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Placed, Question
from coverlayout.layout.search.sheets import allowed_on

__all__ = ["Body", "ExactJob", "Nearness", "Seat", "edges_of", "exact_job"]

Nearness = Literal["flaw", "neighbour", "edge"]
"""What a body asks for around it: nothing, the gap and the room, or the room alone."""

# Frames stand this much farther apart than anything reaches.
_ASIDE_MM = 1_000.0
# Turns tried for a piece that may lie at any angle; then nothing is proved.
_FREE_TURNS_DEG = (0.0, 90.0, 180.0, 270.0)
# More convex bodies than this are not looked at.
_MOST_BODIES = 60
_MOST_PARTS = 6
# An edge whose normal leans less than this is upright: over a yard it is off by a ten-thousandth of a millimetre.
_UPRIGHT = 1e-7
_LOOSE_MM = 2 * NO_LOOSER_MM
_DIGITS = 9


@dataclass(frozen=True)
class Body:
    """A convex ring in the way, in its frame. `ground` >= 0: it is in the way only on that part of a ground."""

    ring: Ring
    near: Nearness
    seen_only: bool = False
    ground: int = -1


@dataclass(frozen=True)
class Seat:
    """One way a piece may lie; `parts` and `seen` are convex rings counted from its place."""

    cloth_id: str
    ground: Ground
    part: int
    frame: int
    turn_deg: float
    to_cloth: Affine
    anchor_mm: Point
    size_mm: Point
    low_mm: Point
    high_mm: Point
    slopes: tuple[tuple[float, float, float], ...]
    parts: tuple[Ring, ...]
    seen: tuple[Ring, ...]

    def shape_key(self) -> tuple[object, ...]:
        """Equal for seats that cannot be told apart but by their turn and anchor."""
        return self.part, tuple(sorted(self.parts)), tuple(sorted(self.seen))

    def placed(self, piece: str, place_mm: Point) -> Placed:
        """Where the piece lies on its cloth when its box starts at a place of the frame."""
        anchor = place_mm[0] + self.anchor_mm[0], place_mm[1] + self.anchor_mm[1]
        return Placed(piece, self.cloth_id, *self.to_cloth.at(anchor), self.turn_deg)


@dataclass(frozen=True)
class ExactJob:
    """The seats of every piece in the order of the question, and the bodies of every frame.

    Not `exact`: what is not found is not refused, as something was left out that only makes the job harder to meet.
    """

    question: Question
    seats: tuple[tuple[Seat, ...], ...]
    bodies: tuple[tuple[Body, ...], ...]
    areas_mm2: tuple[float, ...]
    exact: bool


def exact_job(question: Question, most_pieces: int) -> ExactJob | None:
    """The question in numbers; None when it is too large to be searched or some piece has no seat at all.

    Linked pieces are turned the same, also where the print looks the same when turned.
    """
    if not 1 <= len(question.pieces) <= most_pieces:
        return None
    frames = _Frames(question)
    if any(len(bodies) > _MOST_BODIES for bodies in frames.bodies):
        return None
    seats = tuple(tuple(frames.seats_of(piece)) for piece in question.pieces)
    if not all(seats) or any(len(seat.parts) > _MOST_PARTS for own in seats for seat in own):
        return None
    free = any(piece.turns_deg is None for piece in question.pieces)
    return ExactJob(question, seats, tuple(map(tuple, frames.bodies)), tuple(frames.areas_mm2), not free)


@dataclass(frozen=True)
class _GroundPart:
    """A part of a ground in its frame: the convex ring around it, and the map back."""

    cloth: ClothAsked
    ground: Ground
    number: int
    frame: int
    hull: Ring
    lean: float
    to_cloth: Affine


class _Frames:
    """The frames of a question, with the bodies in each."""

    def __init__(self, question: Question) -> None:
        self.bodies: list[list[Body]] = []
        self.areas_mm2: list[float] = []
        self._parts: list[_GroundPart] = []
        self._wished = {lock.piece for lock in question.locks if lock.must}
        self._wished |= {piece for link in question.links if link.must for piece in link.pieces}
        known: dict[tuple[str, float], tuple[int, Affine]] = {}
        linked = any(link.must for link in question.links)
        self._right_mm = 0.0
        for cloth in question.cloths:
            for ground in cloth.grounds:
                # A link says how prints lie to each other, which frames turned alike by their prints show at once.
                lean = ground.up_deg % 360.0 if linked else lean_deg(ground.up_deg)
                key = cloth.id, round(lean, 9)
                if key not in known:
                    known[key] = len(self.bodies), self._frame_of(cloth, lean)
                self._add_ground(cloth, ground, lean, *known[key])

    def _frame_of(self, cloth: ClothAsked, lean: float) -> Affine:
        turned = turn(-lean)
        box = bounds(turned.ring(cloth.outline_mm))
        # The first frame of an upright print is the cloth's own.
        aside = shift(self._right_mm - box.left_mm, 0.0) if self.bodies else shift(0.0, 0.0)
        self._right_mm = aside.dx + box.right_mm + _ASIDE_MM
        to_frame = turned.then(aside)
        self.bodies.append(list(_in_the_way(cloth, to_frame)))
        return to_frame

    def _add_ground(self, cloth: ClothAsked, ground: Ground, lean: float, frame: int, to_frame: Affine) -> None:
        back = to_frame.inverse()
        for ring, holes in ground.usable.mapped(to_frame).parts():
            number, whole = len(self._parts), Region.of(ring, holes)
            around = hull(whole)
            self._parts.append(_GroundPart(cloth, ground, number, frame, around, lean, back))
            missing = Region.of(around).minus(whole)
            if not missing.is_empty:
                self.bodies[frame] += [Body(part, "edge", ground=number) for part in convex_parts(missing)]
            taken = Region.union(Region.of(b.ring) for b in self.bodies[frame] if not b.seen_only and b.near != "edge")
            self.areas_mm2.append(whole.minus(taken).area_mm2)

    def seats_of(self, piece: PieceAsked) -> Iterator[Seat]:
        """Every seat of a piece, those that cannot be told apart once, unless a wish speaks of the piece."""
        known: set[object] = set()
        own = [part for part in self._parts if allowed_on(piece, part.cloth, part.ground)]
        for part in own:
            if any(_swallows(other, part) for other in own):
                continue
            for turn_deg in _FREE_TURNS_DEG if piece.turns_deg is None else piece.turns_deg:
                seat = _seat(piece, part, turn_deg)
                if seat is not None and (piece.id in self._wished or seat.shape_key() not in known):
                    known.add(seat.shape_key())
                    yield seat


def _swallows(large: _GroundPart, small: _GroundPart) -> bool:
    """True when whatever lies on the small part lies on the large one too: zones joined into one ground."""
    if large.number == small.number or large.cloth is not small.cloth:
        return False
    one, other = large.ground, small.ground
    alike = (one.print_id, one.up_deg, one.print_to_cloth) == (other.print_id, other.up_deg, other.print_to_cloth)
    larger = one.usable.area_mm2 > other.usable.area_mm2
    return alike and larger and one.usable.covers(other.usable)


def _in_the_way(cloth: ClothAsked, to_frame: Affine) -> Iterator[Body]:
    for keep_out in cloth.keep_outs:
        near: Nearness = "neighbour" if keep_out.spoiled else "flaw"
        for ring in convex_parts(keep_out.region.mapped(to_frame)):
            yield Body(ring, near, seen_only=keep_out.seen_only)
    for piece, placed in cloth.fixed:
        for ring in convex_parts(Region.of(to_frame.ring(outline_on_cloth(piece, placed)))):
            yield Body(ring, "neighbour")


def _seat(piece: PieceAsked, part: _GroundPart, turn_deg: float) -> Seat | None:
    """A piece on a part of a ground at a turn counted from the print's up; None when its box is larger than the part.

    A little larger counts as fitting, as a no must hold when everything is a little looser.
    """
    whole_deg = (part.ground.up_deg + turn_deg) % 360.0
    in_frame = turn(_straightened(whole_deg - part.lean))
    box = bounds(in_frame.ring(piece.outline_mm))
    to_place = in_frame.then(shift(-box.left_mm, -box.top_mm))
    parts = tuple(_plain(to_place.ring(ring)) for ring in _parts_of(piece.outline_mm))
    seen = parts
    # What is seen tells seats apart only where something keeps clear of no more than that.
    if piece.seen_mm is not None and any(keep_out.seen_only for keep_out in part.cloth.keep_outs):
        seen = tuple(_plain(to_place.ring(ring)) for ring in _parts_of(piece.seen_mm))
    around = bounds(part.hull)
    low, high = (around.left_mm, around.top_mm), (around.right_mm - box.width_mm, around.bottom_mm - box.height_mm)
    if high[0] < low[0] - _LOOSE_MM or high[1] < low[1] - _LOOSE_MM:
        return None
    slopes = [
        (nx, ny, offset - min(nx * x + ny * y for ring in parts for x, y in ring))
        for nx, ny, offset in edges_of(part.hull)
        if min(abs(nx), abs(ny)) > _UPRIGHT
    ]
    return Seat(
        cloth_id=part.cloth.id,
        ground=part.ground,
        part=part.number,
        frame=part.frame,
        turn_deg=whole_deg,
        to_cloth=part.to_cloth,
        anchor_mm=to_place.at(piece.anchor_mm),
        size_mm=(box.width_mm, box.height_mm),
        low_mm=low,
        high_mm=high,
        slopes=tuple(slopes),
        parts=parts,
        seen=seen,
    )


@lru_cache(maxsize=256)
def _parts_of(outline: Ring) -> tuple[Ring, ...]:
    return (outline,) if is_convex(outline) else convex_parts(Region.of(outline))


def _straightened(turn_deg: float) -> float:
    """The turn without float dust on a whole quarter."""
    lean = lean_deg(turn_deg)
    return turn_deg if lean else 90.0 * round(turn_deg / 90.0)


def _plain(ring: Ring) -> Ring:
    """The ring without float dust, from its least point on and running one way, so that equal ones are equal."""
    dusted = [(round(x, _DIGITS) + 0.0, round(y, _DIGITS) + 0.0) for x, y in ring]
    first = dusted.index(min(dusted))
    turned = (*dusted[first:], *dusted[:first])
    other_way = (turned[0], *turned[:0:-1])
    return min(tuple(turned), other_way)


def edges_of(ring: Ring) -> Iterator[tuple[float, float, float]]:
    """The edges of a convex ring as (nx, ny, offset): inside, nx x + ny y is at least the offset; |n| = 1."""
    x, y = (sum(values) / len(ring) for values in zip(*ring, strict=True))
    for (x0, y0), (x1, y1) in ring_sides(ring):
        length = math.hypot(x1 - x0, y1 - y0)
        nx, ny = (y0 - y1) / length, (x1 - x0) / length
        inward = math.copysign(1.0, nx * (x - x0) + ny * (y - y0))
        yield inward * nx, inward * ny, inward * (nx * x0 + ny * y0)
