"""A second look at a piece that fits nowhere, for any outlines: its places are boxed in, and each box is ruled out.

What of a piece is left when it is shrunk by half a box's diagonal lies within it wherever in the box it is; so where
that much already leaves the ground or meets a flaw, nothing in the box is a place. Other boxes are cut into four.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Region
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Question
from coverlayout.layout.rechecks.measures import lattice_points, turned

__all__ = ["nowhere_on", "too_long_or_thick"]

# What a no must bear: two lengths, and a place in the repeat.
_LOOSE_MM, _LOCK_MM = 0.01, 0.06
# Boxes looked at, and the half diagonal (mm) of the smallest.
_MOST_BOXES, _SMALLEST_MM = 6_000, 0.004

_Box = tuple[float, float, float, float]  # left, top, width, height of places
Point = tuple[float, float]


def too_long_or_thick(piece: PieceAsked, ground: Ground) -> bool:
    """True when a piece of any angle is longer than the ground at its longest, or thicker than it at its narrowest."""
    points = [point for ring, _ in ground.usable.parts() for point in ring]
    if not points:
        return True
    # Directions so fine that a width between two of them is off by less than a hundredth of a thousandth.
    fine = [_width(points, math.pi * k / 720.0) for k in range(720)]
    own = [_width(piece.outline_mm, math.pi * k / 720.0) for k in range(720)]
    off = 1.0 / math.cos(math.pi / 720.0)
    longer = _longest(piece.outline_mm) > _longest(points) + 2 * _LOOSE_MM
    # The least width over all directions lies within the sine of half a step of what is seen.
    thicker = min(own) - _longest(piece.outline_mm) * math.sin(math.pi / 720.0) > min(fine) * off + 2 * _LOOSE_MM
    return longer or thicker


def _longest(points: Sequence[Point]) -> float:
    return max(math.dist(one, other) for one in points for other in points)


def _width(points: Sequence[Point], angle: float) -> float:
    along = [x * math.cos(angle) + y * math.sin(angle) for x, y in points]
    return max(along) - min(along)


def nowhere_on(question: Question, piece: PieceAsked, cloth: ClothAsked, ground: Ground) -> bool:
    """True when the piece finds no place on the ground in any of its turns, or none of those its first lock allows."""
    locks = [lock for lock in question.locks if lock.must and lock.piece == piece.id] if ground.origin_known else []
    lattice, to_cloth = ground.lattice_mm, ground.print_to_cloth
    if locks and (lattice is None or to_cloth is None):
        return True
    for deg in piece.turns_deg or ():
        clear = _Clear(question, piece, cloth, ground, deg)
        if not locks or lattice is None or to_cloth is None or lattice.b_mm is None:
            if not clear.nowhere():
                return False
            continue
        (dx, dy), (x, y) = turned([locks[0].point_mm], ground.up_deg + deg)[0], to_cloth.at(locks[0].place_mm)
        box = clear.places
        if box is None:
            continue
        around = box[0] - _LOCK_MM, box[1] - _LOCK_MM, box[0] + box[2] + _LOCK_MM, box[1] + box[3] + _LOCK_MM
        points = lattice_points(lattice.a_mm, lattice.b_mm, (x - dx, y - dy), around)
        if not all(clear.ruled_out(point, _LOCK_MM) for point in points):
            return False
    return True


@dataclass(frozen=True)
class _Part:
    """Some of a piece, turned: all of it or what is seen of it."""

    region: Region

    def at(self, place: Point, shrunk_mm: float) -> Region:
        """What of it lies within it wherever it is, so much around the place."""
        return self.region.inset(shrunk_mm).mapped(shift(*place))


class _Clear:
    """One piece in one turn on one ground."""

    def __init__(
        self, question: Question, piece: PieceAsked, cloth: ClothAsked, ground: Ground, turn_deg: float
    ) -> None:
        ring = turned(piece.outline_mm, ground.up_deg + turn_deg)
        self._whole = _Part(Region.of(tuple(ring)))
        self._seen = _Part(Region.of(tuple(turned(piece.seen_mm or piece.outline_mm, ground.up_deg + turn_deg))))
        self._ground = ground.usable
        self._hard = Region.union([k.region for k in cloth.keep_outs if not k.seen_only] or [Region.nothing()])
        self._soft = Region.union([k.region for k in cloth.keep_outs if k.seen_only] or [Region.nothing()])
        holes = [k.region for k in cloth.keep_outs if k.spoiled]
        for fixed, placed in cloth.fixed:
            (ax, ay), at = fixed.anchor_mm, (placed.x_mm, placed.y_mm)
            outline = turned([(x - ax, y - ay) for x, y in fixed.outline_mm], placed.turn_deg)
            holes.append(Region.of(tuple((x + at[0], y + at[1]) for x, y in outline)))
        self._holes = Region.union(holes or [Region.nothing()])
        self._gap_mm = question.gap_mm
        room, own = ground.usable.bounds, self._whole.region.bounds
        free = room.width_mm - own.width_mm + 2 * _LOOSE_MM, room.height_mm - own.height_mm + 2 * _LOOSE_MM
        start = room.left_mm - own.left_mm - _LOOSE_MM, room.top_mm - own.top_mm - _LOOSE_MM
        self.places: _Box | None = None if min(free) < 0.0 or ground.usable.is_empty else (*start, *free)

    def nowhere(self) -> bool:
        """Whether every box of places is ruled out; False when too many are left."""
        open_still = [] if self.places is None else [self.places]
        for _ in range(_MOST_BOXES):
            if not open_still:
                return True
            box = open_still.pop()
            half = math.hypot(box[2], box[3]) / 2
            if self.ruled_out((box[0] + box[2] / 2, box[1] + box[3] / 2), half):
                continue
            if half < _SMALLEST_MM:
                return False
            open_still += _quarters(box)
        return not open_still

    def ruled_out(self, place: Point, around_mm: float) -> bool:
        """Whether the piece is off its ground or on a flaw wherever it lies so near the place."""
        shrunk = around_mm + _LOOSE_MM
        core = self._whole.at(place, shrunk)
        if not core.is_empty and not self._ground.covers(core):
            return True
        if not core.is_empty and (core.overlaps(self._hard) or core.overlaps(self._holes)):
            return True
        seen = self._seen.at(place, shrunk)
        if not seen.is_empty and seen.overlaps(self._soft):
            return True
        near_mm = self._gap_mm - 2 * _LOOSE_MM - around_mm
        if near_mm <= 0.0 or self._holes.is_empty:
            return False
        return self._whole.at(place, 0.0).distance_mm(self._holes) < near_mm


def _quarters(box: _Box) -> Iterator[_Box]:
    left, top, wide, high = box
    for x in (left, left + wide / 2) if wide >= high / 4 else (left,):
        for y in (top, top + high / 2) if high >= wide / 4 else (top,):
            yield x, y, wide / 2 if wide >= high / 4 else wide, high / 2 if high >= wide / 4 else high
